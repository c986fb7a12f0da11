package main

import (
	"errors"
	"fmt"
	"strings"
)

// scriptPage makes a man page (man(7)) of the comment at the head of a shell
// script: its first line is `name - what it does`, paragraphs follow, and lines
// indented by three are examples. What a script says of itself and its page
// cannot drift apart that way.
func scriptPage(script, date string) (string, error) {
	head := headOf(script)
	if len(head) == 0 {
		return "", errors.New("no comment at its head to make a man page of")
	}
	name, what, ok := strings.Cut(head[0], " - ")
	if !ok {
		return "", fmt.Errorf("its first line is %q, want name - what it does", head[0])
	}
	var b strings.Builder
	fmt.Fprintf(&b, ".TH %s 8 %s stubbled \"Rest before frost\"\n.SH NAME\n%s \\- %s\n.SH DESCRIPTION\n", strings.ToUpper(roff(name)), date, roff(name), roff(what))
	example := false
	for _, line := range head[1:] {
		text, isExample := strings.CutPrefix(line, "  ")
		if isExample != example {
			example = isExample
			b.WriteString(map[bool]string{true: ".nf\n.RS\n", false: ".RE\n.fi\n"}[example])
		}
		switch {
		case strings.TrimSpace(text) == "":
			b.WriteString(".PP\n")
		default:
			b.WriteString(roff(text) + "\n")
		}
	}
	if example {
		b.WriteString(".RE\n.fi\n")
	}
	b.WriteString(".SH SEE ALSO\nstubbled(1), /usr/share/doc/stubbled/installing.md\n")
	return b.String(), nil
}

// headOf gives the lines of the comment after #!, without their marks.
func headOf(script string) []string {
	_, rest, _ := strings.Cut(script, "\n")
	return comment("#", rest)
}

// comment gives the lines that a text begins with behind a mark, without it.
func comment(mark, text string) (head []string) {
	for line := range strings.SplitSeq(text, "\n") {
		line, ok := strings.CutPrefix(line, mark)
		if !ok {
			break
		}
		head = append(head, strings.TrimPrefix(line, " "))
	}
	return head
}

// roff escapes what troff would take for something else.
func roff(text string) string {
	text = strings.ReplaceAll(text, `\`, `\e`)
	if text = strings.ReplaceAll(text, "-", `\-`); strings.HasPrefix(text, ".") || strings.HasPrefix(text, "'") {
		text = `\&` + text
	}
	return text
}
