package newfarm

import (
	"bufio"
	"fmt"
	"os"
	"strconv"
	"strings"

	"stubbled/config/values"
	"stubbled/notify/language"
	"stubbled/scheduler/grass"
	"stubbled/scheduler/herd"
)

// Ask asks for what the answers lack, and keeps what was answered in the draft
// until all is. The error is ErrBrokenOff where the input ends before.
func (t *Talk) Ask(a *Answers) error {
	t.answers, t.lines = a, bufio.NewScanner(t.In)
	t.takeUp()
	fmt.Fprintln(t.Out, "One question at a time; ? shows what there is, Enter takes what stands in [ ].")
	whole := t.farm() && t.place() && t.rest() && t.paddocks() && t.herds() && t.people() && t.texts() && t.mail()
	if !whole {
		return fmt.Errorf("%w; what was answered is kept in %s, and the same command goes on from there", ErrBrokenOff, t.Draft)
	}
	return nil
}

// Yes asks whether something is to be done; Enter means yes, the end of the input
// no.
func (t *Talk) Yes(ask string) bool {
	text, ok := t.answer(question{ask: ask + "? yes or no", usual: "yes"})
	return ok && strings.HasPrefix(strings.ToLower(text), "y")
}

// Done forgets the draft, once the farm file is written.
func (t *Talk) Done() { _ = os.Remove(t.Draft) }

func (t *Talk) farm() bool {
	return (t.answers.Name != "" || t.one(&t.answers.Name, question{ask: "The farm's name", key: "farm.name"})) &&
		(t.answers.Timezone != "" || t.one(&t.answers.Timezone, question{ask: "Its time zone", key: "farm.timezone", choices: values.CommonZones}))
}

// place asks where the farm is, for a station's record, or for a date by hand.
func (t *Talk) place() bool {
	if t.answers.Station != "" || t.answers.FrostDate != "" {
		return true
	}
	const ask = "Where it is: TOWN, STATE, a ZIP code, or degrees such as 40.00,-100.00,2600ft (empty: you say the date of first frost)"
	for !t.over {
		var where string
		if !t.one(&where, question{ask: ask, open: true, choices: []string{"the three stations that suit the place best are shown, with their frost dates, and you choose"}}) {
			return false
		}
		if where == "" {
			return t.byHand()
		}
		n, err := t.Records.Near(where)
		if err != nil {
			fmt.Fprintf(t.Out, "  %v\n", err)
			continue
		}
		if done, ok := t.station(n); done || !ok {
			return ok
		}
	}
	return false
}

// station takes one of the stations shown; done is false where the place is to
// be asked for again.
func (t *Talk) station(n int) (done, ok bool) {
	for {
		var which string
		if !t.one(&which, question{ask: "Which of them (0: the date by hand)", usual: "1"}) {
			return false, false
		}
		switch i, err := strconv.Atoi(which); {
		case err != nil || i < 0 || i > n:
			fmt.Fprintf(t.Out, "  want 0 to %d\n", n)
		case i == 0:
			return true, t.byHand()
		default:
			s, err := t.Records.Take(i)
			if err != nil {
				fmt.Fprintf(t.Out, "  %v\n", err)
				return false, true
			}
			t.answers.Station, t.answers.From, t.answers.Place = s.File, s.From, s.Place
			if err := t.judge("frost.station"); err != nil {
				fmt.Fprintf(t.Out, "  %v\n", err)
				t.answers.Station, t.answers.From, t.answers.Place = "", "", ""
				return false, true
			}
			return true, true
		}
	}
}

func (t *Talk) byHand() bool {
	return t.one(&t.answers.FrostDate, question{ask: "The usual first frost, 32 F, as month and day", key: "frost.date", choices: []string{"such as 10-18, for Oct 18"}}) &&
		t.one(&t.answers.Spread, question{ask: "How much it varies (standard deviation)", usual: "10 days", key: "frost.spread"})
}

func (t *Talk) rest() bool {
	return t.answers.Rest != "" || t.one(&t.answers.Rest, question{ask: "Rest before frost", usual: "45 days", key: "rest.days", choices: []string{"45 to 60 days are usual"}})
}

// each asks for a list row by row: for a name, and by rest for what else is
// wanted of it. An empty name ends the list, once there is one where one is needed.
func each[T any](t *Talk, list *[]T, what, key string, needed bool, name func(*T) *string, rest func(row *T, at string) bool) bool {
	if len(*list) > 0 {
		return true
	}
	section, nameKey, _ := strings.Cut(key, ".")
	for i := 0; ; i++ {
		*list = append(*list, *new(T)) // where the farm file's rules see it
		row, at := &(*list)[i], fmt.Sprintf("%s[%d].", section, i)
		ask := fmt.Sprintf("%s %d, its name (empty: no more)", what, i+1)
		ok := t.one(name(row), question{ask: ask, key: at + nameKey, open: i > 0 || !needed})
		if *name(row) == "" {
			*list = (*list)[:i]
			return ok
		}
		if !rest(row, at) {
			return false
		}
	}
}

func (t *Talk) paddocks() bool {
	return each(t, &t.answers.Paddocks, "Paddock", "paddocks.name", true, func(p *Paddock) *string { return &p.Name }, func(p *Paddock, at string) bool {
		return t.one(&p.Area, question{ask: "  its size", key: at + "area", choices: []string{"such as 22 acres, or 9 ha"}}) &&
			t.one(&p.Grass, question{ask: "  what grows there", key: at + "grass", choices: grass.Grasses.Names()}) &&
			t.one(&p.Plants, question{ask: "  plants there that can poison, such as johnsongrass or wild cherry (empty: none)", key: at + "hazard_plants", open: true, choices: grass.Hazards.Names()})
	})
}

func (t *Talk) herds() bool {
	var paddocks []string
	for _, p := range t.answers.Paddocks {
		paddocks = append(paddocks, p.Name)
	}
	return each(t, &t.answers.Herds, "Herd", "herds.id", false, func(h *Herd) *string { return &h.Name }, func(h *Herd, at string) bool {
		return t.one(&h.Head, question{ask: "  how many", key: at + "head"}) &&
			t.one(&h.Kind, question{ask: "  what they are", key: at + "kind", choices: herd.Kinds.Names()}) &&
			t.one(&h.Paddock, question{ask: "  where they stand today (empty: nowhere here)", key: at + "paddock", choices: paddocks, open: true})
	})
}

func (t *Talk) people() bool {
	role := "manager" // of the first
	return each(t, &t.answers.People, "Who is told,", "contacts.name", true, func(p *Person) *string { return &p.Name }, func(p *Person, at string) bool {
		usual := role
		role = "helper"
		return t.one(&p.Role, question{ask: "  what they do", usual: usual, key: at + "role", choices: []string{"manager", "owner", "helper", "or a word of your own"}}) &&
			t.one(&p.Phone, question{ask: "  mobile phone (empty: mail only)", key: at + "phone", open: true, choices: []string{"with the country code, such as +15555550142"}}) &&
			t.one(&p.Email, question{ask: "  mail address (empty: none)", key: at + "email", open: p.Phone != ""}) &&
			t.one(&p.Language, question{ask: "  language", usual: "en", key: at + "language", choices: language.Tags()})
	})
}
