package config

import (
	"io"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"stubbled/config/settings"
	"stubbled/notify/terms"
)

func TestTheDemoFarmIsInventedAndSaysSo(t *testing.T) {
	f, err := Demo()
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(exampleFile[:400]), "INVENTED") || !strings.HasPrefix(string(exampleRecord), "# INVENTED") {
		t.Error("the demo farm doesn't say that it is invented")
	}
	reserved := regexp.MustCompile(`^\+1[0-9]{3}55501[0-9]{2}$`)
	for _, c := range f.Contacts {
		if !reserved.MatchString(c.Phone) {
			t.Errorf("%s has %s, which is no reserved number", c.Name, c.Phone)
		}
		if c.Email != "" && !strings.HasSuffix(c.Email, "@example.org") {
			t.Errorf("%s has %s", c.Name, c.Email)
		}
	}
	for _, w := range f.Warnings {
		if !strings.Contains(w.Text, "numbering table") {
			t.Errorf("warning: %v", w)
		}
	}
	if f.Plan.Record == nil || f.Plan.Record.Problems.Count() != 0 {
		t.Errorf("record: %+v", f.Plan)
	}
}

// What was loaded once is not changed by who holds it.
func TestTheExampleIsTheCallersOwn(t *testing.T) {
	Example()[0], ExampleStation()[0] = 'X', 'X'
	if Example()[0] == 'X' || ExampleStation()[0] == 'X' {
		t.Error("the example in the binary was changed")
	}
}

// alternatives are the keys that the example names beside another one that
// stands in their place.
var alternatives = []string{
	"paddocks[].was", "paddocks[].rest.lowest", "paddocks[].rest.begin", "paddocks[].rest.confidence", "paddocks[].rest.ends_at", "paddocks[].rest.spring",
	"frost.station", "frost.columns", "frost.from", "frost.units", "frost.years", "herds[].weaned", "secret_file", "password_file", "token_file", "webhook.hash", "webhook.stamp_field", "webhook.sign_field", "auth.name",
	"carriers.call", // its keys are explained once, under http
}

func TestTheExampleExplainsEveryKey(t *testing.T) {
	text := string(exampleFile)
	var trees []*settings.Entry
	for _, other := range []string{"http", "spool"} {
		r := farmFile.Read(settings.Source{File: "example"}, []byte(opened(t, withoutBlock(t, text, other))))
		trees = append(trees, r.Root)
	}
	var walk func(keys reflect.Type, at, prefix string, in []*settings.Entry)
	walk = func(keys reflect.Type, at, prefix string, in []*settings.Entry) {
		for i := range keys.NumField() {
			f := keys.Field(i)
			k := prefix + f.Tag.Get("key")
			if k == prefix {
				if f.Type.Kind() == reflect.Struct {
					walk(f.Type, at, prefix+f.Tag.Get("prefix"), in)
				}
				continue
			}
			key := at + k
			if !regexp.MustCompile(`(?m)(^|[\s{(,])` + k + `\b`).MatchString(text) {
				t.Errorf("%s is not in the example", key)
			}
			var under []*settings.Entry
			for _, e := range in {
				if u := e.Get(k); u != nil {
					under = append(under, u)
				}
			}
			if len(under) == 0 && !slices.ContainsFunc(alternatives, func(a string) bool { return strings.HasSuffix(key, a) || strings.HasPrefix(key, a+".") }) {
				t.Errorf("%s does not stand in the example, and nothing is said to stand for it", key)
			}
			section := f.Type
			if section.Kind() == reflect.Pointer {
				section = section.Elem()
			}
			switch single := f.Tag.Get("as") != ""; {
			case single:
			case section.Kind() == reflect.Struct:
				walk(section, key+".", "", under)
			case section.Kind() == reflect.Slice && section.Elem().Kind() == reflect.Struct && section.Elem() != reflect.TypeFor[terms.Field]():
				var items []*settings.Entry
				for _, e := range under {
					items = append(items, e.List()...)
				}
				walk(section.Elem(), key+"[].", "", items)
			}
		}
	}
	walk(reflect.TypeFor[file](), "", "", trees)
}

