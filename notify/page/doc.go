// Package page is in charge of what is printed or shown as a page: the grazing
// record, the wall card, the board. It is given values and makes HTML of them that
// needs nothing from outside: no script, no font, no picture of somebody else's.
//
// It never decides and reads no clock and no file but its own templates. Every word
// stands in page.txt of package language; a template names the phrase.
package page

import (
	"embed"
	"html/template"
	"io"
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

// write makes one page in a person's language.
func write(w io.Writer, name string, p wording.Page, about any) error {
	t, err := templates.Clone()
	if err != nil {
		return err
	}
	return t.Funcs(words(p)).ExecuteTemplate(w, name, about)
}
