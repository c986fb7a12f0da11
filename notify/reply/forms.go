package reply

// form is what a clause says.
type form uint8

// The forms.
const (
	fTalk    form = iota // a token that no clause takes up
	fReading             // a paddock and its heights
	fBare                // heights alone
	fRange               // creek 8-10
	fPlace               // a name alone
	fOff
	fOn
	fStill // animals are in, or in again
	fMove  // from one paddock to another
	fFrost
	fNoFrost // is found as a frost, and weighed as what makes looser
	fEvent
	fStricter // an event that makes things stricter
	fLooser
	fDead // animals dead, down or ill
	fPlant
	fLater
	fUndo
	fStatus
	forms
)

// A shape is what may make up a clause of a form. A clause begins and ends on a
// token of its core; what is free may stand anywhere in it and says nothing
// there; anything else in it counts against it.
type shape struct {
	core, free senses
	column     column
	bonus      float64 // above one clause that says less, or below
}

// What may stand in a clause of any form.
const (
	freeAny  = sFill | sDate | sSoft | sClock | sBe | sIt | sColon | sDash | sAck | sField
	freeRead = freeAny | sMeasure | sWeak | sAbout | sAvg | sGrass | sWas | sAt | sOn | sIn | sPlants | sComma | sAnd | sFrom | sTo | sAll
	coreMove = sPlace | sHerd | sStock | sAll | sMoved | sPut | sWent | sLeft | sGone | sOff | sOut
	freeMove = freeAny | sAt | sAnd | sWas
	where    = sAt | sOn | sIn

	coreEvent = sEvent | sPlace
	freeEvent = freeAny | sComma | sGrass | where | sOff | sFrom | sTo | sMeasure | sWeak | sAbout | sAll | sCold | sWas | sAnd
)

// shapes is the grammar of a clause.
var shapes = [forms]shape{
	fReading:  {core: sPlace | sNum, free: freeRead, column: cHeight},
	fBare:     {core: sNum, free: freeRead, column: cBare, bonus: -1},
	fRange:    {core: sPlace | sRange | sNum, free: freeRead, column: cHeight},
	fPlace:    {core: sPlace, free: freeAny | sGrass | sMeasure | where, column: cHeight, bonus: -8},
	fOff:      {core: coreMove | sFrom | sEmpty, free: freeMove, column: cOff},
	fOn:       {core: coreMove | where | sTo, free: freeMove, column: cOn},
	fStill:    {core: coreMove&^sLeft | where | sTo | sLeft | sStay | sBeast, free: freeMove | sComma | sMeasure | sWeak | sAbout | sFrom | sCold, column: cAlarm, bonus: 4},
	fMove:     {core: coreMove | where | sTo | sFrom, free: freeMove | sComma, column: cOff, bonus: 3},
	fFrost:    {core: sFrost | sTemp | sPlace | sNum | sRange, free: freeAny | sCold | sGrass | where | sAll | sStock | sWas | sComma | sMeasure | sFrom | sTemp, column: cStricter},
	fNoFrost:  {core: sFrost | sPlace, free: freeAny | sCold | where | sAll | sWas | sMeasure, column: cLooser},
	fEvent:    {core: coreEvent | sNum | sHerd | sStock, free: freeEvent, column: cEvent},
	fStricter: {core: coreEvent | sNum | sHerd | sStock, free: freeEvent, column: cStricter},
	fDead:     {core: sDead | sDown | sPlace | sNum | sHerd | sStock | sBeast, free: freeEvent | motions | sOut | sCold | sGrass, column: cAlarm},
	fLooser:   {core: coreEvent, free: freeEvent &^ (sMeasure | sWeak | sAbout), column: cLooser},
	fPlant:    {core: sPlant | sPlace | sDown | sWilt, free: freeAny | where | sCold | sMeasure | sAll | sFrom | sWeak | sAnd, column: cStricter},
	fLater:    {core: sLater | sPlace | sDur | sMorrow, free: freeAny | where | sAbout | sTo, column: cRequest},
	fUndo:     {core: sUndo | sThat | sFrost | sEvent | sDead | sPlant | sDown | sWilt | sPlace, free: freeAny | where | sAbout | sHerd | sStock | sBeast, column: cRequest},
	fStatus: {core: sStatus | sNamed | sVerb | sPlace, column: cRequest,
		free: freeAny | where | sTo | sFrom | sMeasure | sWeak | sGrass | sAll},
}

// startsWith and freeIn give, for the senses of a token, the forms whose core
// it may be and those in which it is free, one bit a form.
func startsWith(set senses) (bits uint32) {
	for f := range shapes {
		if set&shapes[f].core != 0 {
			bits |= 1 << f
		}
	}
	return bits
}

func freeIn(set senses) (bits uint32) {
	for f := range shapes {
		if set&(shapes[f].core|shapes[f].free) != 0 {
			bits |= 1 << f
		}
	}
	return bits
}
