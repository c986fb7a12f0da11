package newfarm_test

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stubbled/config"
	"stubbled/config/newfarm"
)

var update = flag.Bool("update", false, "write the expected file anew")

func answers() newfarm.Answers {
	return newfarm.Answers{
		Name: "Plum Run", Timezone: "America/Chicago", FrostDate: "10-16",
		Paddocks: []newfarm.Paddock{{"Creek", "22 acres", "eastern gamagrass", ""}, {"O'Brien's \"80\"", "9 ha", "big bluestem", "johnsongrass and black cherry"}},
		Herds:    []newfarm.Herd{{"Cows", "38", "cow with calf", "Creek"}},
		People:   []newfarm.Person{{"Ana", "manager", "+15555550142", "en", "ana@example.org"}},
	}
}

func TestInitWritesAFarmFileThatLoads(t *testing.T) {
	data, err := newfarm.Write(answers())
	if err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile("testdata/init.yaml", data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile("testdata/init.yaml")
	if err != nil {
		t.Fatal(err)
	}
	if string(data) != string(want) {
		t.Errorf("got\n%s\nwant\n%s", data, want)
	}
	f, err := config.LoadText("farm.yaml", data, config.WithoutEnvironment())
	if err != nil {
		t.Fatal(err)
	}
	if f.Name != "Plum Run" || f.Paddocks[0].ID != "creek" || f.Paddocks[1].Name != `O'Brien's "80"` || f.Paddocks[1].ID != "obriens80" {
		t.Errorf("farm %q, paddocks %+v", f.Name, f.Paddocks)
	}
	if f.Herds[0].Paddock != "creek" || f.Herds[0].ID != "cows" || f.Plan.Hand.Spread != 10 {
		t.Errorf("herds %+v, plan %+v", f.Herds, f.Plan.Hand)
	}
	for _, w := range f.Warnings {
		if !strings.Contains(w.Text, "numbering table") {
			t.Errorf("warning: %v", w)
		}
	}
}

func TestInitNamesTheAnswerThatIsWrong(t *testing.T) {
	for want, change := range map[string]func(*newfarm.Answers){
		`answers: farm.timezone: want a time zone`:        func(a *newfarm.Answers) { a.Timezone = "Kansas" },
		`answers: frost.date: is empty`:                   func(a *newfarm.Answers) { a.FrostDate = "" },
		`answers: paddocks[0].area: want an area such as`: func(a *newfarm.Answers) { a.Paddocks[0].Area = "22" },
		`jonson weed`:                                                    func(a *newfarm.Answers) { a.Paddocks[0].Plants = "jonson weed" },
		`did you mean "eastern gamagrass"?`:                              func(a *newfarm.Answers) { a.Paddocks[0].Grass = "eastern gamagras" },
		`answers: paddocks[1].name: "CREEK" is already what`:             func(a *newfarm.Answers) { a.Paddocks[1].Name = "CREEK" },
		`answers: paddocks[0].name: "Off" is a word`:                     func(a *newfarm.Answers) { a.Paddocks[0].Name = "Off" },
		`answers: contacts[0].phone: want the number with +`:             func(a *newfarm.Answers) { a.People[0].Phone = "555 0142" },
		`answers: herds[0].head: want a whole number`:                    func(a *newfarm.Answers) { a.Herds[0].Head = "some" },
		`no paddock has the id "O'Brien's"; did you mean "obriens80"?`:   func(a *newfarm.Answers) { a.Herds[0].Paddock = "O'Brien's" },
		`time zone by its city; did you mean "America/Chicago"?`:         func(a *newfarm.Answers) { a.Timezone = "Central time" },
		`answers: herds[0].paddock: no paddock has the id "Hill"`:        func(a *newfarm.Answers) { a.Herds[0].Paddock = "Hill" },
		`answers: paddocks: lists none`:                                  func(a *newfarm.Answers) { a.Paddocks, a.Herds = nil, nil },
		`answers: farm.name: holds a line break`:                         func(a *newfarm.Answers) { a.Name = "Plum\nRun" },
		`answers: frost.station: station file "nowhere.csv" is not ther`: func(a *newfarm.Answers) { a.Station = "nowhere.csv" },
	} {
		a := answers()
		change(&a)
		if data, err := newfarm.Write(a); err == nil || data != nil || !strings.Contains(err.Error(), want) {
			t.Errorf("got %v\nwant %s", err, want)
		}
	}
}

func TestFlagsOfInit(t *testing.T) {
	if p, err := newfarm.ParsePaddock("Creek : 22 acres:eastern gamagrass"); err != nil || p != (newfarm.Paddock{"Creek", "22 acres", "eastern gamagrass", ""}) {
		t.Errorf("%+v, %v", p, err)
	}
	if h, err := newfarm.ParseHerd("cows:38:cow with calf"); err != nil || h != (newfarm.Herd{"cows", "38", "cow with calf", ""}) {
		t.Errorf("%+v, %v", h, err)
	}
	if p, err := newfarm.ParsePerson("Luis:helper:+15555550143:es"); err != nil || p != (newfarm.Person{"Luis", "helper", "+15555550143", "es", ""}) {
		t.Errorf("%+v, %v", p, err)
	}
	for _, text := range []string{"", "Creek", "Creek:22 acres", "a:b:c:d:e:f"} {
		if p, err := newfarm.ParsePaddock(text); err == nil {
			t.Errorf("%q was taken for %+v", text, p)
		}
	}
}

// Whatever people call things, either the answer is named that cannot be, or
// the file loads and says the same words back.
func TestWhateverInitWritesLoads(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "farm.yaml")
	name := rapid.OneOf(
		rapid.StringMatching(`[A-Z][a-z]{1,6}( [A-Z0-9][a-z]{0,5})?`),
		rapid.StringMatching(`["'#:&*!|>%@\\{}\[\],?-]{0,2}[A-Za-zñéüØß]{1,8}["'#:&*!|>%@\\ ]{0,3}[a-z0-9]{0,4}`),
		rapid.SampledFrom([]string{"yes", "No", "null", "~", "true", "3", "1e3", "0x1F", "2026-10-18", "Nine Oaks", "9 Oaks", "Peña Blanca", "O'Brien's", "The \"Back\" 40",
			"Hill # 2", "- Hill", "Río: alto", "牧場", "cows", "Off", "{{.To}}", "<<", "=", " Hill ", "Hill\t2", "İstanbul", "ﬁeld"}),
		rapid.String(),
	)
	written, refused := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		a := newfarm.Answers{
			Name: name.Draw(t, "farm"), Timezone: "America/Chicago", FrostDate: "10-16",
			People: []newfarm.Person{{name.Draw(t, "person"), rapid.SampledFrom([]string{"manager", "owner", ""}).Draw(t, "role"), "+15555550142", "es", ""}},
		}
		for range rapid.IntRange(1, 4).Draw(t, "paddocks") {
			a.Paddocks = append(a.Paddocks, newfarm.Paddock{name.Draw(t, "paddock"), rapid.SampledFrom([]string{"22 acres", "9.5 ha", "1 ac"}).Draw(t, "area"), "Big Bluestem", ""})
		}
		if rapid.Bool().Draw(t, "herd") {
			a.Herds = []newfarm.Herd{{name.Draw(t, "herd"), "38", "cow, dry", a.Paddocks[0].Name}}
		}
		data, err := newfarm.Write(a)
		if err != nil {
			refused++
			if !strings.HasPrefix(err.Error(), "answers: ") || strings.Contains(err.Error(), "YAML") {
				t.Fatalf("%+v: %v", a, err)
			}
			return
		}
		written++
		if err := os.WriteFile(path, data, 0o644); err != nil {
			t.Fatal(err)
		}
		f, err := config.Load(path, config.WithoutEnvironment())
		if err != nil {
			t.Fatalf("%v\n%s", err, data)
		}
		for i, p := range f.Paddocks {
			if want := strings.Join(strings.Fields(a.Paddocks[i].Name), " "); p.Name != want {
				t.Fatalf("paddock %q came back as %q", want, p.Name)
			}
		}
		if want := strings.Join(strings.Fields(a.People[0].Name), " "); f.Contacts[0].Name != want {
			t.Fatalf("person %q came back as %q", want, f.Contacts[0].Name)
		}
	})
	if written == 0 || refused == 0 {
		t.Errorf("%d written, %d refused: the names drawn prove nothing", written, refused)
	}
}
