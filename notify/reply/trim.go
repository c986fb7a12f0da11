package reply

import (
	"regexp"
	"strconv"
	"strings"
)

var (
	// signature begins what a phone or a mail program adds on its own.
	signature = regexp.MustCompile(`^(sent (from|via|by|with) |get outlook for|enviado (desde|con|por) |mandado desde|obtener outlook|-- ?$|__+$|—$|\[?sent from )`)
	// attribution opens quoted mail.
	attribution = regexp.MustCompile(`^(on .{4,120} wrote:?$|el .{4,120} escribi[oó]:?$|-+ ?(original message|mensaje original|forwarded message|mensaje reenviado) ?-+|(from|de|von): .*@|begin forwarded message)`)
	// split attributions: "on mon, oct 12, 2026 at 6:30 am" / "stubbled wrote:"
	attributionStart = regexp.MustCompile(`^(on|el) [a-zé]{3,10}[.,] .*\d{4}`)
	// tapback is what phones send for a reaction; it quotes our own words.
	tapback = regexp.MustCompile(`(?s)^\s*(liked|loved|disliked|laughed at|emphasized|questioned|reacted .{1,12} to|removed an? .{1,20} from|le gust[oó]|le encant[oó]|no le gust[oó]|se ri[oó] de|enfatiz[oó]|destac[oó]|reaccion[oó] (con )?.{1,12} a)\s*"`)
)

// part is the mark of a long text that a phone sent in pieces.
var part = regexp.MustCompile(`\(\s*\d\s*/\s*\d\s*\)`)

// item is the number before a line of a list.
var item = regexp.MustCompile(`^\s*(\d)[.)] `)

// inLine is the number of a list that goes on in one line: 1) creek 9 2) hill 8.
var inLine = regexp.MustCompile(`(^|\s)[1-9]\) `)

// unnumbered takes the numbers from a list of lines: 1. creek 9, 2. hill 8.
func unnumbered(lines []string) []string {
	next := 1
	for _, line := range lines {
		m := item.FindStringSubmatch(line)
		if m == nil || m[1] != strconv.Itoa(next) {
			return lines
		}
		next++
	}
	if next < 3 {
		return lines
	}
	for i := range lines {
		lines[i] = item.ReplaceAllString(lines[i], "")
	}
	return lines
}

// body cuts the signature and what was quoted from a text.
func body(text string) string {
	text = part.ReplaceAllString(text, " ")
	if strings.Contains(text, "1) ") && strings.Contains(text, " 2) ") {
		text = inLine.ReplaceAllString(text, "\n")
	}
	if !strings.ContainsAny(text, "\n>") {
		return text
	}
	lines := strings.Split(text, "\n")
	kept := lines[:0]
	for i, line := range lines {
		t := strings.TrimSpace(line)
		if signature.MatchString(t) || t == "--" || attribution.MatchString(t) ||
			(attributionStart.MatchString(t) && wroteWithin(lines[i:])) {
			break
		}
		if strings.HasPrefix(t, ">") {
			continue
		}
		kept = append(kept, line)
	}
	return strings.Join(unnumbered(kept), "\n")
}

// wroteWithin reports whether an attribution that was broken over lines ends
// in the next one.
func wroteWithin(lines []string) bool {
	if len(lines) < 2 {
		return false
	}
	t := strings.TrimSpace(lines[1])
	return strings.HasSuffix(t, "wrote:") || strings.HasSuffix(t, "escribió:")
}
