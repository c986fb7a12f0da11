package season

import (
	"slices"
	"testing"
	"time"

	"github.com/golang-sql/civil"
	"pgregory.net/rapid"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
	"stubbled/scheduler/grass"
)

// TestNoGroundWithHazardPlantsIsGrazedWithinTwoWeeksOfAFrostOrUnwatched: whatever is
// told and measured, johnsongrass in the lane gets no GO and is no place to send a
// herd within 14 days of a frost from May to the killing freeze, unless the ground
// was checked since; nor in October while nothing measures and nobody says whether it
// froze, nor for a week after somebody was asked and has not answered. It is reckoned
// here from the facts alone.
func TestNoGroundWithHazardPlantsIsGrazedWithinTwoWeeksOfAFrostOrUnwatched(t *testing.T) {
	grazed := 0
	rapid.Check(t, func(r *rapid.T) {
		p := watched(t)
		watchedToo := rapid.Bool().Draw(r, "a thermometer")
		if !watchedToo {
			p.air = nil
		}
		if rapid.Bool().Draw(r, "own grass") {
			p.paddock("lane").Grass, p.paddock("lane").Hazards = species(t, "johnsongrass"), []grass.Hazard{hazard(t, "johnsongrass")}
		}
		first := day("2026-05-05").AddDays(rapid.IntRange(0, 200).Draw(r, "from"))
		var frosts, cleared, words []diary.Fact
		var early, killed civil.Date
		var asked []civil.Date
		for i := range 24 {
			d := first.AddDays(i)
			switch rapid.SampledFrom([]string{"", "", "", "", "measured", "told", "none", "clear", "regrowth", "asked", "off", "on"}).Draw(r, "event") {
			case "measured":
				f := float64(rapid.IntRange(20, 36).Draw(r, "F"))
				p.freeze(d.String(), f)
				frosts = append(frosts, diary.Fact{Day: d, At: d.AddDays(1).In(time.UTC), ID: p.last})
				// One that comes too early kills nothing by itself, two of them a week
				// apart do.
				if f <= 28 && killed.IsZero() && !d.Before(day("2026-08-01")) {
					if early.IsZero() {
						early = d
					}
					if !d.Before(day("2026-10-12")) || d.DaysSince(early) >= 7 {
						killed = d
					}
				}
			case "told":
				p.tells(d.String(), diary.Frost, "")
				frosts = append(frosts, diary.Fact{Day: d, At: d.In(time.UTC).Add(8 * time.Hour), ID: p.last})
				words = append(words, diary.Fact{Day: d})
			case "none":
				p.tells(d.String(), diary.NoFrost, "")
				words = append(words, diary.Fact{Day: d})
			case "clear":
				p.write(diary.Fact{Day: d, At: d.In(time.UTC).Add(20 * time.Hour), Kind: diary.Clear, Paddock: "lane"})
				cleared = append(cleared, diary.Fact{Day: d, At: d.In(time.UTC).Add(20 * time.Hour)})
				words = append(words, diary.Fact{Day: d})
			case "regrowth":
				p.tells(d.String(), diary.Regrowth, "lane")
			case "asked":
				p.asks(d.String(), diary.Frost, "", "")
				asked = append(asked, d)
			case "off":
				p.moves(d.String(), diary.Off, "lane", "")
			case "on":
				p.moves(d.String(), diary.On, "lane", "cows")
			}
			p.reads(d.String(), "lane", plants(20, float64(rapid.IntRange(4, 40).Draw(r, "in")))...)
			v := p.view(d.String(), "lane")
			shut := ""
			for _, f := range frosts {
				checked := false
				for _, c := range cleared {
					checked = checked || c.At.After(f.At)
				}
				if !checked && d.DaysSince(f.Day) <= 14 && (killed.IsZero() || !f.Day.After(killed)) {
					shut = "a frost of " + f.Day.String()
				}
			}
			known := watchedToo || d.Before(day("2026-09-21")) || !killed.IsZero()
			for _, w := range words {
				known = known || d.DaysSince(w.Day) <= 7
			}
			for _, f := range frosts {
				known = known || d.DaysSince(f.Day) <= 2
			}
			if !known {
				shut = "nobody knows whether it froze"
			}
			for _, a := range asked {
				checked := slices.ContainsFunc(cleared, func(c diary.Fact) bool { return !c.Day.Before(a) })
				if answered := watchedToo && d.After(a); d.DaysSince(a) <= 7 && !checked && !answered && killed.IsZero() {
					shut = "nobody answered whether it froze on " + a.String()
				}
			}
			if shut != "" && (v.Verdict.Say == Go || !v.Perilous()) {
				r.Fatalf("%s: %s on the lane, %+v; %s", d, v.Verdict.Say, v.Shut, shut)
			}
			if v.Verdict.Say == Go {
				grazed++
			}
		}
	})
	if grazed == 0 {
		t.Error("a program that always says WAIT passes")
	}
}

// A program that always says WAIT fails here.
func TestGroundThatIsSafeIsGrazed(t *testing.T) {
	john := func(p *play) { p.paddock("lane").Grass, p.paddock("lane").Hazards = species(t, "johnsongrass"), nil }
	for _, tc := range []struct {
		name, today, paddock string
		write                func(*play)
	}{
		{"tall johnsongrass in a wet July", "2026-07-05", "lane", func(p *play) { john(p); p.reads("2026-07-05", "lane", plants(20, 30)...) }},
		{"a cleared hold", "2026-10-09", "lane", func(p *play) {
			p.freeze("2026-10-05", 31)
			p.tells("2026-10-08", diary.Clear, "lane")
			p.reads("2026-10-09", "lane", plants(20, 10)...)
		}},
		{"ordinary ground after a full rest and a killing freeze", "2026-10-28", "creek", func(p *play) {
			p.moves("2026-08-30", diary.Off, "creek", "")
			p.reads("2026-09-02", "creek", plants(20, 8)...)
			p.freeze("2026-10-26", 26)
			p.reads("2026-10-28", "creek", plants(20, 19)...)
		}},
		{"no frost, said within the week where nothing measures", "2026-10-02", "lane", func(p *play) {
			p.air = (*frost.Record)(nil)
			p.tells("2026-10-01", diary.NoFrost, "")
			p.reads("2026-10-02", "lane", plants(20, 10)...)
		}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := watched(t)
			tc.write(p)
			if v := p.view(tc.today, tc.paddock); v.Verdict.Say != Go {
				t.Errorf("%s: %s (%s), shut by %+v", tc.paddock, v.Verdict.Say, v.Verdict.Reason, v.Shut)
			}
		})
	}
}
