package report

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/golang-sql/civil"

	"stubbled/config"
	"stubbled/notify/reply"
	"stubbled/notify/wording"
	"stubbled/scheduler"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
)

type understood struct {
	Facts []Fact `json:"facts"`
	Ask   string `json:"ask"`
	// Confirm is what each letter that answers the question would write down.
	Confirm map[string][]Fact `json:"confirm,omitempty"`
}

// A Reader shows what texts would be taken for; nothing is written down.
type Reader struct {
	farm   *config.Farm
	reader *reply.Reader
	day    civil.Date
	out    *json.Encoder
}

// NewReader reads the texts of a farm, sent on a day.
func NewReader(farm *config.Farm, day civil.Date, w io.Writer) Reader {
	return Reader{farm: farm, reader: scheduler.ReaderFor(farm), day: day, out: json.NewEncoder(w)}
}

// One reads a text of a contact who was asked about some paddocks, by their ids
// with commas between.
func (u Reader) One(who, asked, text string) error {
	res := understood{Facts: []Fact{}}
	c, ok := u.farm.Contact(who)
	if !ok {
		return u.out.Encode(res) // a stranger is not heard
	}
	var a reply.Asked
	if asked != "" && asked != "-" {
		a.Paddocks = strings.Split(asked, ",")
	}
	if len(a.Paddocks) == 1 {
		a.OpenQuestion = a.Paddocks[0]
	}
	heard := u.reader.Read(text, reply.Who{Name: c.Name, Language: c.Language, Manager: c.Manager()}, a, u.day)
	for _, f := range heard.Facts {
		res.Facts = append(res.Facts, factOf(f))
	}
	if heard.Ask != nil {
		res.Ask = wording.Answer(Voice(u.farm, c.Language), ladder.AnswerAsk, scheduler.AskBack(u.farm, heard.Ask))
		res.Confirm = letters(heard.Ask.Choices)
	}
	return u.out.Encode(res)
}

// letters are the facts of choices by the letters that choose them; nil where
// there is nothing to choose.
func letters(choices []diary.Choice) map[string][]Fact {
	var by map[string][]Fact
	for i, c := range choices {
		for _, f := range c.Facts {
			if by == nil {
				by = map[string][]Fact{}
			}
			by[string(rune('a'+i))] = append(by[string(rune('a'+i))], factOf(f))
		}
	}
	return by
}

// File reads lines of contact, asked and text, tab-separated.
func (u Reader) File(path string) error {
	file, err := os.Open(path)
	if err != nil {
		return fmt.Errorf("understand: %w", err)
	}
	defer file.Close()
	scan := bufio.NewScanner(file)
	scan.Buffer(make([]byte, 0, 64<<10), 4<<20)
	for n := 1; scan.Scan(); n++ {
		parts := strings.SplitN(strings.TrimSuffix(scan.Text(), "\r"), "\t", 3)
		if len(parts) != 3 {
			return fmt.Errorf("%s:%d: want contact, asked and text with tabs between", path, n)
		}
		if err := u.One(parts[0], parts[1], unescape(parts[2])); err != nil {
			return err
		}
	}
	return scan.Err()
}

var escapes = regexp.MustCompile(`\\(?:[ntr\\]|u[0-9a-fA-F]{4})`)

// unescape turns \n \t \r \\ \uXXXX into what they stand for; anything else
// stays as it is.
func unescape(text string) string {
	return escapes.ReplaceAllStringFunc(text, func(escape string) string {
		r, _, _, err := strconv.UnquoteChar(escape, 0)
		if err != nil { // half of a pair, which is no character
			r = utf8.RuneError
		}
		return string(r)
	})
}
