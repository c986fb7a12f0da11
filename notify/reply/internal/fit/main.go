// Command fit fits notify/reply/weights.tsv to judged texts:
//
//	go run ./notify/reply/internal/fit notify/reply/testdata/*.tsv [OTHER.tsv]
//
// It reads the texts with the weights that the reader was built with, and moves
// those of every column towards what was right, never far from where they were:
// a wrong entry in the diary weighs as much as wrongAsMuch good ones, one that
// makes things stricter as much as stricterAsMuch, and a weight never changes its
// sign. Run it again until nothing moves. A line tagged
// keep is left out, and so is every second line of a file that is not beside the
// farms: those are for measuring.
package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"stubbled/notify/reply"
	"stubbled/scheduler/diary"
)

const (
	wrongAsMuch    = 12
	stricterAsMuch = 2
	rounds         = 400
	step           = 0.02
	near           = 6.0 // how strongly a weight is held where it was
	table          = "notify/reply/weights.tsv"
	farms          = "notify/reply/testdata"
	recorded       = "recorded from"
)

// younger are the kinds that texts judged elsewhere may not know.
var younger = []diary.Kind{diary.NoFrost, diary.DryOver, diary.Rain, diary.Plant, diary.Danger, diary.Emergency}

// An example is a clause that was read, and whether it was meant.
type example struct {
	counts map[string]float64
	meant  bool
}

func main() {
	if err := fit(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "fit:", err)
		os.Exit(1)
	}
}

func fit(paths []string) error {
	lines, err := readTable(table)
	if err != nil {
		return err
	}
	examples := map[string][]example{}
	for _, path := range paths {
		if strings.HasSuffix(path, ".farm.tsv") {
			continue
		}
		if err := gather(path, examples); err != nil {
			return err
		}
	}
	for c, column := range lines[0] {
		if list := examples[column]; len(list) > 0 {
			moveColumn(lines, c, list, wrong(column))
			fmt.Printf("%s: %d clauses, %d of them not meant\n", column, len(list), count(list))
		}
	}
	return writeTable(table, lines)
}

// wrong is how much a wrong entry of a column weighs.
func wrong(column string) float64 {
	if column == "stricter" {
		return stricterAsMuch
	}
	return wrongAsMuch
}

func count(list []example) (n int) {
	for _, e := range list {
		if !e.meant {
			n++
		}
	}
	return n
}

// gather reads the clauses of a file of judged texts.
func gather(path string, examples map[string][]example) error {
	second := filepath.Clean(filepath.Dir(path)) != farms
	texts, err := readTexts(path)
	if err != nil {
		return err
	}
	for i, l := range texts {
		if slices.Contains(l.tags, "keep") || second && i%2 == 1 {
			continue
		}
		farm, err := farmOf(l.farm)
		if err != nil {
			return err
		}
		var asked reply.Asked
		if l.context != "-" {
			asked.Paddocks = strings.Split(l.context, ",")
		}
		for _, w := range farm.reader.Weigh(l.text, farm.people[l.who], asked, testDay) {
			if second && slices.Contains(younger, w.Facts[0].Kind) {
				continue
			}
			if meant, told := l.meant(w.Facts); told {
				examples[w.Column] = append(examples[w.Column], example{w.Counts, meant})
			}
		}
	}
	return nil
}

// moveColumn moves the weights of one column down the gradient of the logistic
// loss of its examples.
func moveColumn(lines [][]string, c int, list []example, wrong float64) {
	was, now := map[string]float64{}, map[string]float64{}
	for _, l := range lines[1:] {
		if x, err := strconv.ParseFloat(l[c], 64); err == nil {
			was[l[0]], now[l[0]] = x, x
		}
	}
	from := was[recorded]
	for range rounds {
		slope := map[string]float64{}
		for _, e := range list {
			sum, weight, want := -from, 1.0, 1.0
			for f, n := range e.counts {
				sum += now[f] * n
			}
			if !e.meant {
				weight, want = wrong, 0
			}
			miss := weight * (want - 1/(1+math.Exp(-sum)))
			for f, n := range e.counts {
				slope[f] += miss * n
			}
		}
		for f := range slope {
			if was[f] != 0 {
				x := now[f] + step*(slope[f]-near*(now[f]-was[f]))/math.Sqrt(float64(len(list)))
				now[f] = keepSign(x, was[f])
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
