package email

import (
	"regexp"
	"slices"
	"strings"
	"sync"
)

// pattern is one that is made ready when the first mail is read: these are large,
// and a farm may never have mail.
func pattern(text string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(text) })
}

var (
	// The line before a quote. It names a day or an address, so there is a
	// digit or an @ in it; a person's own sentence hardly fits.
	attribution = pattern(`(?i)^\W{0,3}(` +
		`on\b.*[\d@].*\bwrote` +
		`|el\b.*[\d@].*\bescribi[óo]` +
		`|le\b.*[\d@].*\ba [ée]crit` +
		`|am\b.*[\d@].*\bschrieb\b.*` +
		`|em\b.*[\d@].*\bescreveu` +
		`|il\b.*[\d@].*\bha scritto` +
		`|op\b.*[\d@].*\bschreef\b.*` +
		`|.{1,120}[\d@].{0,120}\b(wrote|escribi[óo]|a [ée]crit|schrieb|escreveu)` +
		`|\d{4}-\d\d-\d\d .*<[^>]*@[^>]*>` +
		`)\W{0,3}:\W{0,2}$`)
	attributionBegins = pattern(`(?i)^\W{0,3}(on|el|le|am|em|il|op)\b.{0,200}[\d@,]`)

	// Lines after which everything is quoted, whether marked or not.
	divider = pattern(`(?i)^\s*(-{2,}\s*\p{L}[\p{L} ]{3,40}-{2,}|_{10,}|={10,}|(begin forwarded message|inicio del mensaje (reenviado|original))\s*:)\s*$`)

	// The head of a quoted mail, as some programs write it.
	headFrom = pattern(`(?i)^\W{0,3}(from|de|von|da|van)\W{0,3}:`)
	headRest = pattern(`(?i)^\W{0,3}(sent|date|to|subject|enviado( el)?|fecha|para|asunto|gesendet|datum|an|betreff|envoyé|date|à|objet)\W{0,3}:`)

	signature = pattern(`^\s*(--|—|__)\s*$`)
	// What a phone puts below by itself.
	advert = pattern(`(?i)^\W{0,3}(sent|written) (from|with|via|using) (my|the|a|outlook|yahoo|gmail|mail|proton|aol|samsung)\b` +
		`|^\W{0,3}get outlook for\b|^\W{0,3}(enviado|mandado) (desde|con) (mi|el|outlook|yahoo|gmail)\b|^\W{0,3}obtener outlook para\b` +
		`|^\W{0,3}(envoyé de|gesendet von|verstuurd vanaf)\b`)

	// Our own line about opting out, when it comes back unmarked.
	ourFooter = pattern(`(?i)\b(reply|answer|text|send|write|responda|responde|conteste|contesta|env[ií]e|env[ií]a|escriba|escribe|mande|manda)\b\W+(with |the word |con |la palabra )?\W{0,2}(stop|alto)\b`)
)

// typed is what the person typed: without the quote, above, below or between
// it, without signature, and without our own line on how to opt out.
func typed(text string) string {
	lines := strings.Split(text, "\n")
	var out []string
	for i := 0; i < len(lines); i++ {
		line := strings.TrimSpace(lines[i])
		if quoted(line) || ourFooter().MatchString(line) {
			continue
		}
		if n := attributed(lines[i:]); n > 0 {
			next := slices.IndexFunc(lines[i+n:], func(l string) bool { return strings.TrimSpace(l) != "" })
			if next >= 0 && !quoted(strings.TrimSpace(lines[i+n+next])) {
				break // the quote is unmarked: all that follows
			}
			i += n - 1
			continue
		}
		if signature().MatchString(line) || advert().MatchString(line) || divides(lines[i:]) {
			if rest := belowQuote(lines[i+1:]); len(rest) > 0 && strings.Join(out, "") == "" {
				lines, i = rest, -1
				continue
			}
			break
		}
		out = append(out, line)
	}
	all := strings.TrimSpace(strings.Join(out, "\n"))
	return strings.ToValidUTF8(all[:min(len(all), maxTyped)], "")
}

func quoted(line string) bool { return strings.HasPrefix(line, ">") || strings.HasPrefix(line, "|>") }

// attributed is the number of lines, up to three, that the line before a quote
// takes here; 0 where there is none.
func attributed(lines []string) int {
	joined := ""
	for n := 1; n <= 3 && n <= len(lines); n++ {
		line := strings.TrimSpace(lines[n-1])
		if line == "" || len(joined)+len(line) > 500 || quoted(line) {
			return 0
		}
		if joined = strings.TrimSpace(joined + " " + line); attribution().MatchString(joined) {
			return n
		}
		if n == 1 && !attributionBegins().MatchString(joined) {
			return 0
		}
	}
	return 0
}

// divides reports whether everything from here on is a quoted mail.
func divides(lines []string) bool {
	line := strings.TrimSpace(lines[0])
	if divider().MatchString(line) {
		return true
	}
	if !headFrom().MatchString(line) {
		return false
	}
	n := 0
	for _, l := range lines[1:min(len(lines), 7)] {
		if headRest().MatchString(strings.TrimSpace(l)) {
			n++
		}
	}
	return n >= 2
}

// belowQuote is what stands below the last marked quote, for those who answer
// at the bottom under a signature or head that is not marked.
func belowQuote(lines []string) []string {
	for i := len(lines) - 1; i >= 0; i-- {
		if quoted(strings.TrimSpace(lines[i])) {
			return lines[i+1:]
		}
	}
	return nil
}
