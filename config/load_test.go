package config_test

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/config"
	"stubbled/config/links"
	"stubbled/scheduler/frost"
	"stubbled/scheduler/grass"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

// written puts a farm file in a folder of its own and gives its path.
func written(t *testing.T, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "farm.yaml")
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// good is the complete farm file of testdata with some lines changed.
func good(t *testing.T, changes ...string) string {
	t.Helper()
	data, err := os.ReadFile("testdata/good/everything.yaml")
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	for i := 0; i+1 < len(changes); i += 2 {
		if !strings.Contains(text, changes[i]) {
			t.Fatalf("no %q to change", changes[i])
		}
		text = strings.Replace(text, changes[i], changes[i+1], 1)
	}
	return text
}

func load(t *testing.T, text string, options ...config.Option) *config.Farm {
	t.Helper()
	farm, err := config.Load(written(t, text), options...)
	if err != nil {
		t.Fatalf("refused:\n%v", err)
	}
	return farm
}

const least = `farm: {name: Small Place, timezone: America/New_York}
frost: {date: 10-20}
paddocks: [{id: hill, area: 9 ha, grass: sideoats grama}]
contacts: [{name: Ana, role: manager, email: ana@example.org}]
`

func TestTheLeastFarmFileTakesTheUsualRules(t *testing.T) {
	f := load(t, least)
	p := f.Paddocks[0]
	want := season.Rule{RestDays: 45, Leave: 4, AtFrost: 8, Min: 3, Begin: p.Grass.Begin.Value, Confidence: 0.8,
		EndsAt: frost.KillingFreeze28F, Spring: season.MonthDay{Month: 4, Day: 1}}
	if p.Rule != want {
		t.Errorf("rule %+v\nwant %+v", p.Rule, want)
	}
	if f.Rule.Leave != 8 || f.Rule.AtFrost != 18 || f.Rule.Min != 6 {
		t.Errorf("the farm's rule is %+v, want 8, 18 and 6 in", f.Rule)
	}
	if f.Morning != 6*60+30 || f.Cap != 3 || f.Units != config.Inches || f.Carriers.SMS.Via != links.Console || f.Carriers.Email != nil {
		t.Errorf("morning %d, cap %d, units %s, texts via %s, mail %v", f.Morning, f.Cap, f.Units, f.Carriers.SMS.Via, f.Carriers.Email)
	}
	if f.Plan.Threshold.String() != "32F" || f.Plan.Level != 0 || f.Plan.Hand == nil || f.Plan.Hand.Date != (season.MonthDay{Month: 10, Day: 20}) {
		t.Errorf("plan %+v", f.Plan)
	}
	if p.Soil != grass.Average || p.Stand != grass.Medium || p.Name != "hill" || f.Zone.String() != "America/New_York" {
		t.Errorf("soil %s, stand %s, name %q, zone %s", p.Soil, p.Stand, p.Name, f.Zone)
	}
	if len(f.Rungs) != len(ladder.DefaultRungs()) || f.Backup.At != 150 || f.Contacts[0].Language != "en" {
		t.Errorf("rungs %v, backup %+v, contacts %+v", f.Rungs, f.Backup, f.Contacts)
	}
	if len(f.Warnings) != 0 {
		t.Errorf("warnings: %v", f.Warnings)
	}
}

func TestEveryKeyOfTheContractLands(t *testing.T) {
	f := load(t, good(t))
	creek, north, lane := f.Paddocks[0], f.Paddocks[1], f.Paddocks[2]
	if creek.Acres != 22 || creek.Stand != grass.Dense || creek.Word() != "cb" || creek.Rule.RestDays != 45 {
		t.Errorf("creek: %+v", creek)
	}
	if north.Rule.RestDays != 60 || north.FrostOffset != -5 || north.Soil != grass.Dry || north.Rule.Leave != 8 {
		t.Errorf("north40: %+v", north)
	}
	if lane.Native() || len(lane.Hazards) != 1 || lane.OutBy != (season.MonthDay{Month: 11, Day: 15}) || lane.Rule.Spring.IsZero() {
		t.Errorf("lane: %+v", lane)
	}
	h := f.Herds[0]
	if h.Head != 38 || h.WeightLb != 1300 || h.Calving != time.March || h.Paddock != "creek" || !h.Kind.Calf {
		t.Errorf("herd: %+v", h)
	}
	ana, luis := f.Contacts[0], f.Contacts[1]
	if ana.Phone != "+15555550142" || ana.QuietHours.From != 21*60 || ana.QuietHours.To != 6*60 || luis.Language != "es" || luis.QuietHours != (ladder.QuietHours{}) {
		t.Errorf("contacts: %+v, %+v", ana, luis)
	}
	if len(f.FallUse) != 1 || f.FallUse[0] != (season.FallUse{Year: 2025, Paddock: "creek"}) {
		t.Errorf("fall use: %+v", f.FallUse)
	}
	if len(f.Rungs) != 2 || f.Rungs[1].Before != 0 || f.Rungs[1].AlsoBy[0] != ladder.Mail || f.Rungs[1].RepeatAfter != 4*time.Hour || f.Rungs[0].RepeatAfter != 0 {
		t.Errorf("rungs: %+v", f.Rungs)
	}
	if f.Plan.Hand.Spread != 10 {
		t.Errorf("plan: %+v", f.Plan.Hand)
	}
}

