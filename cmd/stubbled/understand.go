package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"os"
	"strconv"
	"strings"

	"github.com/golang-sql/civil"
	"github.com/spf13/cobra"

	"stubbled/config"
	"stubbled/notify/reply"
	"stubbled/notify/wording"
	"stubbled/scheduler"
	"stubbled/scheduler/ladder"
)

type understandFlags struct {
	contact, asked, on, file string
}

func understandCmd(e *env) *cobra.Command {
	var f understandFlags
	c := &cobra.Command{
		Use:   "understand TEXT",
		Short: "Shows what a text would be taken for; nothing is written down",
		Long: `understand prints as JSON the facts that a text would be taken for, or the question
that would be asked back.

With --file it reads lines of contact, asked and text, tab-separated, and prints
one object for each. Escapes: \n \t \r \\ \uXXXX; - for nothing asked.`,
		RunE: func(_ *cobra.Command, args []string) error { return understand(e, f, args) },
	}
	c.Flags().StringVar(&f.contact, "contact", "", "who texts; the first contact where not given")
	c.Flags().StringVar(&f.asked, "asked", "", "paddock `ids` that were asked about, such as creek,hill")
	c.Flags().StringVar(&f.on, "on", "", "the `day` it is sent, such as 2026-08-22")
	c.Flags().StringVar(&f.file, "file", "", "a `file` of tab-separated lines")
	return c
}

// understood is what a text was taken for.
type understood struct {
	Facts []factJSON `json:"facts"`
	Ask   string     `json:"ask"`
}

func understand(e *env, f understandFlags, args []string) error {
	farm, demo, err := e.farmOrDemo()
	if err != nil {
		return err
	}
	day, err := e.day(f.on, farm, demo)
	if err != nil {
		return err
	}
	u := understander{farm: farm, reader: scheduler.ReaderFor(farm), day: day, out: json.NewEncoder(e.out)}
	if f.file != "" {
		if len(args) > 0 {
			return usagef("a text and --file do not go together")
		}
		return u.file(f.file)
	}
	if len(args) == 0 {
		return usagef("want a text, such as: understand \"creek 9 8 11\"")
	}
	who := f.contact
	if who == "" {
		who = farm.Contacts[0].Name
	}
	if _, ok := farm.Contact(who); !ok {
		return usagef("no contact is called %q; the farm file has %s", who, names(farm))
	}
	return u.one(who, f.asked, strings.Join(args, " "))
}

type understander struct {
	farm   *config.Farm
	reader *reply.Reader
	day    civil.Date
	out    *json.Encoder
}

func (u understander) one(who, asked, text string) error {
	res := understood{Facts: []factJSON{}}
	c, ok := u.farm.Contact(who)
	if !ok {
		return u.out.Encode(res) // a stranger is not heard
	}
	a := reply.Asked{Paddocks: split(asked)}
	if len(a.Paddocks) == 1 {
		a.OpenQuestion = a.Paddocks[0]
	}
	heard := u.reader.Read(text, reply.Who{Name: c.Name, Language: c.Language, Manager: c.Manager()}, a, u.day)
	for _, f := range heard.Facts {
		res.Facts = append(res.Facts, factOf(f))
	}
	if heard.Ask != nil {
		o := wording.Options{Lang: c.Language, Centimetres: u.farm.Units == config.Centimetres}
		res.Ask = wording.Answer(o, ladder.AnswerAsk, ladder.Facts{
			Question: heard.Ask, Names: scheduler.Names(u.farm), Say: u.farm.Paddocks[0].Say(),
		})
	}
	return u.out.Encode(res)
}

func split(ids string) []string {
	if ids == "" || ids == "-" {
		return nil
	}
	return strings.Split(ids, ",")
}

func (u understander) file(path string) error {
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
		if err := u.one(parts[0], parts[1], unescape(parts[2])); err != nil {
			return err
		}
	}
	return scan.Err()
}

// unescape turns \n \t \r \\ \uXXXX into what they stand for; anything else
// stays as it is.
func unescape(text string) string {
	var b strings.Builder
	for i := 0; i < len(text); i++ {
		if text[i] != '\\' || i+1 == len(text) {
			b.WriteByte(text[i])
			continue
		}
		i++
		switch text[i] {
		case 'n':
			b.WriteByte('\n')
		case 't':
			b.WriteByte('\t')
		case 'r':
			b.WriteByte('\r')
		case '\\':
			b.WriteByte('\\')
		case 'u':
			if r, err := strconv.ParseUint(text[i+1:min(i+5, len(text))], 16, 32); err == nil && i+5 <= len(text) {
				b.WriteRune(rune(r))
				i += 4
				continue
			}
			b.WriteString(`\u`)
		default:
			b.WriteByte('\\')
			b.WriteByte(text[i])
		}
	}
	return b.String()
}
