package frost_test

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stubbled/scheduler/frost"
)

// A line of quoted fields is taken apart by the reader of odd lines. Without the
// quotes it is the same line and gives the same record and the same words, however
// odd its fields are and whatever was read before.
func TestALineWithoutQuotesIsReadAsTheSameWithQuotes(t *testing.T) {
	dates := rapid.OneOf(
		rapid.Custom(func(t *rapid.T) string {
			return fmt.Sprintf("2012-0%d-%02d", rapid.IntRange(2, 3).Draw(t, "month"), rapid.IntRange(0, 32).Draw(t, "day"))
		}),
		rapid.SampledFrom([]string{"2012-10-07", "2013/10/07", "10/7/2012", "7/30/2012", "2012-10-08 00:00", "2012-10-7", "2012-1007", "2012-10-07x", "", "soon"}))
	numbers := rapid.OneOf(
		rapid.StringMatching(`-?[0-9]{1,2}(\.[0-9]{1,2})?`),
		rapid.SampledFrom([]string{"", "NA", "M", "-", ".", "T", "-9999", "-9999.0", "+3", ".5", "5.", "-", "--1", "1.2.3", "1e3", "cold", " 5", "5 ", "\t", "99",
			"200", "-200", "1234567", "12345678", "0.000001", "123456.7", "3\x00", "\x003", "\x00", "²", "1,5", "1;5"}))
	rapid.Check(t, func(t *rapid.T) {
		mark := rapid.SampledFrom([]string{",", ";"}).Draw(t, "delimiter")
		header := rapid.SampledFrom([]string{
			"date,tmin_c,tmax_c,rain_mm", "rain_in,tmax_f,tmin_f,date", "station,date,tmin,tmax,prcp", "wind,date,sky,tmin_c,more",
			"date,tmin,tmin_attributes,tmax", "date,tmin_c",
		}).Draw(t, "header")
		names := strings.Split(header, ",")
		plain, quoted := strings.Join(names, mark)+"\n", strings.Join(names, mark)+"\n"
		for range rapid.IntRange(1, 12).Draw(t, "lines") {
			fields := make([]string, len(names))
			for i, name := range names {
				switch name {
				case "date":
					fields[i] = dates.Draw(t, name)
				case "station":
					fields[i] = rapid.SampledFrom([]string{"A", "A", "A", "A", " A", "", "B"}).Draw(t, name)
				case "tmin_attributes":
					fields[i] = rapid.SampledFrom([]string{"", "H,,S", ",I,Z", ",,Z"}).Draw(t, name)
				default:
					fields[i] = numbers.Draw(t, name)
				}
				fields[i] = strings.ReplaceAll(fields[i], mark, "")
			}
			plain += strings.Join(fields, mark) + "\n"
			quoted += `"` + strings.Join(fields, `"`+mark+`"`) + "\"\n"
		}
		opt := frost.Options{Format: frost.PlainCSV}
		got, err := frost.Read("station", strings.NewReader(plain), opt)
		want, errQuoted := frost.Read("station", strings.NewReader(quoted), opt)
		if fmt.Sprint(err) != fmt.Sprint(errQuoted) || !reflect.DeepEqual(got, want) {
			t.Fatalf("%s\ngives %v\n%+v\nwith quotes %v\n%+v", plain, err, problems(got), errQuoted, problems(want))
		}
	})
}

func problems(r *frost.Record) any {
	if r == nil {
		return nil
	}
	return r.Problems
}
