package reply

import (
	_ "embed"
	"strings"
	"sync"
)

//go:embed common_en.txt
var textEnglish string

//go:embed common_es.txt
var textSpanish string

var (
	commonEnglish = sync.OnceValue(func() map[string]bool { return wordSet(textEnglish) })
	commonSpanish = sync.OnceValue(func() map[string]bool { return wordSet(textSpanish) })
)

// wordSet reads a list of words; lines that begin with # are comments.
func wordSet(text string) map[string]bool {
	set := make(map[string]bool, 1024)
	for line := range strings.Lines(text) {
		if strings.HasPrefix(line, "#") {
			continue
		}
		for _, w := range strings.Fields(line) {
			set[w] = true
		}
	}
	return set
}
