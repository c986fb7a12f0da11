package settings

import (
	"reflect"
	"strings"
	"testing"
	"time"
)

// pump is a settings file that has nothing to do with a farm.
type pump struct {
	Name  string        `key:"name" missing:"what it is called, such as name: north"`
	Every time.Duration `key:"every" as:"span" in:"1 s..1 hour" default:"1 min"`
	Motor struct {
		maker `default:"make: Acme" missing:"year: when it was built, such as year: 1998"`
		Key   Secret `prefix:"key_"`
	} `key:"motor"`
	Valves []struct {
		Size int  `key:"size" as:"number" in:"1..9"`
		Open bool `key:"open" as:"yes or no" default:"true"`
	} `key:"valves"`
	Labels map[string]string `key:"labels" as:"one of" in:"red blue"`
	judged bool
}

type maker struct {
	Make string `key:"make"`
	Year int    `key:"year" as:"number" in:"1900..2199"`
}

func (p *pump) Judge(r *Reading, e *Entry) {
	p.judged = true
	if at := e.Get("every"); at.Said() && p.Every > time.Minute {
		r.Warn(at, "is rare")
	}
}

var pumpFile = Format{
	Name: "pump file", Sections: "name and motor", EnvPrefix: "PUMP_", NoSettings: []string{"PUMP_NAMES"},
	Quoted: func(_, written string) string { return written },
}.For(reflect.TypeFor[pump]())

func read(text string) (*Reading, pump) {
	r := pumpFile.Read(Source{File: "pump.yaml", Environment: true}, []byte(text))
	var p pump
	r.Fill(r.Root, &p)
	return r, p
}

func TestASettingsFileIsReadByTheTagsOfAStruct(t *testing.T) {
	t.Setenv("PUMP_MOTOR_MAKE", "Other")
	r, p := read("name: north\nevery: 5 min\nmotor: {year: 1998, key_credential: pump}\nvalves: [{size: 2}, {size: 3, open: no}]\nlabels: {front: red}\n")
	if len(r.Problems) > 0 || !p.judged {
		t.Fatalf("%v, judged %t", r.Problems, p.judged)
	}
	if p.Name != "north" || p.Every != 5*time.Minute || p.Motor.Make != "Other" || p.Motor.Year != 1998 || p.Labels["front"] != "red" {
		t.Errorf("%+v", p)
	}
	if len(p.Valves) != 2 || !p.Valves[0].Open || p.Valves[1].Open || p.Valves[1].Size != 3 {
		t.Errorf("valves %+v", p.Valves)
	}
	if s := r.Secret(r.Root.Get("motor"), "key"); s.Credential != "pump" {
		t.Errorf("secret %v", s)
	}
	if got := r.Warnings.Error(); got != "pump.yaml:2: every: is rare" {
		t.Errorf("warned %q", got)
	}
	want := []Setting{
		{"name", "north", "pump.yaml:1"}, {"every", "5 min", "pump.yaml:2"}, {"motor.make", "Other", "PUMP_MOTOR_MAKE"},
		{"motor.year", "1998", "pump.yaml:3"}, {"motor.key_credential", "pump", "pump.yaml:3"},
	}
	if got := r.InForce(); !reflect.DeepEqual(got, want) {
		t.Errorf("in force %v", got)
	}
}

func TestADefaultOfAPartIsSaidWhereThePartStands(t *testing.T) {
	r, p := read("name: north\nmotor: {year: 1998}\n")
	if len(r.Problems) > 0 || p.Motor.Make != "Acme" || p.Every != time.Minute {
		t.Errorf("%+v, %v", p, r.Problems)
	}
}

func TestEverythingWrongIsToldAtOnceWithItsLine(t *testing.T) {
	t.Setenv("PUMP_EVRY", "1 min")
	t.Setenv("PUMP_NAMES", "x")
	r, _ := read("every: 5\nmotor:\n  mke: Acme\n  key: hunter2\nvalves: [{size: 12}]\n")
	got := r.Problems.InOrder(r.File).Error()
	for _, want := range []string{
		"pump.yaml:1: name: missing; what it is called",
		`pump.yaml:1: every: want a span of time`,
		"pump.yaml:2: motor.year: missing; when it was built",
		`pump.yaml:3: motor.mke: no such key; did you mean "make"?`,
		"pump.yaml:4: motor.key: secrets don't belong in the pump file; write key_file",
		`pump.yaml:5: valves[0].size: want 1 to 9, got "12"`,
	} {
		if !strings.Contains(got, want) {
			t.Errorf("got\n%s\nwant %s", got, want)
		}
	}
	if strings.Contains(got, "hunter2") {
		t.Errorf("a secret is said aloud:\n%s", got)
	}
	if got := r.Warnings.Error(); got != "PUMP_EVRY: sets nothing; did you mean PUMP_EVERY?" {
		t.Errorf("warned %q", got)
	}
}
