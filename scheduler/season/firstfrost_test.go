package season

import (
	"testing"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
)

// A frost that the station's file had, and that was taken back because the
// instrument was wrong, ended no growth.
func TestAnInstrumentsErrorEndsNoGrowth(t *testing.T) {
	p := newPlay(t)
	p.onStation(append(sevenFalls, fall{2025, "10-20"})...)
	wrong := frost.Day{Date: day("2025-09-10"), Min: frost.FromC(-5), Max: frost.FromC(25), Rain: 0}
	r := *p.farm.Plan.Record
	p.air = (&frost.Record{}).With(wrong).With(daysOf(&r, "2025-05-01", "2025-12-31")...)
	id := p.freeze("2025-09-10", 23)
	creek := p.paddock("creek")
	if got := p.look("2025-11-20").firstFrost(creek, 2025); got != day("2025-09-10") {
		t.Fatalf("first frost %s", got)
	}
	p.takesBack(id)
	if got := p.look("2025-11-20").firstFrost(creek, 2025); got != day("2025-10-20") {
		t.Errorf("first frost %s, want Oct 20: that of Sep 10 was taken back", got)
	}
}

func daysOf(r *frost.Record, from, to string) []frost.Day {
	var days []frost.Day
	for d := day(from); !d.After(day(to)); d = d.AddDays(1) {
		days = append(days, r.Day(d))
	}
	return days
}

// A record that runs ahead of today, as in a rehearsal, ends no growth today.
func TestWhatIsStillToComeEndsNoGrowth(t *testing.T) {
	p := newPlay(t)
	p.onStation(append(sevenFalls, fall{2025, "10-20"})...)
	p.air = p.farm.Plan.Record
	if got := p.look("2025-10-20").firstFrost(p.paddock("creek"), 2025); !got.IsZero() {
		t.Errorf("first frost %s, and that night is not over", got)
	}
}

// A thermometer's frost is moved to the pocket as the station's is; what a
// person saw there is not.
func TestWhatWasMeasuredIsMovedToThePocket(t *testing.T) {
	p := newPlay(t)
	p.paddock("creek").FrostOffset = -5
	p.freeze("2025-10-12", 31)
	if got := p.look("2025-10-20").firstFrost(p.paddock("creek"), 2025); got != day("2025-10-07") {
		t.Errorf("first frost %s, want Oct 7", got)
	}
	p.tells("2025-10-05", diary.Frost, "creek")
	if got := p.look("2025-10-20").firstFrost(p.paddock("creek"), 2025); got != day("2025-10-05") {
		t.Errorf("first frost %s, want Oct 5", got)
	}
}

// A farm that plans on 28 F has not had its frost when somebody saw one.
func TestAPersonsFrostIsNoHardFreeze(t *testing.T) {
	p := newPlay(t)
	p.farm.Plan.Threshold = frost.KillingFreeze28F
	p.tells("2025-10-05", diary.Frost, "")
	if got := p.look("2025-10-20").firstFrost(p.paddock("creek"), 2025); !got.IsZero() {
		t.Errorf("first frost %s", got)
	}
}

// A person's frost counts only on a night that the station has no minimum of.
func TestTheStationKnowsItsOwnNights(t *testing.T) {
	p := newPlay(t)
	p.onStation(append(sevenFalls, fall{2025, "10-20"})...)
	p.air = p.farm.Plan.Record.Before(day("2025-10-10"))
	creek := p.paddock("creek")
	p.tells("2025-10-05", diary.Frost, "")
	if got := p.look("2025-10-10").firstFrost(creek, 2025); !got.IsZero() {
		t.Errorf("first frost %s, and the station had 15 C that night", got)
	}
	p.tells("2025-10-12", diary.Frost, "")
	if got := p.look("2025-10-13").firstFrost(creek, 2025); got != day("2025-10-12") {
		t.Errorf("first frost %s, want Oct 12: the station has nothing of it", got)
	}
}