func TestFormsThatMeanTheSame(t *testing.T) {
	for name, c := range map[string][2]string{
		"kinds without commas":       {"kind: cow with calf", "kind: Cow With Calf"},
		"kinds by another word":      {"kind: cow with calf", "kind: pairs"},
		"grass in capitals":          {"grass: mixed natives", "grass: Mixed Natives"},
		"weeks for days":             {"days: 45 days", "days: 45d"},
		"roles in capitals":          {"role: manager", "role: Manager"},
		"a phone with spaces":        {`"+15555550142"`, `"+1 (555) 555-0142"`},
		"centimetres for inches":     {"leave: 8in", "leave: 20.32 cm"},
		"hectares for acres":         {"area: 30 acres", "area: 12.1405692 ha"},
		"kilograms for pounds":       {"weight: 1300 lb", "weight: 589.670081 kg"},
		"the default written out":    {"soil: average, ", ""},
		"a comment":                  {"herds:", "# who grazes\nherds:"},
		"a comment above a rule":     {"paddocks:", "# the ground\npaddocks:"},
		"keys in another order":      {"{id: creek, name: Creek Bottom, ", "{name: Creek Bottom, id: creek, "},
		"quotes":                     {"name: Creek Bottom", `name: "Creek Bottom"`},
		"an alias may equal its own": {"aliases: [cb]", "aliases: [cb]"},
	} {
		t.Run(name, func(t *testing.T) {
			if a, b := load(t, good(t)), load(t, good(t, c[0], c[1])); a.Digest != b.Digest {
				t.Errorf("%q and %q have digests %s and %s", c[0], c[1], a.Digest, b.Digest)
			}
		})
	}
}

func TestEveryChangeOfMeaningShowsInTheDigest(t *testing.T) {
	seen := map[string]string{load(t, good(t)).Digest: "unchanged"}
	for _, c := range [][2]string{
		{"leave: 8in", "leave: 9in"}, {"days: 60 days", "days: 61 days"}, {"Creek Bottom", "Creek Top"}, {"[cb]", "[ck]"}, {"soil: dry", "soil: moist"},
		{"stand: dense", "stand: thin"}, {"head: 38", "head: 39"}, {"spread: 10 days", "spread: 9 days"}, {"plan_on: average", "plan_on: 20%"},
		{"0142", "0149"}, {"language: es", "language: en"}, {"quiet: 21:00-06:00", "quiet: 21:00-06:30"}, {"year: 2025", "year: 2024"},
		{"confidence: 80%", "confidence: 75%"}, {"[johnsongrass]", "[shattercane]"}, {"11-15", "11-16"}, {"America/Chicago", "America/Denver"},
		{"inches", "centimetres"}, {"06:30", "06:45"}, {"before: 10 days", "before: 11 days"}, {"ends_at: 28F", "ends_at: 24F"},
		{"{id: lane,", "{id: lane, was: strip,"}, {"name: Quail Fork", "name: Quail Fork, was: Quail Branch"}, {"calving: march", "calving: april"}, {"threshold: 32F", "threshold: 36F"},
	} {
		d := load(t, good(t, c[0], c[1])).Digest
		if was, same := seen[d]; same {
			t.Errorf("%q to %q has the digest of %s", c[0], c[1], was)
		}
		seen[d] = c[1]
	}
}

func TestWhatIsOddButAllowedIsAWarning(t *testing.T) {
	for name, c := range map[string]struct{ from, to, want string }{
		"leaving as much as is wanted at frost": {"leave: 8in", "leave: 18in", "rest would have nothing to do"},
		"leaving less than spares the plant":    {"leave: 8in", "leave: 4in", "growing point"},
		"more than the grass can grow":          {"at_frost: 18in", "at_frost: 60in", "hardly grows above"},
		"a rule of tall grass on a short one":   {"grass: mixed natives", "grass: little bluestem", "12 in is usual for little bluestem"},
		"no manager":                            {"role: manager, phone", "role: owner, phone", "nobody has the role manager"},
		"a number in no table":                  {"", "", "in no numbering table"},
		"a premium-rate number":                 {"+15555550142", "+19005550123", "premium-rate number"},
		"a satellite phone":                     {"+15555550142", "+881655550123", "satellite"},
		"one address for two":                   {"language: es", "language: es, email: Ana@example.org", "also the address of another contact"},
		"a name that ends in a height":          {"name: Lane", "name: Creek 9", "never a height in Creek Bottom"},
		"a name that is a number word":          {"id: lane", "id: nine", "also reads as a height"},
		"no rung on the day itself":             {"before: 0 days", "before: 1 day", "nobody is told on the day of cutoff"},
		"a level without a spread":              {"spread: 10 days, threshold: 32F, plan_on: average", "plan_on: 20%", "has no spread"},
		"more fall use than is sensible":        {"{year: 2025, paddock: creek}", "{year: 2025, paddock: creek}, {year: 2025, paddock: north40}", "are sensible on this farm"},
		"an id that is long to text":            {"id: lane, name: Lane", "id: lane_by_the_road, name: Lane", "long to text"},
	} {
		t.Run(name, func(t *testing.T) {
			text := good(t)
			if c.from != "" {
				text = good(t, c.from, c.to)
			}
			if name == "no manager" {
				text = strings.ReplaceAll(text, "tell: [manager", "tell: [owner")
			}
			f := load(t, text)
			if !strings.Contains(f.Warnings.Error(), c.want) {
				t.Errorf("warnings are\n%v\nwant one with %q", f.Warnings, c.want)
			}
			for _, w := range f.Warnings {
				if w.Line == 0 || w.Key == "" {
					t.Errorf("no place: %v", w)
				}
			}
		})
	}
}

