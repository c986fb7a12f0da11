package season

import (
	"testing"
	"time"

	"stubbled/scheduler/diary"
)

// told writes a frost that was texted at an hour of the farm's clock.
func (p *play) told(at, of string) int64 {
	p.t.Helper()
	zone, err := time.LoadLocation("America/Chicago")
	if err != nil {
		p.t.Skip("no time zones here: ", err)
	}
	p.farm.Zone = zone
	when, err := time.ParseInLocation("2006-01-02 15:04", at, zone)
	if err != nil {
		p.t.Fatal(err)
	}
	return p.write(diary.Fact{Day: day(of), Kind: diary.Frost, At: when})
}

func TestTheNightThatATextSpeaksOf(t *testing.T) {
	for _, tc := range []struct{ name, at, of, night string }{
		{"frost, at seven in the morning: the night that has just ended", "2026-10-12 07:00", "2026-10-12", "2026-10-12"},
		{"frost last night, at seven: the same", "2026-10-12 07:00", "2026-10-11", "2026-10-12"},
		{"frost last night, at eleven in the evening: still the same", "2026-10-12 23:00", "2026-10-11", "2026-10-12"},
		{"frost, at three in the morning: the night that lasts", "2026-10-12 03:00", "2026-10-12", "2026-10-12"},
		{"frost last night, at three: the night that lasts, which is the stricter", "2026-10-12 03:00", "2026-10-11", "2026-10-12"},
		{"it is freezing, at half past eleven: the night that has begun", "2026-10-11 23:30", "2026-10-11", "2026-10-12"},
		{"frost, in the afternoon: the night before", "2026-10-12 15:00", "2026-10-12", "2026-10-12"},
		{"frost of a day last week: that day's morning", "2026-10-12 07:00", "2026-10-05", "2026-10-05"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := watched(t)
			id := p.told(tc.at, tc.of)
			f, _ := p.book.Standing(id)
			if got := NightOf(f, p.farm.Zone); got != day(tc.night) {
				t.Errorf("the night of %s, want %s", got, tc.night)
			}
			last := day(tc.night).AddDays(14)
			if v := p.view(last.String(), "lane"); v.Hold == nil || v.Hold.Until != last {
				t.Errorf("on day 14 after that night: %v", v.Hold)
			}
			if v := p.view(last.AddDays(1).String(), "lane"); v.Hold != nil {
				t.Errorf("still held on day 15, until %s", v.Hold.Until)
			}
		})
	}
}

func TestAFrostOfLastNightToldAfterACheckIsAnotherNight(t *testing.T) {
	p := watched(t)
	p.told("2026-09-12 07:00", "2026-09-12")
	p.write(diary.Fact{Day: day("2026-09-12"), Kind: diary.Clear, Paddock: "lane", At: day("2026-09-12").In(p.farm.Zone).Add(10 * time.Hour)})
	if v := p.view("2026-09-12", "lane"); v.Hold != nil {
		t.Fatalf("held until %s after the check", v.Hold.Until)
	}
	p.told("2026-09-13 07:00", "2026-09-12")
	if v := p.view("2026-09-13", "lane"); v.Hold == nil || v.Hold.Until != day("2026-09-27") {
		t.Errorf("the next night, told as last night: %v", v.Hold)
	}
}

func TestAFrostThatIsToldAsItBeginsHoldsAtOnceAndIsNoOtherNightInTheMorning(t *testing.T) {
	p := watched(t)
	p.told("2026-10-02 23:30", "2026-10-02")
	v := p.view("2026-10-02", "lane")
	if v.Hold == nil || v.Hold.Began != day("2026-10-02") || v.Hold.Until != day("2026-10-17") {
		t.Fatalf("at half past eleven: %v", v.Hold)
	}
	began := v.Hold.Cause()
	p.told("2026-10-03 07:00", "2026-10-02")
	p.freeze("2026-10-03", 31)
	if v := p.view("2026-10-04", "lane"); v.Hold.Cause() != began || v.Hold.Until != day("2026-10-17") {
		t.Errorf("one night told three times: cause %d until %s", v.Hold.Cause(), v.Hold.Until)
	}
}
