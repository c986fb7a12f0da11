package reply

import (
	_ "embed"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// column is what a clause is weighed as. What lifts a hold or empties a paddock
// has columns of its own.
type column uint8

// The columns of weights.tsv, in their order.
const (
	cHeight   column = iota // a reading with its paddock
	cBare                   // one without
	cOff                    // animals have left
	cOn                     // animals were turned in
	cStricter               // a plant, rain, new shoots
	cFrost                  // a frost: in other words than those of one it may be none
	cAlarm                  // an emergency, animals that are in again
	cLooser                 // brown, clear, no frost: animals may be let in for it
	cEvent                  // hay, fire, weaning, drought
	cRequest                // status, later, undo
	cTalk                   // a token that no clause takes up
	columns
)

// columnNames are those of the heading of weights.tsv.
var columnNames = [columns]string{cHeight: "height", cBare: "bare", cOff: "off", cOn: "on", cStricter: "stricter", cFrost: "frost", cAlarm: "alarm", cLooser: "looser",
	cEvent: "event", cRequest: "request", cTalk: "talk"}

// feature is what is counted in a clause and beside it.
type feature uint8

// The features that rules name; those of guards follow in the order of guards,
// once for what stands in their scope and once for what stands beside it.
const (
	nothing feature = iota
	wClause
	wAside
	wWord
	wStranger
	wOddNumber
	wPlace
	wNumber
	wAnimals
	wTrade
	wMark
	wBesideWord
	wBesideStranger
	wBesidePlace
	wBesideNumber
	wBesideTrade
	wAtName
	wBehindNumber
	wBeforeNumber
	wSlip
	wUnit
	wSeveral
	wMeasure
	wWeak
	wWas
	wShort
	wTall
	wHeads
	wHour
	wFell
	wAtNight
	wCold
	wAverage
	wNumberName
	wApart
	wSeveralPlaces
	wOrderChanges
	wNoAnimals
	wNobody
	wNotWhere
	wOpenWater
	wInText
	wEveryday
	wHearsay
	wRecord
	wConfirm
	wGuard
	wBesideGuard = wGuard + feature(gUnknown)
	features     = wBesideGuard + feature(gUnknown)
)

// names are those of the rows of weights.tsv.
var featureNames = func() [features]string {
	names := [features]string{
		wClause: "clause", wAside: "aside", wWord: "word", wStranger: "stranger", wOddNumber: "odd number", wPlace: "other paddock",
		wNumber: "other number", wAnimals: "other animals", wTrade: "other work", wMark: "comma",
		wBesideWord: "beside: word", wBesideStranger: "beside: stranger", wBesidePlace: "beside: paddock",
		wBesideNumber: "beside: number", wBesideTrade: "beside: work", wAtName: "word at the name", wBehindNumber: "word behind the number",
		wBeforeNumber: "word before the number", wSlip: "slip in the name", wUnit: "unit",
		wSeveral: "several numbers", wMeasure: "measure", wWeak: "weak measure", wWas: "was", wShort: "short", wTall: "tall",
		wHeads: "as many heads", wHour: "an hour", wFell: "rain, more likely", wAtNight: "at night", wCold: "cold, more likely",
		wAverage: "average of others", wNumberName: "name is a number", wApart: "numbers apart",
		wSeveralPlaces: "several paddocks", wOrderChanges: "order changes", wNoAnimals: "verb without animals", wNobody: "nobody there", wNotWhere: "moved, not said where",
		wOpenWater: "open water", wInText: "paddock named before", wEveryday: "name of every day", wHearsay: "hearsay", wRecord: "recorded from", wConfirm: "confirmed from",
	}
	for g, name := range guardNames {
		if name != "" {
			names[int(wGuard)+g-1], names[int(wBesideGuard)+g-1] = "guard: "+name, "beside: "+name
		}
	}
	return names
}()

// guardNames are those of the rows; the rows of heard.txt bear them too.
var guardNames = [gUnknown + 1]string{
	gNegation: "negation", gPlan: "plan", gIf: "condition", gOrder: "order", gHedge: "hedge", gAsk: "question", gFix: "correction",
	gPart: "part of a herd", gOther: "of others", gThing: "thing", gRain: "wet", gBefore: "another time", gDay: "no such day",
	gBad: "no such height", gToCome: "day to come", gWhen: "meanwhile", gUnknown: "",
}

func guardFeature(g guard) feature  { return wGuard + feature(g) - 1 }
func besideFeature(g guard) feature { return wBesideGuard + feature(g) - 1 }

//go:embed weights.tsv
var shipped string

// A table weighs clauses: what each feature adds to a clause of each column.
type table [features][columns]float64

var weights = mustTable(shipped)

func mustTable(text string) *table {
	t, err := readTable(text)
	if err != nil {
		panic(err)
	}
	return t
}

// readTable reads weights.tsv: a feature a line, its weight in each column, and
// a word why.
func readTable(text string) (*table, error) {
	t := &table{}
	seen := map[feature]bool{}
	n := 0
	for line := range strings.Lines(text) {
		n++
		line = strings.TrimRight(line, "\r\n")
		if line == "" || strings.HasPrefix(line, "#") || strings.HasPrefix(line, "feature\t") {
			continue
		}
		cells := strings.Split(line, "\t")
		f := feature(max(0, slices.Index(featureNames[:], cells[0])))
		if f == nothing || seen[f] || len(cells) != int(columns)+2 {
			return nil, fmt.Errorf("weights.tsv:%d: want a feature that stands nowhere else, %d weights and a word why, got %q", n, columns, line)
		}
		seen[f] = true
		for c := range int(columns) {
			if cells[c+1] == "" {
				continue
			}
			x, err := strconv.ParseFloat(cells[c+1], 64)
			if err != nil {
				return nil, fmt.Errorf("weights.tsv:%d: %w", n, err)
			}
			t[f][c] = x
		}
	}
	return t, nil
}
