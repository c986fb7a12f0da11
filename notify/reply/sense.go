package reply

// senses is a set of the parts that a word may play in a clause. A word with
// no sense is unknown, and nothing is recorded from a clause that holds one.
type senses uint64

// The parts of a clause.
const (
	sComma senses = 1 << iota
	sStop         // the end of a sentence
	sColon
	sDash
	sSlash
	sAnd
	sPlace  // a paddock, by name
	sHerd   // a herd, by name
	sStock  // the animals, unnamed: cattle, them, everything
	sAll    // all, whole, both
	sNum    // a number that may be a height
	sRange  // 8-10
	sPlants // 20 plants
	sTemp   // 31 degrees
	sDate   // a day that is past
	sSoft   // a day that may be past or to come: friday, this evening
	sMorrow // tomorrow
	sClock  // 6:30
	sDur    // 2d
	sFill   // says nothing: the, now, also
	sBe     // is, are
	sWas    // was: may tell of another day
	sIt
	sMeasure // measured, inches of, tall, grass
	sWeak    // has, left: a height only where a unit stands beside it
	sAbout
	sAvg
	sField // pasture, potrero
	sGrass // grass, tops, the part of the plant that turns brown or burns
	sAt
	sOn
	sIn
	sTo
	sOff   // off, out of, fuera de
	sOut   // out, without of
	sFrom  // from, de
	sMoved // a motion that is over and was done to animals: moved, pulled
	sPut   // put, turned, let, metí
	sWent  // a motion that is over: went, came
	sLeft  // left
	sGone  // salieron: off, without a word for it
	sEmpty
	sFrost
	sCold // light, heavy, first: what is said beside frost
	sLater
	sUndo
	sThat // that, it, last: what undo may name
	sStatus
	sAck
	sChat
	sNamed // a word that asks how a paddock does: how, when, can I graze
	sVerb  // shut, ready, graze: what such a question ends on
	sEvent // a word of a plain event: brown, hayed
	sDead  // dead, down: of an animal
	sPlant // a hazard plant
	sBeast // one animal, which is no herd
	sDown  // down, wilted: of a tree or an animal
	sWilt  // wilted, broken: of a tree
	sTree  // a hazard plant that is dangerous where it is down
	sStay  // still, again: animals that are in, or in again
)

// role is what a word may do inside a number, a date or a quantity, before
// clauses are looked for.
type role uint8

// The roles.
const (
	noRole    role = iota
	rNumber        // eight; val is the number
	rTens          // twenty: may be followed by a unit
	rHalf          // half, medio
	rTenth         // tenths, hundredths; val is one of them
	rPoint         // dictated decimal point
	rUnit          // inch, cm; val is inches
	rFoot          // foot, feet
	rUnitIn        // in: a unit or a preposition
	rSpan          // day, hour; val is hours
	rMonth         // val is the month
	rWeekday       // val is time.Weekday
	rOffset        // yesterday; val is days
	rAgo           // ago
	rHace          // hace 2 días
	rAmPm          // am, pm, o'clock
	rDegree        // degrees
	rHead          // head
	rPlant         // plants
	rQuantity      // acres, bales, gallons
	rRangeTo       // to, thru, or, a
	rBetween       // between
	rArticle       // a, one, un: one of a unit
	rAte           // ate, heard for eight
	rLast          // last, pasado: before a weekday
	rSomeday       // week, month: after last
)

// guard is why a word keeps what stands beside it out of the diary.
type guard uint8

// The guards.
const (
	noGuard   guard = iota
	gNegation       // not, never, sin
	gPlan           // will, going to, voy a
	gIf             // if, when, unless
	gOrder          // take, move, saca
	gHedge          // maybe, I think, said
	gAsk            // a word that begins a question
	gFix            // I mean, just kidding, wait
	gPart           // some, half, 5 cows
	gOther          // the neighbor's
	gThing          // truck, gate, water
	gRain           // rain, gauge, snow
	gBefore         // last week, used to be: another time
	gToCome         // tonight, soon: a day to come
	gWhen           // when, while, before: what follows is no news
	gDay            // a date that cannot be
	gBad            // a number that is no height
	gUnknown        // none of the words on file
)

// A lex is what is known of a word or a phrase.
type lex struct {
	set   senses
	role  role
	val   float64
	guard guard
	stock stockKind
	event event  // of sEvent
	plant string // of sPlant, as the farm file spells it
}

// stockKind is a kind of animal as people name it.
type stockKind uint8

// The kinds of animals.
const (
	noStock stockKind = iota
	cows
	heifers
	steers
	bulls
	calves
	yearlings
	sheep
	goats
	horses
	bison
)

// cattle reports whether people say cows to it without care.
func (k stockKind) cattle() bool { return k >= cows && k <= yearlings }
