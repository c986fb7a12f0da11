package daemon

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"stubbled/cmd/stubbled/internal/farmtest"
	"stubbled/notify"
	"stubbled/notify/console"
	"stubbled/scheduler/ladder"
	"stubbled/store"
	"stubbled/store/disk"
)

func TestAMailboxThatFailsIsToldWhileTextsComeIn(t *testing.T) {
	o := newOffice(t, farmtest.File(t, farmtest.Text), "2026-08-22 12:00")
	o.turn("2026-08-22 12:00")
	mail, texts := o.d.receiverFails("email"), o.d.receiverFails("sms")
	mail(errors.New("the mailbox wants another password")) // told once, as it begins
	if got := o.turn("2026-08-22 12:02"); strings.Contains(got, "answers are not coming in") {
		t.Errorf("for a mailbox that blinks it says\n%s", got)
	}
	texts(nil)
	if got := o.turn("2026-08-22 12:10"); strings.Count(got, "answers are not coming in") != 1 {
		t.Errorf("it says\n%s", got)
	}
	texts(nil)
	if got := o.turn("2026-08-22 14:10"); strings.Contains(got, "answers are not coming in") {
		t.Errorf("once more it says\n%s", got)
	}
	if line := o.d.state.line(nil); line != "something fails: replies-down; the mailbox wants another password" {
		t.Errorf("the status is %q", line)
	}
	if w := o.d.state.wellbeing(); w.OK {
		t.Error("the health socket says that all is well")
	}
	mail(nil)
	o.turn("2026-08-22 14:11")
	if w := o.d.state.wellbeing(); !w.OK {
		t.Errorf("mended, the health socket says %+v", w)
	}
}

