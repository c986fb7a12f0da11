package daemon

import (
	"bytes"
	"io"
	"log/slog"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/cmd/stubbled/carriers"
	"stubbled/cmd/stubbled/internal/farmtest"
	"stubbled/config"
	"stubbled/notify"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
)

// An office is one daemon that the test turns by hand.
type office struct {
	t      *testing.T
	d      *Daemon
	clock  *farmtest.Clock
	screen bytes.Buffer
	zone   *time.Location
}

func newOffice(t *testing.T, farmFile, at string) *office {
	t.Helper()
	farm, err := config.Load(farmFile)
	if err != nil {
		t.Fatal(err)
	}
	o := &office{t: t, clock: &farmtest.Clock{}, zone: farm.Zone}
	o.clock.Time = o.when(at)
	if o.d, err = Open(t.Context(), optionsOf(farm, &o.screen, o.clock)); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { o.d.store.Close() })
	o.d.watcher = config.NewWatcher(farm)
	return o
}

// optionsOf is a daemon's on a farm, with its database beside the farm file.
func optionsOf(farm *config.Farm, screen io.Writer, clock Clock) Options {
	return Options{
		Farm: farm, DB: filepath.Join(filepath.Dir(farm.File), "stubbled.db"), In: strings.NewReader(""), Out: screen, Clock: clock,
		Log: slog.New(slog.DiscardHandler),
	}
}

func (o *office) when(text string) time.Time {
	at, err := time.ParseInLocation("2006-01-02 15:04", text, o.zone)
	if err != nil {
		o.t.Fatal(err)
	}
	return at
}

// turn lets the daemon turn once at a time and gives what it said.
func (o *office) turn(at string) string {
	o.t.Helper()
	o.clock.Time = o.when(at)
	o.screen.Reset()
	if err := o.d.Turn(o.t.Context()); err != nil {
		o.t.Fatal(err)
	}
	return o.screen.String()
}

// says is a text from somebody's phone.
func (o *office) says(name, text string) {
	o.t.Helper()
	address, _ := carriers.Address(o.d.farm.Load(), name)
	accept := o.d.courier.Accept("console", o.clock.Now)
	got := notify.Received{ID: o.clock.Time.String() + text, From: address, Text: text, Sent: o.clock.Time}
	if err := accept(o.t.Context(), []notify.Received{got}, ""); err != nil {
		o.t.Fatal(err)
	}
}

func TestABrokenEditLeavesTheOldFarmInForceAndIsToldOnce(t *testing.T) {
	file := farmtest.File(t, farmtest.Text)
	o := newOffice(t, file, "2026-08-22 07:00")
	o.turn("2026-08-22 07:00")
	if err := os.WriteFile(file, []byte(strings.Replace(farmtest.Text, "area: 22 acres", "area: 22", 1)), 0o600); err != nil {
		t.Fatal(err)
	}
	first := o.turn("2026-08-22 09:00")
	if !strings.Contains(first, "farm file") && !strings.Contains(first, "Farm file") {
		t.Errorf("the manager was not told:\n%s", first)
	}
	if again := o.turn("2026-08-22 09:01") + o.turn("2026-08-22 12:00"); strings.Contains(strings.ToLower(again), "farm file") {
		t.Errorf("told again:\n%s", again)
	}
	o.says("Ana", "creek 9 8 10")
	if got := o.turn("2026-08-22 12:05"); !strings.Contains(got, "GO Creek Bottom") {
		t.Errorf("the old farm is not in force:\n%s", got)
	}
	if err := os.WriteFile(file, []byte(strings.Replace(farmtest.Text, "area: 22 acres", "area: 25 acres", 1)), 0o600); err != nil {
		t.Fatal(err)
	}
	o.turn("2026-08-22 13:00")
	if p, _ := o.d.farm.Load().Paddock("creek"); p.Acres != 25 {
		t.Errorf("the mended farm file was not taken: %g acres", p.Acres)
	}
}

func TestACutoffMovedInTheFarmFileIsSaidFirst(t *testing.T) {
	file := farmtest.File(t, farmtest.Text)
	o := newOffice(t, file, "2026-08-22 07:00")
	o.turn("2026-08-22 07:00")
	if err := os.WriteFile(file, []byte(strings.Replace(farmtest.Text, "date: 10-16", "date: 10-19", 1)), 0o600); err != nil {
		t.Fatal(err)
	}
	if got := o.turn("2026-08-26 07:00"); !strings.Contains(got, "Cutoff is now Sep 4 (was Sep 1)") {
		t.Errorf("the change is not told first:\n%s", got)
	}
}

func TestAThermometersFrostReachesThePhoneWhereAnimalsStand(t *testing.T) {
	o := newOffice(t, farmtest.File(t, farmtest.Text), "2026-09-25 07:00")
	o.says("Ana", "moved cows from creek to lane")
	o.turn("2026-09-25 07:00")
	night := o.when("2026-09-26 05:40")
	o.clock.Time = night
	if err := o.d.observe(t.Context(), []diary.Observation{{Source: diary.FromThermometer, Place: "barn", At: night, MinC: 1.4}}); err != nil {
		t.Fatal(err)
	}
	if early := o.turn("2026-09-26 05:41"); strings.Contains(early, "OFF Lane") {
		t.Errorf("a minimum that may still fall was taken for final:\n%s", early)
	}
	if got := o.turn("2026-09-26 08:00"); !strings.Contains(got, "TAKE THEM OFF Lane now") {
		t.Errorf("nobody was told of the frost:\n%s", got)
	}
}

