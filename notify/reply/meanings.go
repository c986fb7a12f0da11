package reply

import (
	"strings"

	"stubbled/scheduler/diary"
)

// meanings are the names that heard.txt of a language gives its words: the
// parts that they may play in a clause, their roles inside numbers and dates,
// and the guards. An entry may bear several.
var meanings = map[string]lex{
	// Parts of a clause.
	"filler":             {set: sFill},
	"and":                {set: sAnd},
	"comma":              {set: sComma},
	"colon":              {set: sColon},
	"end":                {set: sStop}, // of a sentence
	"is":                 {set: sBe},
	"was":                {set: sWas},
	"it":                 {set: sIt},
	"we":                 {set: sFill},
	"have":               {set: sFill},
	"please":             {set: sFill},
	"all":                {set: sAll},
	"measure":            {set: sMeasure},
	"weak measure":       {set: sWeak},
	"about":              {set: sAbout},
	"average":            {set: sAvg},
	"paddock":            {set: sField},
	"grass":              {set: sGrass},
	"at":                 {set: sAt},
	"on":                 {set: sOn},
	"in":                 {set: sIn},
	"to":                 {set: sTo},
	"off":                {set: sOff},
	"out":                {set: sOut},
	"from":               {set: sFrom},
	"animals":            {set: sStock},
	"moved":              {set: sMoved},
	"put":                {set: sPut},
	"went":               {set: sWent},
	"left":               {set: sLeft},
	"gone":               {set: sGone},
	"empty":              {set: sEmpty},
	"frost":              {set: sFrost},
	"beside frost":       {set: sCold},
	"down":               {set: sDown},
	"wilted":             {set: sWilt},
	"falls":              {set: sTree},
	"still there":        {set: sStay},
	"dead":               {set: sDead},
	"animal down":        {set: sDead | sBeast},
	"later":              {set: sLater},
	"undo":               {set: sUndo},
	"last text":          {set: sThat},
	"status":             {set: sStatus},
	"understood":         {set: sAck},
	"small talk":         {set: sChat},
	"asks of":            {set: sNamed},
	"asks what":          {set: sVerb},
	"day or to come":     {set: sSoft},
	"tomorrow":           {set: sMorrow, val: 24},
	"day after tomorrow": {set: sMorrow, val: 48},
	"hour of day":        {set: sClock},

	// Inside numbers.
	"inch":       {role: rUnit, val: 1},
	"centimetre": {role: rUnit, val: 1 / 2.54},
	"millimetre": {role: rUnit, val: 1 / 25.4},
	"metre":      {role: rUnit, val: 100 / 2.54},
	"foot":       {role: rFoot, val: 12},
	"inch or in": {role: rUnitIn},
	"half":       {role: rHalf, val: 0.5},
	"quarter":    {role: rHalf, val: 0.25},
	"eighth":     {role: rHalf, val: 0.125},
	"tenth":      {role: rTenth, val: 0.1},
	"hundredth":  {role: rTenth, val: 0.01},
	"point":      {role: rPoint},
	"ate":        {role: rAte},
	"range":      {role: rRangeTo},
	"between":    {role: rBetween},
	"one":        {role: rArticle},
	"ten":        {role: rTens, val: 10},
	"plants":     {role: rPlant},
	"heads":      {role: rHead},
	"degrees":    {role: rDegree},
	"no height":  {role: rQuantity},

	// Inside dates.
	"am or pm":             {role: rAmPm},
	"days":                 {role: rSpan, val: 24},
	"hours":                {role: rSpan, val: 1},
	"weeks":                {role: rSpan, val: 168},
	"minutes":              {role: rSpan, val: 1.0 / 60},
	"ago":                  {role: rAgo},
	"ago before":           {role: rHace},
	"today":                {role: rOffset, val: 0},
	"yesterday":            {role: rOffset, val: -1},
	"day before yesterday": {role: rOffset, val: -2},
	"last":                 {role: rLast},
	"behind last":          {role: rSomeday},

	// Guards.
	"not":          {guard: gNegation},
	"plan":         {guard: gPlan},
	"if":           {guard: gIf},
	"order":        {guard: gOrder},
	"maybe":        {guard: gHedge},
	"asks":         {guard: gAsk},
	"takes back":   {guard: gFix},
	"part of herd": {guard: gPart},
	"others":       {guard: gOther},
	"things":       {guard: gThing},
	"rain":         {guard: gRain, set: sEvent, event: eRain}, // where it is said how much fell
	"wet":          {guard: gRain},
	"other time":   {guard: gBefore},
	"to come":      {guard: gToCome},
	"while":        {guard: gWhen},

	// Animals.
	"cows":      {stock: cows},
	"heifers":   {stock: heifers},
	"steers":    {stock: steers},
	"bulls":     {stock: bulls},
	"calves":    {stock: calves},
	"yearlings": {stock: yearlings},
	"sheep":     {stock: sheep},
	"goats":     {stock: goats},
	"horses":    {stock: horses},
	"bison":     {stock: bison},
}

// plantRow begins the name of a row that lists the names of a hazard plant.
const plantRow = "plant "

// meaningOf is a meaning by its name; an event's is the word of its own, and a
// hazard plant's the name that the farm file has for it.
func meaningOf(name string) (lex, bool) {
	if e := eventOf(name); e != noEvent {
		return lex{set: sEvent, event: e}, true
	}
	if plant, ok := strings.CutPrefix(name, plantRow); ok {
		return lex{set: sPlant, plant: plant}, true
	}
	m, ok := meanings[name]
	return m, ok
}

// An event is a kind of fact with a word of its own, by its place in the table.
type event uint8

// The events that single rules name.
const (
	noEvent event = iota
	eHayed
	eBurned
	eBrown
	eRegrowth
	eClear
	eDry
	eDryOver
	eWean
	eRain
)

// events are the plain events: each is a meaning in heard.txt and the kind of
// fact that it makes, and is weighed by a column of weights.tsv.
var events = []struct {
	word   string
	kind   diary.Kind
	column column
	past   bool // the word itself says that it is over
}{
	eHayed:    {"hayed", diary.Hayed, cEvent, true},
	eBurned:   {"burned", diary.Burned, cEvent, true},
	eBrown:    {"brown", diary.Brown, cLooser, true},
	eRegrowth: {"regrowth", diary.Regrowth, cStricter, true},
	eClear:    {"clear", diary.Clear, cLooser, false},
	eDry:      {"dry", diary.Dry, cEvent, false},
	eDryOver:  {"dry over", diary.DryOver, cLooser, false},
	eWean:     {"weaned", diary.Wean, cEvent, true},
	eRain:     {"rained", diary.Rain, cStricter, true},
}

// eventOf finds an event by its word.
func eventOf(word string) event {
	for e := range events {
		if events[e].word == word {
			return event(e)
		}
	}
	return noEvent
}
