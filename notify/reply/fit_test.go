package reply

import (
	"cmp"
	commandline "flag"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"stubbled/scheduler/diary"
)

// fits has weights.tsv fitted to judged texts:
//
//	go test ./notify/reply -run Fitting -v -args -fit [/whole/path/of/OTHER.tsv]
//
// It reads the texts with the weights that the reader was built with, and moves
// those of every column towards what was right, never far from where they were:
// a wrong entry in the diary weighs as much as wrongAsMuch good ones, one that
// makes things stricter as much as stricterAsMuch, and a weight never changes its
// sign. Run it again until nothing moves. A line tagged keep is left out, and so
// is every second line of a file that is not beside the farms: those are for
// measuring.
var fits = commandline.Bool("fit", false, "write weights.tsv anew, fitted to the judged texts")

const (
	wrongAsMuch    = 12
	stricterAsMuch = 2
	rounds         = 400
	step           = 0.02
	near           = 6.0 // how strongly a weight is held where it was
	weightsFile    = "weights.tsv"
)

// younger are the kinds that texts judged elsewhere may not know.
var younger = []diary.Kind{diary.NoFrost, diary.DryOver, diary.Rain, diary.Plant, diary.Danger, diary.Emergency}

// An example is a clause that was read, and whether it was meant.
type example struct {
	counts map[string]float64
	meant  bool
}

func TestFittingKeepsEachWeightNearWhereItWas(t *testing.T) {
	text, err := os.ReadFile(weightsFile)
	if err != nil {
		t.Fatal(err)
	}
	paths, _ := filepath.Glob("testdata/*.tsv") // the pattern is good
	examples := map[string][]example{}
	for _, path := range append(paths, commandline.Args()...) {
		if !strings.HasSuffix(path, ".farm.tsv") {
			gather(t, path, examples)
		}
	}
	var lines [][]string
	fitted := ""
	for line := range strings.Lines(string(text)) {
		if strings.HasPrefix(line, "#") {
			fitted += line
			continue
		}
		lines = append(lines, strings.Split(strings.TrimRight(line, "\n"), "\t"))
	}
	for c, column := range lines[0] {
		was := weightsIn(lines, c)
		if list := examples[column]; len(list) > 0 {
			moveColumn(lines, c, list)
			t.Logf("%s: %d clauses", column, len(list))
		}
		for name, now := range weightsIn(lines, c) {
			if now*was[name] < 0 || math.Abs(now-was[name]) > 2.05 {
				t.Errorf("%s of %s was %g and would be %g", name, column, was[name], now)
			}
		}
	}
	for _, l := range lines {
		fitted += strings.Join(l, "\t") + "\n"
	}
	if *fits {
		if err := os.WriteFile(weightsFile, []byte(fitted), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// weightsIn are the weights of a column by their names.
func weightsIn(lines [][]string, c int) map[string]float64 {
	by := map[string]float64{}
	for _, l := range lines[1:] {
		if x, err := strconv.ParseFloat(l[c], 64); err == nil {
			by[l[0]] = x
		}
	}
	return by
}

// gather reads the clauses of a file of judged texts that leave nothing open.
func gather(t *testing.T, path string, examples map[string][]example) {
	second := filepath.Dir(path) != "testdata"
	for i, l := range readSample(t, path) {
		if slices.Contains(l.tags, "keep") || second && i%2 == 1 {
			continue
		}
		farm := testFarms[l.farm]
		var asked Asked
		if l.context != "-" {
			asked.Paddocks = strings.Split(l.context, ",")
		}
		p, heard := New(farm.places, farm.herds, farm.units).begin(l.text, farm.people[l.who], asked, l.day)
		if heard != nil {
			continue
		}
		pieces := p.judged()
		for i := range pieces {
			c := &pieces[i]
			if len(c.facts) == 0 || c.ask != nil || c.dropped || second && slices.Contains(younger, c.facts[0].Kind) {
				continue
			}
			if meant, told := l.meant(c.facts); told {
				column := columnNames[shapes[c.form].column]
				examples[column] = append(examples[column], example{named(c), meant})
			}
		}
	}
}

// named is what was counted of a clause by the names of the table.
func named(c *piece) map[string]float64 {
	by := map[string]float64{}
	for f, n := range c.counts {
		if n != 0 {
			by[featureNames[f]] = n
		}
	}
	return by
}

// meant reports whether the facts of a clause stand together in an outcome. It
// is not told where a text tells something, and one may ask about it too.
func (l sampleLine) meant(facts []diary.Fact) (meant, told bool) {
	for _, outcome := range l.any {
		if !slices.ContainsFunc(facts, func(f diary.Fact) bool {
			return !slices.ContainsFunc(outcome, func(w wanted) bool { return same(f, w) })
		}) {
			return true, l.strict()
		}
	}
	return false, true
}

// moveColumn moves the weights of one column down the gradient of the logistic
// loss of its examples.
func moveColumn(lines [][]string, c int, list []example) {
	wrong := map[string]float64{"stricter": stricterAsMuch}[lines[0][c]]
	was, now := weightsIn(lines, c), weightsIn(lines, c)
	for range rounds {
		slope := map[string]float64{}
		for _, e := range list {
			sum, weight, want := -was["recorded from"], 1.0, 1.0
			for f, n := range e.counts {
				sum += now[f] * n
			}
			if !e.meant {
				weight, want = cmp.Or(wrong, wrongAsMuch), 0
			}
			miss := weight * (want - 1/(1+math.Exp(-sum)))
			for f, n := range e.counts {
				slope[f] += miss * n
			}
		}
		for f := range slope {
			if was[f] != 0 {
				now[f] = keepSign(now[f]+step*(slope[f]-near*(now[f]-was[f]))/math.Sqrt(float64(len(list))), was[f])
			}
		}
	}
	for _, l := range lines[1:] {
		if was[l[0]] != 0 {
			l[c] = strconv.FormatFloat(math.Round(now[l[0]]*10)/10, 'g', -1, 64)
		}
	}
}

// keepSign keeps a weight on the side of nought where it was, and within two of
// it.
func keepSign(x, was float64) float64 {
	x = min(max(x, was-2), was+2)
	if was < 0 {
		return min(x, -0.1)
	}
	return max(x, 0.1)
}