func TestAForecastOfFrostGoesOutBeforeDark(t *testing.T) {
	o := newOffice(t, farmtest.File(t, farmtest.Text), "2026-09-25 07:00")
	o.says("Ana", "moved cows from creek to lane")
	o.turn("2026-09-25 07:00")
	o.clock.Time = o.when("2026-09-25 15:00")
	dawn := o.when("2026-09-26 07:00")
	if err := o.d.observe(t.Context(), []diary.Observation{
		{Source: diary.FromService, Place: "KQQF", At: dawn, Day: civil.DateOf(dawn), MinC: 1.1, Forecast: true, Issued: o.clock.Time},
	}); err != nil {
		t.Fatal(err)
	}
	got := o.turn("2026-09-25 15:00")
	if !strings.Contains(got, "OFF Lane before dark") || strings.Count(got, "to Ana") != 1 {
		t.Errorf("the warning:\n%s", got)
	}
	o.says("Ana", "off lane")
	if again := o.turn("2026-09-25 16:00"); strings.Contains(again, "before dark") {
		t.Errorf("warned of an empty paddock:\n%s", again)
	}
}

func TestACarrierThatFailsIsToldOverAnother(t *testing.T) {
	o := newOffice(t, farmtest.File(t, strings.Replace(farmtest.Text, `phone: "+15555550142"`, `phone: "+15555550142", email: ana@example.org`, 1)), "2026-08-22 12:00")
	o.turn("2026-08-22 12:00")
	o.d.sched.Fails(ladder.AlarmSMSDown, ladder.Text, "the modem has no signal: move the antenna", o.clock.Time)
	got := o.turn("2026-08-22 12:10")
	if !strings.Contains(got, "to Ana (mail)") {
		t.Errorf("no mail about the texts that fail:\n%s", got)
	}
}

func TestHealthIsToldToMachines(t *testing.T) {
	o := newOffice(t, farmtest.File(t, farmtest.Text), "2026-08-22 12:00")
	o.turn("2026-08-22 12:00")
	if w := o.d.state.wellbeing(); !w.OK {
		t.Errorf("a well daemon says %+v", w)
	}
	o.clock.Time = o.clock.Time.Add(10 * time.Minute)
	if w := o.d.state.wellbeing(); w.OK {
		t.Error("a daemon that made no pass for ten minutes says it is well")
	}
}

// The farm file was copied from another farm's machine, or edited in a hurry.
func TestAFarmFileOfAnotherNameIsToldAndTheOldOneStays(t *testing.T) {
	file := farmtest.File(t, farmtest.Text)
	o := newOffice(t, file, "2026-08-22 12:00")
	o.turn("2026-08-22 12:00")
	write := func(text string) {
		t.Helper()
		if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	other := strings.Replace(farmtest.Text, "name: Quail Fork", "name: Bar Seven", 1)
	write(other)
	o.turn("2026-08-22 12:01")
	if o.d.farm.Load().Name != "Quail Fork" || o.d.state.wellbeing().OK {
		t.Errorf("the farm in force is %s, and all is said to be well: %v", o.d.farm.Load().Name, o.d.state.wellbeing().OK)
	}
	write(strings.Replace(other, "name: Bar Seven", "name: Bar Seven, was: Quail Fork", 1))
	o.turn("2026-08-22 12:02")
	if o.d.farm.Load().Name != "Bar Seven" || !o.d.state.wellbeing().OK {
		t.Errorf("renamed, the farm in force is %s: %s", o.d.farm.Load().Name, o.d.state.line(nil))
	}
	o.d.store.Close()
	write(farmtest.Text)
	farm, err := config.Load(file)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Open(t.Context(), optionsOf(farm, &o.screen, o.clock)); err == nil || !strings.Contains(err.Error(), `"Bar Seven"`) || !strings.Contains(err.Error(), `"Quail Fork"`) {
		t.Errorf("by the old name: %v", err)
	}
}

func TestOtherCarriersAreTakenUpByANewStartOfTheService(t *testing.T) {
	t.Setenv("NOTIFY_SOCKET", filepath.Join(t.TempDir(), "notify"))
	file := farmtest.File(t, farmtest.Text)
	o := newOffice(t, file, "2026-08-22 07:00")
	o.turn("2026-08-22 07:00")
	edited := func(to string) bool {
		if err := os.WriteFile(file, []byte(to), 0o600); err != nil {
			t.Fatal(err)
		}
		o.turn("2026-08-22 07:01")
		return o.d.linksChanged()
	}
	if edited(strings.Replace(farmtest.Text, "area: 22 acres", "area: 25 acres", 1)) {
		t.Error("another size of a paddock ends the daemon")
	}
	if edited(farmtest.Text + "carriers: {sms: {via: pigeon}}\n") {
		t.Error("a slip in the carriers ends the daemon")
	}
	if !edited(farmtest.Text + "carriers: {sms: {via: spool, spool: {dir: " + filepath.Dir(file) + "}}}\n") {
		t.Error("texts by another way, and the daemon goes on as before")
	}
}