// The blocks that are commented out are as good as the rest: with all of them
// in force the file still loads, by modem and by provider.
func TestWhatIsCommentedOutInTheExampleWorks(t *testing.T) {
	for via, other := range map[string]string{"spool": "http", "http": "spool"} {
		t.Run(via, func(t *testing.T) {
			text := opened(t, strings.Replace(withoutBlock(t, string(exampleFile), other), "via: console ", "via: "+via+" ", 1))
			from := newSource("example", []Option{WithoutEnvironment()})
			from.Touch = nil
			from.open = func(string) (io.ReadCloser, error) { return nil, io.ErrUnexpectedEOF }
			f, err := from.load([]byte(text))
			if err != nil {
				t.Fatalf("%v\n%s", err, text)
			}
			sms := f.Carriers.SMS
			if string(sms.Via) != via || (sms.HTTP == nil) != (via == "spool") || (sms.Spool.Dir == "") != (via == "http") ||
				sms.HTTP != nil && (sms.HTTP.Poll == nil || sms.HTTP.Webhook == nil) {
				t.Errorf("texts: %+v", sms)
			}
			if f.Carriers.Email == nil || f.Carriers.Call == nil || f.Weather.Log == nil || f.Weather.Service == nil || f.Plan.Hand == nil || f.Cap != 3 {
				t.Errorf("not everything is in force: %+v", f)
			}
		})
	}
}

// opened is the example with everything that is commented out in force, except
// what stands for another thing.
func opened(t *testing.T, text string) string {
	t.Helper()
	for _, line := range []string{
		"  station: quail-fork.csv\n", "  # weaned: 2026-10-05 ends the calves' share\n",
		"  # columns: {date: day, tmin_c: low, tmax_c: high, rain_mm: rain}   # or tmin_f, tmax_f: where the CSV has names of its own\n",
		"  # from: https://www.ncei.noaa.gov/pub/data/ghcn/daily/all/XX000000001.dly   # where the record is fetched anew each night\n",
		"  # years: 30             # the latest falls alone, where frost comes at another time than it used to\n",
		"  # units: C              # or F, or tenths (of a degree C): what a CSV is in that does not say it and has no July\n",
	} {
		if !strings.Contains(text, line) {
			t.Fatalf("the example lacks %q", line)
		}
		text = strings.Replace(text, line, "", 1)
	}
	key := regexp.MustCompile(`^( *)# ( *(?:- \{|[a-z_]+:(?: |$)).*)$`)
	prose := regexp.MustCompile(`^ *# (Without|daily|each|A modem|A provider)`)
	lines := strings.Split(text, "\n")
	n := 0
	for i, line := range lines {
		if m := key.FindStringSubmatch(line); m != nil && !prose.MatchString(line) {
			lines[i] = m[1] + m[2]
			n++
		}
	}
	if n < 30 {
		t.Fatalf("only %d lines were opened", n)
	}
	return strings.Join(lines, "\n")
}

// withoutBlock takes a commented block under sms out.
func withoutBlock(t *testing.T, text, name string) string {
	t.Helper()
	block := regexp.MustCompile(`(?m)^    # ` + name + `:\n(    #   .*\n)+`)
	if !block.MatchString(text) {
		t.Fatalf("the example has no block %s", name)
	}
	return block.ReplaceAllString(text, "")
}

// The figures in the comments that are called usual are the ones.
func TestTheExamplesUsualSpoolIsTheUsualOne(t *testing.T) {
	load := func(text string) *Farm {
		from := newSource("example", []Option{WithoutEnvironment()})
		from.Touch = nil
		from.open = func(string) (io.ReadCloser, error) {
			return io.NopCloser(strings.NewReader(string(exampleRecord))), nil
		}
		f, err := from.load([]byte(text))
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	usual := strings.Replace(string(exampleFile), "via: console ", "via: spool ", 1)
	block := regexp.MustCompile(`(?m)^    # spool:\n(    #   .*\n)+`)
	written := block.ReplaceAllStringFunc(usual, func(b string) string { return regexp.MustCompile(`(?m)^    # `).ReplaceAllString(b, "    ") })
	if a, b := load(usual), load(written); written == usual || a.Digest != b.Digest {
		t.Errorf("usual %+v\nwritten %+v", a.Carriers.SMS.Spool, b.Carriers.SMS.Spool)
	}
}

// What the comments call the usual ladder and the usual figures are the ones.
func TestTheExamplesUsualLadderIsTheUsualOne(t *testing.T) {
	text := strings.Replace(string(exampleFile), "# ladder:\n", "ladder:\n", 1)
	text = strings.ReplaceAll(text, "#   - {before:", "  - {before:")
	from := newSource("example", []Option{WithoutEnvironment()})
	from.Touch = nil
	from.open = func(string) (io.ReadCloser, error) {
		return io.NopCloser(strings.NewReader(string(exampleRecord))), nil
	}
	written, err := from.load([]byte(text))
	if err != nil {
		t.Fatal(err)
	}
	demo, err := Demo()
	if err != nil {
		t.Fatal(err)
	}
	if written.Digest != demo.Digest {
		t.Errorf("written %+v\nusual %+v", written.Rungs, demo.Rungs)
	}
}
