package herd

import (
	"stubbled/scheduler/figure"
	"stubbled/scheduler/spell"
)

// Kind is a class of stock with its animal-unit equivalent.
type Kind struct {
	Name    string   // as the table has it, commas included
	Aliases []string // other words understood
	// AUE is the animal-unit equivalent of the published table, which holds for
	// an animal of the table's own weight.
	AUE figure.Figure
	// UsualLb is the weight taken where a herd gives none, for classes that are
	// then counted by weight and not by the table; 0 for the others.
	UsualLb float64
	// Calf is whether a calf runs with each animal.
	Calf bool
	Is   Animal
}

// Animal is what a class of stock is, as far as plants harm one and not another.
type Animal string

const (
	Cattle Animal = "cattle"
	Horse  Animal = "horse"
	Sheep  Animal = "sheep"
	Goat   Animal = "goat"
	Game   Animal = "game"
)

const auTable = "eXtension 'animal units', 2015, there from the NRCS National Range and Pasture Handbook"

func aue(v float64) figure.Figure { return figure.Figure{Value: v, Mark: figure.Read, Source: auTable} }

// Kinds is the published table. 'Cow with calf' is 1.00 there for a cow of about
// 1,000 lb; cows have grown since, so without a weight it counts 1,300 lb.
// Vallentine (1990, p. 279) sets a dry cow at 1.0 and a pair at 1.35 instead:
// the range is kept.
var Kinds = spell.Table[Kind]{
	{"cow with calf", []string{"cow", "cows", "cow calf", "cow calf pair", "cow calf pairs", "pair", "pairs", "cows with calves"},
		figure.Of(1.00, 1.00, 1.35, figure.Read, auTable), 1300, true, Cattle},
	{"cow, dry", []string{"dry cow", "dry cows", "cows dry"}, figure.Of(0.92, 0.92, 1.00, figure.Read, auTable), 0, false, Cattle},
	{"bull, mature", []string{"bull", "bulls", "mature bull", "mature bulls"}, figure.Of(1.35, 1.35, 1.5, figure.Read, auTable), 0, false, Cattle},
	{"cattle, 1 yr", []string{"cattle 1 year", "yearling", "yearlings", "yearling cattle", "stocker", "stockers", "steer", "steers", "heifer", "heifers"},
		figure.Of(0.60, 0.6, 0.7, figure.Read, auTable), 0, false, Cattle},
	{"cattle, 2 yr", []string{"cattle 2 year", "two year old cattle", "2 year old cattle", "bred heifer", "bred heifers"},
		figure.Of(0.80, 0.8, 0.9, figure.Read, auTable), 0, false, Cattle},
	{"horse, mature", []string{"horse", "horses", "mature horse"}, aue(1.25), 0, false, Horse},
	{"sheep, mature", []string{"sheep", "ewe", "ewes", "mature ewe", "mature ewes", "mature sheep", "ram", "rams"}, aue(0.20), 0, false, Sheep},
	{"lamb, 1 yr", []string{"lamb", "lambs", "lamb 1 year"}, aue(0.15), 0, false, Sheep},
	{"goat, mature", []string{"goat", "goats", "mature goat", "doe goat", "nanny"}, aue(0.15), 0, false, Goat},
	{"kid, 1 yr", []string{"kid", "kids", "kid 1 year"}, aue(0.10), 0, false, Goat},
	{"white-tailed deer", []string{"deer", "whitetail"}, aue(0.15), 0, false, Game},
	{"mule deer", nil, aue(0.20), 0, false, Game},
	{"elk", nil, aue(0.60), 0, false, Game},
	{"antelope", []string{"pronghorn"}, aue(0.20), 0, false, Game},
	{"bison, mature", []string{"bison", "mature bison", "buffalo"}, aue(1.00), 0, false, Game},
	{"bighorn sheep", nil, aue(0.20), 0, false, Game},
}

// Called is the name of a kind of stock, and other words for it.
func (k Kind) Called() (string, []string) { return k.Name, k.Aliases }
