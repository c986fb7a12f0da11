package config

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode"

	"stubbled/config/settings"
	"stubbled/config/values"
	"stubbled/notify/language"
)

// Any bytes either make a whole farm or are refused with places; nothing else
// comes out.
func FuzzLoad(f *testing.F) {
	for _, glob := range []string{"testdata/broken/*.yaml", "testdata/good/*.yaml", "newfarm/testdata/*.yaml"} {
		files, err := filepath.Glob(glob)
		if err != nil {
			f.Fatal(err)
		}
		for _, name := range files {
			data, err := os.ReadFile(name)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(data)
		}
	}
	f.Add(exampleFile)
	f.Add([]byte("farm: &a [*a]\n"))
	f.Add([]byte("{{{{"))
	f.Add([]byte("? [a]\n: b\n"))
	f.Add([]byte("\xff\xfe\x00"))
	f.Add([]byte(strings.Repeat("[", 20000)))
	f.Fuzz(func(t *testing.T, data []byte) {
		from := newSource("farm.yaml", []Option{WithoutEnvironment()})
		from.Touch = nil
		from.open = func(string) (io.ReadCloser, error) { return nil, fs.ErrNotExist }
		farm, err := from.load(data)
		if err != nil {
			var ps settings.Problems
			if !errors.As(err, &ps) || len(ps) == 0 || farm != nil {
				t.Fatalf("%T %v, farm %v", err, err, farm)
			}
			for _, p := range ps {
				if p.Text == "" || strings.ContainsFunc(p.Error(), unicode.IsControl) {
					t.Fatalf("problem %q", p.Error())
				}
			}
			return
		}
		checkWhole(t, farm)
	})
}

// checkWhole is what holds of every farm that was let through.
func checkWhole(t *testing.T, f *Farm) {
	t.Helper()
	if f.Name == "" || f.Zone == nil || len(f.Paddocks) == 0 || len(f.Contacts) == 0 || len(f.Rungs) == 0 || f.Digest == "" || f.Units == "" {
		t.Fatalf("not whole: %+v", f)
	}
	if (f.Plan.Hand == nil) == (f.Plan.Record == nil) || f.Plan.Threshold.IsZero() {
		t.Fatalf("nothing to count back from, or two things: %+v", f.Plan)
	}
	names := map[string]string{}
	for _, p := range f.Paddocks {
		if p.ID == "" || p.Acres <= 0 || p.Grass.Name == "" || p.Soil == "" || p.Stand == "" || p.Rule.Spring.IsZero() {
			t.Fatalf("paddock not whole: %+v", p)
		}
		if p.Native() && (p.Rule.Confidence <= 0 || p.Rule.RestDays < 0 || p.Rule.RestDays > 200 || p.Rule.Leave > 120 || p.Rule.EndsAt.IsZero()) {
			t.Fatalf("rule out of range: %+v", p.Rule)
		}
		for _, n := range append([]string{p.ID, p.Name}, p.Aliases...) {
			if owner, taken := names[values.Fold(n)]; taken && owner != p.ID {
				t.Fatalf("%q is %s and %s", n, owner, p.ID)
			}
			names[values.Fold(n)] = p.ID
		}
	}
	for _, c := range f.Contacts {
		if c.Name == "" || c.Role == "" || c.Phone == "" && c.Email == "" || !slices.Contains(language.Tags(), c.Language) {
			t.Fatalf("contact not whole: %+v", c)
		}
	}
}
