package config

import (
	"bufio"
	"cmp"
	"fmt"
	"io"
	"maps"
	"reflect"
	"slices"
	"strings"

	"stubbled/config/values"
)

// Effective prints everything in force: each setting with where it came from,
// and each paddock with the rule it ends up with. Secrets are not in a Farm;
// where they are kept is printed. Phone numbers and addresses are shortened.
func (f *Farm) Effective(w io.Writer) error {
	b := bufio.NewWriter(w)
	for _, s := range f.settings {
		fmt.Fprintf(b, "%-44s # %s\n", s.Key+": "+s.Value, s.From)
	}
	f.paddocksInForce(b)
	for _, h := range f.Herds {
		fmt.Fprintf(b, "herd %s: %d head, %s\n", h.ID, h.Head, h.Kind.Name)
	}
	for _, c := range f.Contacts {
		fmt.Fprintf(b, "contact %s: %s, %s", c.Name, c.Role, c.Language)
		if len(c.Phone) >= 6 {
			fmt.Fprintf(b, ", phone %s...%s", c.Phone[:2], c.Phone[len(c.Phone)-4:])
		}
		if at := strings.LastIndexByte(c.Email, '@'); at > 0 {
			fmt.Fprintf(b, ", email %s...%s", c.Email[:1], c.Email[at:])
		}
		if q := c.QuietHours; q.From != q.To {
			fmt.Fprintf(b, ", quiet %s-%s", q.From, q.To)
		}
		fmt.Fprintln(b)
	}
	for _, r := range f.Rungs {
		fmt.Fprintf(b, "rung %d days before: %s", r.Before, strings.Join(r.Tell, ", "))
		for _, m := range r.AlsoBy {
			fmt.Fprintf(b, ", by %s too", m)
		}
		if r.RepeatAfter > 0 {
			fmt.Fprintf(b, ", once more after %s", values.InWords(r.RepeatAfter))
		}
		fmt.Fprintln(b)
	}
	return b.Flush()
}

func (f *Farm) paddocksInForce(b io.Writer) {
	fmt.Fprintln(b, "paddocks:")
	for i := range f.Paddocks {
		p := &f.Paddocks[i]
		fmt.Fprintf(b, "  %s: %s, %.4g acres, %s, soil %s, stand %s", p.ID, p.Name, p.Acres, p.Grass.Name, p.Soil, p.Stand)
		if p.Native() {
			r := p.Rule
			fmt.Fprintf(b, ", rest %d days, leave %.3g in, %.3g in at frost, lowest %.3g in, begin %.3g in, confidence %.0f%%, rest ends at %s",
				r.RestDays, r.Leave, r.AtFrost, r.Min, r.Begin, r.Confidence*100, r.EndsAt)
		} else {
			fmt.Fprintf(b, ", no rest, leave %.3g in", p.Floor())
		}
		if p.FrostOffset != 0 {
			fmt.Fprintf(b, ", frost %+d days", p.FrostOffset)
		}
		for _, h := range p.Hazards {
			fmt.Fprintf(b, ", hazard %s", h.Name)
		}
		if !p.OutBy.IsZero() {
			fmt.Fprintf(b, ", out by %02d-%02d", p.OutBy.Month, p.OutBy.Day)
		}
		fmt.Fprintln(b)
	}
}

// Differences names what another farm file says otherwise: `carriers.sms.via:
// spool, not console`, and of the lists their names.
func (f *Farm) Differences(o *Farm) (all []string) {
	was := map[string]string{}
	for _, s := range o.settings {
		was[s.Key] = s.Value
	}
	for _, s := range f.settings {
		if before := was[s.Key]; before != s.Value {
			all = append(all, fmt.Sprintf("%s: %s, not %s", s.Key, cmp.Or(s.Value, "nothing"), cmp.Or(before, "nothing")))
		}
		delete(was, s.Key)
	}
	for _, key := range slices.Sorted(maps.Keys(was)) {
		all = append(all, fmt.Sprintf("%s: nothing, not %s", key, was[key]))
	}
	for _, list := range []struct {
		name    string
		one, to any
	}{{"paddocks", f.Paddocks, o.Paddocks}, {"herds", f.Herds, o.Herds}, {"contacts", f.Contacts, o.Contacts}, {"fall_use", f.FallUse, o.FallUse}, {"ladder", f.Rungs, o.Rungs}} {
		if !reflect.DeepEqual(list.one, list.to) {
			all = append(all, list.name)
		}
	}
	if len(all) == 0 && f.Digest != o.Digest {
		all = append(all, "the station's record, or a provider's fields")
	}
	return all
}
