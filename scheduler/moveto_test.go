package scheduler

import (
	"slices"
	"testing"

	"stubbled/scheduler/season"
)

func TestNobodyIsSentToPlantsThatPoisonWhileOtherGroundWillDo(t *testing.T) {
	ground := func(id string, atRisk bool, say season.Say) season.View {
		v := season.View{Paddock: &season.Paddock{ID: id, Name: id}, Phase: season.Open, Verdict: season.Verdict{Say: say, Action: season.ReadIt}}
		if atRisk {
			v.AtRisk = []string{"johnsongrass"}
		}
		return v
	}
	slough, draw, cedar := ground("slough", false, season.Wait), ground("draw", true, season.Wait), ground("cedar", false, season.Go)
	for _, tc := range []struct {
		name  string
		views []season.View
		want  []string
	}{
		{"unread johnsongrass beside clean ground", []season.View{slough, draw, cedar}, []string{"cedar"}},
		{"johnsongrass that was read tall beside it", []season.View{slough, ground("draw", true, season.Go), cedar}, []string{"draw", "cedar"}},
		{"nothing else there is", []season.View{slough, draw}, []string{"draw"}},
	} {
		if got := moveTo(tc.views, nil, "slough", false, false); !slices.Equal(got, tc.want) {
			t.Errorf("%s: they go to %q, want %q", tc.name, got, tc.want)
		}
	}
}
