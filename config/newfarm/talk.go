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
		(t.answers.Timezone != "" || t.one(&t.answers.Timezone, question{ask: "Its time zone", key: "farm.timezone", choices: values.CommonZones()}))
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
		i, err := strconv.Atoi(which)
		switch {
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

// more asks for one more of a list; an empty answer ends it, once there is one
// where one is needed.
func (t *Talk) more(to *string, what, key string, n int, needed bool) (another, ok bool) {
	ask := fmt.Sprintf("%s %d, its name (empty: no more)", what, n+1)
	ok = t.one(to, question{ask: ask, key: key, open: n > 0 || !needed})
	return *to != "", ok
}

func (t *Talk) paddocks() bool {
	if len(t.answers.Paddocks) > 0 {
		return true
	}
	for i := 0; ; i++ {
		t.answers.Paddocks = append(t.answers.Paddocks, Paddock{})
		p, at := &t.answers.Paddocks[i], fmt.Sprintf("paddocks[%d]", i)
		another, ok := t.more(&p.Name, "Paddock", at+".name", i, true)
		if !another {
			t.answers.Paddocks = t.answers.Paddocks[:i]
			return ok
		}
		if !t.one(&p.Area, question{ask: "  its size", key: at + ".area", choices: []string{"such as 22 acres, or 9 ha"}}) ||
			!t.one(&p.Grass, question{ask: "  what grows there", key: at + ".grass", choices: grass.Names()}) {
			return false
		}
	}
}

func (t *Talk) herds() bool {
	if len(t.answers.Herds) > 0 {
		return true
	}
	for i := 0; ; i++ {
		t.answers.Herds = append(t.answers.Herds, Herd{})
		h, at := &t.answers.Herds[i], fmt.Sprintf("herds[%d]", i)
		another, ok := t.more(&h.Name, "Herd", at+".id", i, false)
		if !another {
			t.answers.Herds = t.answers.Herds[:i]
			return ok
		}
		var kinds, paddocks []string
		for _, k := range herd.Kinds() {
			kinds = append(kinds, k.Name)
		}
		for _, p := range t.answers.Paddocks {
			paddocks = append(paddocks, p.Name)
		}
		if !t.one(&h.Head, question{ask: "  how many", key: at + ".head"}) ||
			!t.one(&h.Kind, question{ask: "  what they are", key: at + ".kind", choices: kinds}) ||
			!t.one(&h.Paddock, question{ask: "  where they stand today (empty: nowhere here)", key: at + ".paddock", choices: paddocks, open: true}) {
			return false
		}
	}
}

func (t *Talk) people() bool {
	if len(t.answers.People) > 0 {
		return true
	}
	for i := 0; ; i++ {
		t.answers.People = append(t.answers.People, Person{})
		p, at := &t.answers.People[i], fmt.Sprintf("contacts[%d]", i)
		another, ok := t.more(&p.Name, "Who is told,", at+".name", i, true)
		if !another {
			t.answers.People = t.answers.People[:i]
			return ok
		}
		role := "manager"
		if i > 0 {
			role = "helper"
		}
		if !t.one(&p.Role, question{ask: "  what they do", usual: role, key: at + ".role", choices: []string{"manager", "owner", "helper", "or a word of your own"}}) ||
			!t.one(&p.Phone, question{ask: "  mobile phone (empty: mail only)", key: at + ".phone", open: true, choices: []string{"with the country code, such as +15555550142"}}) ||
			!t.one(&p.Email, question{ask: "  mail address (empty: none)", key: at + ".email", open: p.Phone != ""}) ||
			!t.one(&p.Language, question{ask: "  language", usual: "en", key: at + ".language", choices: language.Tags()}) {
			return false
		}
	}
}