// The farm of the sample of texts must load: an id that is a number word, an
// alias that begins with a digit, aliases that equal their own name or id.
func TestOddButUsableNamesAreLetThrough(t *testing.T) {
	f := load(t, `farm: {name: Sample, timezone: America/Chicago}
frost: {date: 10-18}
paddocks:
  - {id: creek, name: Creek Bottom, aliases: [cb], area: 22 acres, grass: eastern gamagrass}
  - {id: north40, name: North 40, aliases: [n40], area: 40 acres, grass: mixed natives}
  - {id: hill, name: Hill, area: 20 acres, grass: big bluestem}
  - {id: p3, name: Pasture 3, aliases: [p3], area: 20 acres, grass: big bluestem}
  - {id: east, name: East Bluestem, aliases: [east, eb], area: 20 acres, grass: big bluestem}
  - {id: mill, name: Old Mill, aliases: [mill], area: 20 acres, grass: switchgrass}
  - {id: nine, name: Nine Oaks, aliases: [9 oaks], area: 20 acres, grass: indiangrass}
herds:
  - {id: cows, head: 38, kind: cow with calf}
  - {id: heifers, head: 22, kind: "cattle, 1 yr"}
contacts:
  - {name: Ana, role: manager, phone: "+15555550142"}
  - {name: Luis, role: helper, phone: "+15555550143", language: es}
  - {name: Ruth, role: owner, phone: "+15555550144"}
`)
	if len(f.Paddocks) != 7 || len(f.Herds) != 2 {
		t.Errorf("%d paddocks, %d herds", len(f.Paddocks), len(f.Herds))
	}
}

func TestAStationFileIsReadBesideTheFarmFile(t *testing.T) {
	dir := t.TempDir()
	for name, data := range map[string][]byte{"quail-fork.csv": config.ExampleStation(), "farm.yaml": config.Example()} {
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	f, err := config.Load(filepath.Join(dir, "farm.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	if f.Plan.Record == nil || f.Station != filepath.Join(dir, "quail-fork.csv") || f.Plan.Place != "Quail Fork" {
		t.Errorf("plan %+v from %q", f.Plan, f.Station)
	}
	demo, err := config.Demo()
	if err != nil {
		t.Fatal(err)
	}
	if demo.Digest != f.Digest {
		t.Error("the demo farm and its files on disk don't mean the same")
	}
	changed := bytes.Replace(config.ExampleStation(), []byte("1996-01-01,-18.4"), []byte("1996-01-01,-18.5"), 1)
	if err := os.WriteFile(filepath.Join(dir, "quail-fork.csv"), changed, 0o644); err != nil {
		t.Fatal(err)
	}
	if again, err := config.Load(filepath.Join(dir, "farm.yaml")); err != nil || again.Digest == f.Digest {
		t.Errorf("another temperature and the same digest (%v)", err)
	}
}

// Columns by other names, in degrees F, and a bad row that is only a warning.
func TestAStationMayNameItsColumnsDifferently(t *testing.T) {
	var csv strings.Builder
	csv.WriteString("day,low_f\n")
	for year := 2014; year < 2024; year++ {
		for d := (civil.Date{Year: year, Month: 8, Day: 1}); d.Month >= 8; d = d.AddDays(1) {
			low := "45.0"
			if d.Month > 10 || d.Month == 10 && d.Day >= 12 {
				low = "30.0"
			}
			csv.WriteString(d.String() + "," + low + "\n")
		}
	}
	csv.WriteString("2024-08-01,warm\n")
	path := written(t, good(t, "date: 10-18, spread: 10 days, ", "station: low.csv, columns: {date: day, tmin_f: low_f}, "))
	if err := os.WriteFile(filepath.Join(filepath.Dir(path), "low.csv"), []byte(csv.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	f, err := config.Load(path)
	if err != nil {
		t.Fatal(err)
	}
	mean, ok := f.Plan.Record.Distribution(f.Plan.Threshold, frost.Pick{}).Mean()
	if !ok || frost.MonthDay(mean) != "10-12" {
		t.Errorf("first frost on average %s, want 10-12", frost.MonthDay(mean))
	}
	if !strings.Contains(f.Warnings.Error(), "low.csv:1532: ") {
		t.Errorf("the bad row is not named: %v", f.Warnings)
	}
}
