package wording

import (
	_ "embed" // the HTML of a mail
	"fmt"
	"html/template"
	"slices"
	"strings"
	"text/tabwriter"

	"stubbled/scheduler/ladder"
)

// A letter is a mail before it is set in plain text and in HTML: both say the
// same.
type letter struct {
	Lang     string
	Subject  string
	Title    string
	Sections []section
	Foot     []string
}

// A section speaks of one paddock or of one matter.
type section struct {
	Head  string
	Lines []string
	// Answer is what to answer, on a line of its own.
	Answer []string
	Rows   [][2]string // label and value
	Table  *table
	CID    string // content id of a picture; empty where there is none
	Alt    string // what the picture shows
}

// add leaves out a section that says nothing.
func (l *letter) add(s section) {
	if len(s.Lines)+len(s.Answer)+len(s.Rows) > 0 {
		l.Sections = append(l.Sections, s)
	}
}

// A table has a heading over each column.
type table struct {
	Heads []string
	Rows  [][]string
}

// longestSubject is where mail programs on a phone begin to cut, in characters.
const longestSubject = 78

// Mail is one mail for a bundle of notices of one kind to one person: the facts
// of the text, with more room. The HTML is one column of a phone's width and
// means nothing by colour alone.
func Mail(o Options, kind ladder.Kind, facts []ladder.Facts) (subject, text, html string) {
	v := newVoice(o)
	v.roomy = true
	fs := ready(kind, facts)
	l := v.letterOf(kind, fs)
	for _, f := range fs {
		for _, also := range withAnd(kind, f)[1:] {
			l.Sections = append(l.Sections, v.letterOf(also.Kind, []ladder.Facts{also.Facts}).Sections...)
		}
	}
	l.Lang = v.lang.Tag
	l.Foot = v.foot(kind)
	var page strings.Builder
	if err := mailTemplate.Execute(&page, l); err != nil {
		return l.Subject, plainText(l), "" // a test tries the template with every kind
	}
	return l.Subject, plainText(l), page.String()
}

func (v voice) letterOf(kind ladder.Kind, fs []ladder.Facts) letter {
	switch kind {
	case ladder.MondayMail:
		return v.mondayLetter(fs[0].(*ladder.FarmFacts))
	case ladder.LessonsMail:
		return v.lessonsLetter(as[*ladder.EndFacts](fs))
	case ladder.Scorecard:
		return v.scorecardLetter(fs[0].(*ladder.ScorecardFacts))
	case ladder.FallAhead:
		return v.fallLetter(fs[0].(*ladder.FarmFacts))
	case ladder.AnswerStatus:
		return v.statusLetter(as[*ladder.StatusFacts](fs))
	}
	return v.plainLetter(kind, fs)
}

// plainLetter says what a text would, and what is known of each paddock.
func (v voice) plainLetter(kind ladder.Kind, fs []ladder.Facts) letter {
	l := v.titled(fs[0], v.brief().parts(kind, fs))
	say, answer := v.paragraphs(v.parts(kind, fs))
	if len(fs) == 1 {
		l.add(section{Lines: say, Answer: answer, Rows: v.facts(fs[0])})
	} else {
		l.add(section{Lines: say})
		for _, f := range fs {
			_, answer := v.paragraphs(v.parts(kind, []ladder.Facts{f}))
			l.Sections = append(l.Sections, section{Head: v.paddock(f.About().Place), Answer: answer, Rows: v.facts(f)})
		}
	}
	for _, f := range fs {
		if alarm, ok := f.(*ladder.AlarmFacts); ok && alarm.Detail != "" {
			l.Sections = append(l.Sections, section{Lines: []string{alarm.Detail}})
		}
	}
	return l
}

