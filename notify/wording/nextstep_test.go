package wording

import (
	"strings"
	"testing"

	"stubbled/notify/gsm"
)

// What a text must say, and may not, word by word in both languages.
func TestATextIsDatedAgreesWithItselfAndHasANextStep(t *testing.T) {
	for _, tc := range []struct {
		sample, why string
		en, es      string // it says; after a '-' it does not
	}{
		{"in rest, read six weeks ago", "a height that is not today's carries its day", "8 in on Aug 31", "8 pulg el 31 ago"},
		{"stay, a late text", "so does one that came late", "on Aug 21", "el 21 ago"},
		{"stay", "today's needs none", "- on Aug 22", "- el 22 ago"},
		{"stay, 14 days or more", "what shuts in time is no count of days of grass", "-Out by", "-Saquelo"},
		{"stay, 14 days or more", "and is read again", "read again in 7", "mida otra vez en 7"},
		{"stay, 14 days or more on rented ground", "rented ground goes back", "It goes back Nov 15", "Se entrega el 15 nov"},
		{"stay, today only", "what is good for today is not read again in three days", "-Read again", "-Mida otra vez"},
		{"fall use, just as much as must stand", "nothing is short by nothing", "-0 in", "-0 pulg"},
		{"fall use, just as much as must stand", "but it is all spent", "nothing to spare", "nada sobra"},
		{"hayed in rest", "hay cut in rest has a next step", "Keep Creek Bottom shut", "Deje cerrado Creek Bottom"},
		{"hayed", "hay cut before it is noted", "-Keep Creek", "-Deje cerrado"},
		{"tenth day of rest", "from the tenth day on it still says where to go", "Put them in Lane", "Métalo en Lane"},
		{"tenth day, nowhere to go", "or to feed hay", "feed hay", "dele pacas"},
		{"twentieth day of rest", "and what it costs by then", "under 30", "menos de 30"},
		{"third day of rest", "which is another thing on the third day", "-under 30", "-menos de 30"},
		{"nothing is left", "what is gone does not last until today", "No winter feed is known of: 115 days to green-up", "No se sabe de pasto ni pacas para el invierno: faltan 115 dias"},
		{"nothing is left", "nor is nothing counted in three ways", "-Stockpile 0", "-Pasto en pie 0"},
		{"sorghum that nobody read lately, cattle in", "what only wants a height says how to text it", "Measured taller, or off? Text: lane 27 25 26, or: off lane", "¿Mide mas, o ya fuera? Conteste: lane 27 25 26, o: fuera lane"},
		{"sorghum that was read short, cattle in", "what was read short comes off", "-Measured taller", "-Mide mas"},
		{"five days, two herds", "the order says which herd goes where", "Order: cows in Creek Bottom to Aug 29, Hill to Sep 1, Mill to Sep 9; steers in Hill to Sep 1.",
			"Orden: vacas en Creek Bottom hasta el 29 ago, Hill hasta el 1 sep, Mill hasta el 9 sep; novillos en Hill hasta el 1 sep."},
		{"empty at cutoff, not read", "the height at cutoff is asked for where nobody stands", "Text its height: cb 10 8 9.", "Conteste su altura: cb 10 8 9."},
		{"empty at cutoff", "and not where it was read", "-height", "-altura"},
	} {
		for lang, want := range map[string]string{"en": tc.en, "es": tc.es} {
			s := samplesNamed(tc.sample)
			if len(s) == 0 {
				t.Fatalf("no sample %q", tc.sample)
			}
			text := spoken(lang, s[0])
			word, not := strings.CutPrefix(want, "-")
			if word = gsm.Rewrite(word); strings.Contains(text, word) == not {
				t.Errorf("%s: %s: %q says %v of %q", lang, tc.why, text, !not, word)
			}
		}
	}
}

// spoken is a sample as it is texted.
func spoken(lang string, s sample) string {
	if s.kind.Answer() {
		return Answer(Options{Lang: lang}, s.kind, s.said()[0])
	}
	return Text(Options{Lang: lang}, s.kind, s.said())
}

func TestAnOwnersMondayIsFiveLines(t *testing.T) {
	for _, lang := range []string{"en", "es"} {
		s := samplesNamed("Monday for the owner")[0]
		_, text, _ := Mail(Options{Lang: lang}, s.kind, s.said())
		body, _, _ := strings.Cut(text, "\n-- \n")
		lines := 0
		for line := range strings.Lines(body) {
			if strings.TrimSpace(line) != "" {
				lines++
			}
		}
		if lines > 6 { // the title is one
			t.Errorf("%s: %d lines\n%s", lang, lines, body)
		}
		for _, work := range []string{"Walk ", "Mida ", "on n40", "dentro n40"} {
			if strings.Contains(body, work) {
				t.Errorf("%s: the owner is told to do the manager's work: %q in\n%s", lang, work, body)
			}
		}
	}
}
