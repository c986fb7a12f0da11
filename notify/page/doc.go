// Package page is in charge of what is printed or shown as a page: the grazing
// record, the wall card, the board. It is given values and makes HTML of them that
// needs nothing from outside: no script, no font, no picture of somebody else's.
//
// It never decides and reads no clock and no file but its own templates. Every word
// stands in page.txt of package language; a template names the phrase.
package page

import (
	"bytes"
	"embed"
	"html/template"
	"strconv"

	"stubbled/notify/wording"
)

//go:embed *.html *.css
var files embed.FS

// Style is the look of every page, light and dark, on screen and on paper.
var Style = mustRead("page.css")

func mustRead(name string) string {
	data, err := files.ReadFile(name)
	if err != nil {
		panic(err) // it is part of the program
	}
	return string(data)
}

// words are what the templates may call; each page puts a person's in their place.
func words(p wording.Page) template.FuncMap {
	return template.FuncMap{
		"say": p.Say, "day": p.Day, "dayOf": p.DayOf, "short": p.Short, "length": p.Length, "number": p.Number, "lang": p.Lang, "year": strconv.Itoa,
		"style": func() template.CSS { return template.CSS(Style) },
	}
}

var templates = template.Must(template.New("").Funcs(words(wording.Page{})).ParseFS(files, "*.html"))

// made is one page in a person's language.
func made(name string, p wording.Page, about any) ([]byte, error) {
	t, err := templates.Clone()
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	err = t.Funcs(words(p)).ExecuteTemplate(&b, name, about)
	return b.Bytes(), err
}