// titled is a letter whose subject is what a text would say first: its first
// sentence, or as much of it as a phone shows.
func (v voice) titled(f ladder.Facts, brief []part) letter {
	var first []part
	for _, p := range brief {
		if p.rank > rankNames || !speaks(p) {
			continue
		}
		first = append(first, p)
		if said := full(first); len(said) > 36 && !strings.HasSuffix(said, ":") {
			break
		}
	}
	room := longestSubject
	if farm := f.About().Farm; farm != "" {
		room -= len(farm) + len(": ")
	}
	title := strings.Join(strings.Fields(within(room, first)), " ")
	for len([]rune(title)) > room {
		i := strings.LastIndex(title, ". ")
		if i < 36 { // a whole sentence if it says enough, else up to a comma
			i = max(i, strings.LastIndex(title, ": "), strings.LastIndex(title, ", "))
		}
		if i < 16 {
			break
		}
		title = title[:i]
	}
	if title = strings.TrimRight(title, ".: "); title == "" {
		title = v.say("mail.untitled")
	}
	return letter{Subject: v.subject(f, title), Title: title}
}

// subject names the farm first.
func (v voice) subject(f ladder.Facts, title string) string {
	if f.About().Farm == "" {
		return title
	}
	return v.say("mail.subject", "farm", f.About().Farm, "title", title)
}

// paragraphs are the sentences of a text, and apart from them how to answer.
func (v voice) paragraphs(parts []part) (say, answer []string) {
	parts = only(parts, speaks)
	if last := len(parts) - 1; last >= 0 && parts[last].rank == rankAnswer {
		return textLines(full(parts[:last])), textLines(full(parts[last:]))
	}
	return textLines(full(parts)), nil
}

func textLines(s string) []string {
	return strings.FieldsFunc(s, func(r rune) bool { return r == '\n' })
}

// foot says how to answer a mail, and how to be left alone.
func (v voice) foot(kind ladder.Kind) []string {
	switch kind {
	case ladder.AnswerStop:
		return nil
	case ladder.Alarm, ladder.FarmFileBad, ladder.StopTold, ladder.LessonsMail, ladder.Scorecard:
		return []string{v.say("mail.foot.plain")}
	case ladder.FrostWarning, ladder.HazardAhead, ladder.HoldBegins, ladder.HoldAnimals, ladder.HoldUnsure, ladder.HoldOver, ladder.StillShut, ladder.WaitAnimals, ladder.RestOver, ladder.KillingFreeze, ladder.FrostFirst:
		return []string{v.say("mail.care"), v.say("mail.foot")}
	}
	return []string{v.say("mail.foot")}
}

//go:embed mail.html
var mailHTML string

var mailTemplate = template.Must(template.New("mail").Funcs(template.FuncMap{"tight": tight}).Parse(mailHTML))

// tight keeps a short cell of a table, a date or a height, on one line.
func tight(cell string) string {
	const short = 8
	if len([]rune(cell)) > short {
		return cell
	}
	return strings.ReplaceAll(cell, " ", "\u00a0")
}

// plainText sets a letter in lines.
func plainText(l letter) string {
	var b strings.Builder
	b.WriteString(l.Title + "\n")
	for _, s := range l.Sections {
		b.WriteString("\n")
		if s.Head != "" {
			b.WriteString(s.Head + "\n" + strings.Repeat("-", len([]rune(s.Head))) + "\n")
		}
		for _, line := range append(slices.Clone(s.Lines), s.Answer...) {
			b.WriteString(line + "\n")
		}
		for _, r := range s.Rows {
			b.WriteString("  " + r[0] + ": " + r[1] + "\n")
		}
		if s.Table != nil {
			b.WriteString(s.Table.text())
		}
	}
	for i, line := range l.Foot {
		if i == 0 {
			b.WriteString("\n-- \n")
		}
		b.WriteString(line + "\n")
	}
	return b.String()
}

// text sets a table in columns of equal width.
func (t *table) text() string {
	var b strings.Builder
	w := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	for _, row := range append([][]string{t.Heads}, t.Rows...) {
		fmt.Fprintln(w, "  "+strings.Join(row, "\t"))
	}
	_ = w.Flush() // a builder takes everything
	return b.String()
}
