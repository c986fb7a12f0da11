package reply

import (
	"slices"
	"strings"

	"stubbled/scheduler/diary"
)

// said reports whether a message is one of a row of optout.txt.
func (v *vocabulary) said(row, message string) bool { return v.whole[row][message] }

// wholeMessage answers a text that is nothing but one of those words.
func (p *parser) wholeMessage() (Heard, bool) {
	words, asks := p.plainWords()
	if len(words) == 0 {
		return Heard{}, false
	}
	k := p.reader.voc.wholeKind(words)
	if k == "" {
		k = p.reader.voc.wholeKind(p.bare(words))
	}
	if k == "" && !asks && p.who.Out && (p.reader.voc.said("in where out", strings.Join(words, " ")) || p.reader.voc.said("in where out", strings.Join(p.bare(words), " "))) {
		k = diary.Start
	}
	if asks && k != diary.Stop && k != diary.Help {
		k = "" // what asks is no command
	}
	if k == "" && !asks && p.refuses(words) {
		k = diary.Stop
	}
	if k == "" && p.tenFour(words) {
		return p.nod(), true
	}
	if k == "" {
		return Heard{}, false
	}
	return Heard{Facts: []diary.Fact{{Kind: k, Words: p.words}}}, true
}

// tenFour knows the radio's word for understood. In words it may be two
// heights where heights were asked for.
func (p *parser) tenFour(words []string) bool {
	if len(words) > 4 || len(words) < 2 {
		return false
	}
	for _, w := range words[2:] {
		if !p.reader.voc.said("polite", w) && !p.reader.voc.said("after radio", w) {
			return false
		}
	}
	if strings.HasPrefix(strings.TrimSpace(p.text), "10-4") {
		return true
	}
	return p.reader.voc.said("radio", words[0]+" "+words[1]) && len(p.asked.Paddocks) == 0 && p.asked.Recent == ""
}

func (v *vocabulary) wholeKind(words []string) diary.Kind {
	words = slices.Compact(slices.Clone(words)) // STOP STOP STOP
	switch m := strings.Join(words, " "); {
	case v.said("out", m) || v.slipped(words, "slip of out"):
		return diary.Stop
	case v.said("in", m):
		return diary.Start
	case v.said("help", m) || v.slipped(words, "slip of help"):
		return diary.Help
	case v.slipped(words, "slip of undo"):
		return diary.Undo
	}
	return ""
}

// slipped knows the commonest of them with one slip of the finger.
func (v *vocabulary) slipped(words []string, row string) bool {
	if len(words) != 1 {
		return false
	}
	for _, t := range v.tongues {
		if t().common(words[0]) {
			return false
		}
	}
	for w := range v.whole[row] {
		if distance(words[0], w) == 1 || squeeze(words[0]) == w {
			return true
		}
	}
	return false
}

// plainWords are the words and numbers of a text, without marks and accents;
// asks says that a question mark stands among them.
func (p *parser) plainWords() (words []string, asks bool) {
	for _, t := range scan(p.text) {
		if t.kind == mark {
			asks = asks || t.s == "?"
			continue
		}
		words = append(words, fold(t.s))
		if len(words) > 40 {
			return nil, false
		}
	}
	return words, asks
}

// bare takes politeness and the writer's own name from both ends.
func (p *parser) bare(words []string) []string {
	name := fold(firstWord(p.who.Name))
	polite := func(w string) bool { return p.reader.voc.said("polite", w) || (w == name && name != "") }
	for len(words) > 1 && polite(words[0]) {
		words = words[1:]
	}
	for len(words) > 1 && polite(words[len(words)-1]) {
		words = words[:len(words)-1]
	}
	return words
}

// refuses reports whether a reasonable person would read a text as an opt-out.
func (p *parser) refuses(words []string) bool {
	m := " " + strings.Join(words, " ") + " "
	found := p.stopsFirst()
	for r := range p.reader.voc.whole["refusal"] {
		if strings.Contains(m, " "+r+" ") {
			found = true
			break
		}
	}
	for r := range p.reader.voc.whole["no refusal"] {
		found = found && !strings.Contains(m, " "+r+" ")
	}
	if !found {
		return false
	}
	for _, t := range p.tokens(p.text) {
		if t.is(sPlace | sNum | sHerd | sFrost) {
			return false
		}
	}
	return true
}

// stopsFirst reports whether the first sentence of a text is an opt-out and
// nothing else: STOP. I never asked for this.
func (p *parser) stopsFirst() bool {
	var words []string
	for _, t := range scan(p.text) {
		if t.kind == mark {
			if marks[t.s].set&(sStop|sComma|sDash) != 0 && len(words) > 0 {
				break
			}
			continue
		}
		words = append(words, fold(t.s))
		if len(words) > 2 {
			return false
		}
	}
	return p.reader.voc.said("first out", strings.Join(words, " "))
}