func TestASecretThatCannotBeReadStopsOnlyItsCarrier(t *testing.T) {
	const mail = `
carriers:
  email:
    from: farm@example.org
    smtp: {host: localhost, user: farm, password_file: gone}
`
	o := newOffice(t, farmtest.File(t, strings.Replace(farmtest.Text, `phone: "+15555550142"`, `phone: "+15555550142", email: ana@example.org`, 1)+mail), "2026-08-22 12:00")
	if got := o.turn("2026-08-22 12:00") + o.turn("2026-08-22 12:01"); !strings.Contains(got, "mail is not going out") || !strings.Contains(got, "to Ana") {
		t.Errorf("it says\n%s", got)
	}
	o.says("Ana", "creek 9 8 10")
	if got := o.turn("2026-08-22 12:05"); !strings.Contains(got, "GO Creek Bottom") {
		t.Errorf("to a text it says\n%s", got)
	}
	startedByManager(t)
	if o.d.linksChanged() {
		t.Error("the secret is not there yet")
	}
	if err := os.WriteFile(filepath.Join(filepath.Dir(o.d.farm.Load().File), "gone"), []byte("opensesame\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if !o.d.linksChanged() {
		t.Error("the secret is there, and nobody starts the daemon anew")
	}
}

// The service has a new password from now on, and an hour later it is in its file.
func TestATextWaitsForTheServicesNewPassword(t *testing.T) {
	password, took := "old", []string{}
	service := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Header.Get("Authorization") != "Bearer "+password {
			w.WriteHeader(http.StatusUnauthorized)
			return
		}
		took = append(took, r.PostFormValue("text"))
	}))
	defer service.Close()
	file := farmtest.File(t, farmtest.Text+`carriers: {sms: {via: http, http: {url: "`+service.URL+
		`", success: [200], rate: 100 per second, auth: {kind: bearer, secret_file: key}, fields: {to: "{{.To}}", text: "{{.Text}}"}}}}`+"\n")
	secret := filepath.Join(filepath.Dir(file), "key")
	put := func(data string) {
		if err := os.WriteFile(secret, []byte(data), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	put("old")
	o := newOffice(t, file, "2026-08-22 12:00")
	o.turn("2026-08-22 12:00")
	greeted := len(took)
	password = "new"
	o.says("Ana", "status creek")
	for _, at := range []string{"2026-08-22 12:05", "2026-08-22 12:30", "2026-08-22 13:00"} {
		o.turn(at)
	}
	if greeted == 0 || len(took) != greeted {
		t.Fatalf("with the old password the service took %q, then %q", took[:greeted], took[greeted:])
	}
	put("new\n")
	for _, at := range []string{"2026-08-22 13:20", "2026-08-22 14:30", "2026-08-22 15:30"} {
		o.turn(at)
	}
	if got := strings.Join(took[greeted:], "\n"); strings.Count(got, "Creek Bottom") != 1 {
		t.Errorf("with the new one it took\n%s", got)
	}
}

func TestAReceiverThatEndsIsToldAndStartedAgain(t *testing.T) {
	o := newOffice(t, farmtest.File(t, farmtest.Text), "2026-08-22 12:00")
	for name, run := range map[string]func() error{
		"by a fault of the program": func() error { panic("index out of range") },
		"since it cannot read":      func() error { return errors.New("the disk does not read") },
		"without a word":            func() error { return nil },
	} {
		ctx, stop := context.WithCancel(t.Context())
		starts, told := 0, 0
		o.d.keepUp(ctx, "email", time.Millisecond, func(error) { told++ }, func() error {
			if starts++; starts == 3 {
				stop()
			}
			return run()
		})
		if starts != 3 || told != 2 {
			t.Errorf("ended %s: started %d times, told %d times", name, starts, told)
		}
	}
}

// At night the power comes back and the log of the last writes is gone.
func TestALossAtTheLastEndIsToldInTheMorning(t *testing.T) {
	file := farmtest.File(t, farmtest.Text)
	o := newOffice(t, file, "2026-08-22 12:00")
	o.turn("2026-08-22 12:00")
	dir := t.TempDir() // what a power cut leaves, less the log
	for _, end := range []string{"", ".lock"} {
		data, err := os.ReadFile(filepath.Join(filepath.Dir(file), "stubbled.db"+end))
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, "stubbled.db"+end), data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.WriteFile(filepath.Join(dir, "farm.yaml"), []byte(farmtest.Text), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, at := range []string{"2026-08-23 02:00", "2026-08-23 03:00"} { // and the power flickers once more
		o = newOffice(t, filepath.Join(dir, "farm.yaml"), at)
		if got := o.turn(at); strings.Contains(got, "to Ana") {
			t.Errorf("at night it says\n%s", got)
		}
		if at == "2026-08-23 02:00" {
			o.turn("2026-08-23 02:01")
			stopped, stop := context.WithCancel(t.Context())
			stop() // the service is stopped in the middle of a turn
			o.d.Turn(stopped)
			o.d.store.Close()
		}
	}
	if got := o.turn("2026-08-23 06:35") + o.turn("2026-08-23 06:36"); !strings.Contains(got, "lost its latest notes") {
		t.Errorf("in the morning it says\n%s", got)
	}
	o.turn("2026-08-23 06:37")
	if got := o.turn("2026-08-24 12:00"); strings.Contains(got, "lost its latest notes") || !o.d.state.wellbeing().OK {
		t.Errorf("a day later it says\n%s", got)
	}
}

// A bit of the diary turned while the machine was dark.
func TestADamagedFactIsLeftOutAndTold(t *testing.T) {
	file := farmtest.File(t, farmtest.Text)
	o := newOffice(t, file, "2026-08-22 12:00")
	o.says("Ana", "off creek")
	o.turn("2026-08-22 12:00")
	o.d.store.Close()
	db, err := sql.Open("sqlite", "file:"+o.d.DB)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if _, err := db.Exec(`DROP TRIGGER facts_stay; UPDATE facts SET paddock = 'north40'`); err != nil {
		t.Fatal(err)
	}
	o = newOffice(t, file, "2026-08-22 12:01")
	got := o.turn("2026-08-22 12:01") + o.turn("2026-08-22 12:02")
	if !strings.Contains(got, "an entry of the diary is damaged") || !strings.Contains(got, "to Ana") {
		t.Errorf("it says\n%s", got)
	}
	if line := o.d.state.line(nil); !strings.Contains(line, "fact 1 ") || !strings.Contains(line, "text again") {
		t.Errorf("the status is %q", line)
	}
	o.says("Ana", "status creek")
	if got := o.turn("2026-08-22 12:03"); !strings.Contains(got, "Creek") {
		t.Errorf("to a text it says\n%s", got)
	}
	if got := o.turn("2026-08-22 14:03"); strings.Contains(got, "damaged") {
		t.Errorf("once more it says\n%s", got)
	}
}

func TestAContactAddedToTheFarmFileIsHeardAtOnce(t *testing.T) {
	file := farmtest.File(t, farmtest.Text)
	o := newOffice(t, file, "2026-08-22 12:00")
	o.turn("2026-08-22 12:00")
	i := slices.IndexFunc(o.d.links.Receivers, func(r notify.Receiver) bool { _, ok := r.(console.Lines); return ok })
	lines := o.d.links.Receivers[i].(console.Lines)
	if _, known := lines.Address("Rosa"); known {
		t.Fatal("Rosa is known already")
	}
	if err := os.WriteFile(file, []byte(farmtest.Text+`  - {name: Rosa, role: helper, phone: "+15555550145", language: es}`+"\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	o.turn("2026-08-22 12:01")
	if _, known := lines.Address("Rosa"); !known {
		t.Error("Rosa is not known")
	}
}

func TestANightlyCopyThatFailsIsTriedAgainAndTold(t *testing.T) {
	file := farmtest.File(t, farmtest.Text)
	dir := filepath.Join(filepath.Dir(file), "backups")
	if err := os.WriteFile(dir, []byte("in the way"), 0o600); err != nil {
		t.Fatal(err)
	}
	o := newOffice(t, file, "2026-08-22 12:00")
	o.turn("2026-08-22 12:00")
	o.turn("2026-08-22 13:01")
	if got := o.turn("2026-08-22 13:07"); !strings.Contains(got, "Make a backup") {
		t.Errorf("it says\n%s", got)
	}
	if err := os.Remove(dir); err != nil {
		t.Fatal(err)
	}
	o.turn("2026-08-22 14:05")
	o.turn("2026-08-22 14:06")
	if w := o.d.state.wellbeing(); !w.OK || w.Backup != "2026-08-22" {
		t.Errorf("mended, the health socket says %+v", w)
	}
}

func TestAJournalHoldsNoWholeNumber(t *testing.T) {
	o := newOffice(t, farmtest.File(t, farmtest.Text), "2026-08-22 12:00")
	Logger(&o.screen).Warn("look at the farm file", "problem", errors.New("contacts[0].phone: +15555550142 is in no numbering table"), "phone", "1 555 555 0143",
		"err", errors.New("ana@example.org was refused"))
	if got := o.screen.String(); strings.Contains(got, "555") || !strings.Contains(got, "...42") || strings.Contains(got, "ana@") {
		t.Errorf("it holds %s", got)
	}
}

func TestAServiceThatOnlyPrintsItsTextsIsNotWell(t *testing.T) {
	service := httptest.NewServer(http.HandlerFunc(func(http.ResponseWriter, *http.Request) {}))
	defer service.Close()
	provider := `carriers: {sms: {via: http, http: {url: "` + service.URL + `", success: [200], fields: {to: "{{.To}}", text: "{{.Text}}"}}}}` + "\n"
	mailbox := strings.Replace(farmtest.Text, "language: en, quiet", "email: ana@example.org, language: en, quiet", 1)
	for name, c := range map[string]struct {
		text    string
		service bool
		says    string
	}{
		"no carriers":                {farmtest.Text, true, "something fails: sms-down; texts are only printed into the journal: write carriers.sms"},
		"and somebody has a mailbox": {mailbox + provider, true, "something fails: mail-down; mail is only printed into the journal: write carriers.email"},
		"nobody has a mailbox":       {farmtest.Text + provider, true, "all is well"},
		"typed by a person":          {farmtest.Text, false, "all is well"},
	} {
		t.Run(name, func(t *testing.T) {
			if c.service {
				startedByManager(t)
			}
			o := newOffice(t, farmtest.File(t, c.text), "2026-08-22 12:00")
			o.turn("2026-08-22 12:00")
			got := o.d.state.line(nil)
			if ok := o.d.state.wellbeing().OK; !strings.HasPrefix(got, c.says) || ok != (c.says == "all is well") {
				t.Errorf("it is well: %t, and says %q, want %q", ok, got, c.says)
			}
		})
	}
}

// The marks are those of sd-daemon(3); a terminal that only inherited the
// variable sees none.
func TestTheJournalIsToldHowGraveALineIs(t *testing.T) {
	var s syscall.Stat_t
	if err := syscall.Fstat(int(os.Stderr.Fd()), &s); err != nil {
		t.Fatal(err)
	}
	refused := errors.New("farm.yaml:3: want a name\nfarm.yaml:9: want a unit")
	for stream, want := range map[string][]string{
		fmt.Sprintf("%d:%d", s.Dev, s.Ino): {"<4>level=WARN msg=\"look at the farm file\"", "<3>level=ERROR msg=disk", "<6>level=INFO msg=sent", "<3>stubbled: farm.yaml:3: want a name\n<3>farm.yaml:9"},
		"1:1":                              {"level=WARN", "level=ERROR", "level=INFO", "stubbled: farm.yaml:3: want a name\nfarm.yaml:9"},
	} {
		t.Setenv("JOURNAL_STREAM", stream)
		var b strings.Builder
		l := Logger(&b).With("of", "a test")
		l.Warn("look at the farm file", "msg", "level=ERROR")
		l.Error("disk")
		l.Info("sent")
		fmt.Fprintln(&b, LastWords(refused))
		for _, w := range want {
			if !strings.Contains(b.String(), w) {
				t.Errorf("no %q in\n%s", w, b.String())
			}
		}
		if marked := strings.Contains(b.String(), "<"); marked != (stream != "1:1") {
			t.Errorf("marked %t:\n%s", marked, b.String())
		}
	}
}

// A brittle store is one on which the pass falls over a fault of the program.
type brittle struct{ *store.Store }

func (brittle) Update(context.Context, time.Time, func(*store.Tx) error) error {
	panic("index out of range")
}

// On a clumsy one the courier does.
type clumsy struct{ *store.Store }

func (clumsy) Claim(context.Context, time.Time, store.ClaimFor, func(*store.Envelope) error) ([]*store.Message, error) {
	panic("index out of range")
}

// A carrier that falls over its first message only.
type stumbling struct {
	notify.Carrier
	fell bool
}

func (s *stumbling) Deliver(ctx context.Context, e notify.Envelope) notify.Outcome {
	if !s.fell {
		s.fell = true
		panic("index out of range")
	}
	return s.Carrier.Deliver(ctx, e)
}

func TestAMessageOverWhichACarrierFellIsNotForgotten(t *testing.T) {
	o := newOffice(t, farmtest.File(t, farmtest.Text), "2026-08-22 06:00")
	for i, c := range o.d.links.Carriers {
		if c.Medium() == ladder.Text {
			o.d.links.Carriers[i] = &stumbling{Carrier: c}
		}
	}
	o.d.store.Close()
	if err := o.d.open(t.Context()); err != nil {
		t.Fatal(err)
	}
	o.turn("2026-08-22 07:00")
	o.turn("2026-08-22 07:05")
	unsaid, err := o.d.store.NotSaid(t.Context(), o.clock.Time.AddDate(0, 0, -1))
	if err != nil || len(unsaid) != 1 || !strings.Contains(unsaid[0].Why, "a fault of the program") {
		t.Errorf("it may have been said, and nobody knows: %+v, %v", unsaid, err)
	}
}

func TestAFaultOfTheProgramIsToldAndNotEndedBy(t *testing.T) {
	for name, through := range map[string]func(*store.Store) Store{
		"in a pass":      func(s *store.Store) Store { return brittle{s} },
		"with a message": func(s *store.Store) Store { return clumsy{s} },
	} {
		t.Run(name, func(t *testing.T) { faultOfTheProgram(t, through) })
	}
}

func faultOfTheProgram(t *testing.T, through func(*store.Store) Store) {
	manager := startedByManager(t)
	o := newOffice(t, farmtest.File(t, farmtest.Text), "2026-08-22 12:00")
	o.turn("2026-08-22 12:00")
	o.d.Through = through
	o.d.store.Close()
	if err := o.d.open(t.Context()); err != nil {
		t.Fatal(err)
	}
	o.screen.Reset()
	told, fed := manager.soFar(t, "STATUS="), 0
	const minutes = 20
	for i := range minutes {
		o.clock.Time = o.clock.Time.Add(time.Minute)
		if err := o.d.Turn(t.Context()); err == nil || !strings.Contains(err.Error(), "a fault of the program: index out of range") {
			t.Fatal(err)
		}
		if i == minutes/2 {
			fed = manager.soFar(t, "WATCHDOG")
		}
	}
	if got := o.screen.String(); strings.Count(got, "stubbled cannot do its work") != 1 {
		t.Errorf("it says\n%s", got)
	}
	if n := manager.soFar(t, "STATUS=") - told; n != minutes {
		t.Errorf("the status tells it %d times", n)
	}
	if n := manager.soFar(t, "WATCHDOG"); n != fed { // a new start may mend it
		t.Errorf("after ten minutes the watchdog is still fed: %d times, then %d", fed, n)
	}
}

func TestTheAlarmSaysTheMendOfItsFault(t *testing.T) {
	for _, c := range []struct {
		err  error
		want string
	}{
		{disk.ErrFull, ladder.AlarmDisk}, {disk.ErrReadOnly, ladder.AlarmDisk}, {disk.ErrIO, ladder.AlarmDisk},
		{disk.ErrDamaged, ladder.AlarmDatabase}, {disk.ErrNotOurs, ladder.AlarmDatabase},
		// Nobody shall put a backup back for these.
		{disk.ErrNewer, ladder.AlarmStuck}, {disk.ErrBusy, ladder.AlarmStuck}, {errors.New("index out of range"), ladder.AlarmStuck},
	} {
		if got := storeFault(fmt.Errorf("write: %w", c.err)); got != c.want {
			t.Errorf("%v is told as %s, want %s", c.err, got, c.want)
		}
	}
}
