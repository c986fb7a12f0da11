package reply

// form is what a clause says.
type form uint8

// The forms.
const (
	fReading form = iota + 1 // creek 9 8
	fNumberFirst
	fBare  // 9 8: numbers alone
	fRange // creek 8-10
	fPlace // creek: a name alone
	fOff
	fOn
	fOffAt // off creek, 6 inches left
	fMove  // from one paddock to another
	fBareOff
	fBareOn
	fFrost
	fLater
	fUndo
	fUndoFrost
	fStatus
	fAck
	fChat
	fNothing
	fEvent // the first of those in events.go
)

// What may stand anywhere in a clause without a meaning there.
const (
	skipAny   = sFill | sDate | sSoft | sClock
	skipRead  = skipAny | sBe | sWas | sMeasure | sWeak | sAbout | sAvg | sGrass | sIt | sUs
	skipEvent = skipAny | sBe | sField
	skipLeft  = skipEvent | sMeasure | sWeak | sAbout | sGrass | sIt
	skipFrost = skipAny | sBe | sWas | sIt | sUs | sAux | sCold | sTemp | sGrass | sField
	skipTops  = skipAny | sBe | sGrass | sField | sAll | sIt
	skipAsk   = skipAny | sPlease | sField | sBe
)

// Costs. The reading of a text with the lowest sum is taken; what names a
// paddock or numbers alone only stands where nothing better does.
const (
	cheap      = 2
	dearer     = 3
	bareCost   = 60
	placeCost  = 70
	errorCost  = 1000
	errorToken = 10
)

// rules is the grammar of a clause. Upper-case words are caught; a lower-case
// word only has to stand there.
var rules = []rule{
	pattern(fReading, cheap, skipRead, "PLANTS? at|in|on|from? paddock? PLACE paddock? mark? PLANTS? at|in? mark? NUM+ PLANTS?"),
	pattern(fNumberFirst, cheap, skipRead, "NUM+ PLANTS? at|in|on? paddock? PLACE paddock?"),
	pattern(fRange, cheap, skipRead, "at|in|on? paddock? PLACE paddock? mark? at? NUM* and? RANGE+"),
	pattern(fRange, cheap, skipRead, "RANGE at|in|on? PLACE?"),
	pattern(fBare, bareCost, skipRead, "NUM+ PLANTS?"),
	pattern(fBare, bareCost, skipRead, "at NUM+ PLANTS?"),
	pattern(fPlace, placeCost, skipAny|sField|sGrass|sBe|sMeasure|sPlease, "at|in|on? PLACE"),

	pattern(fOff, cheap, skipEvent, "STOCK* off from:PLACE+"),
	pattern(fOff, cheap, skipEvent, "STOCK+ off at|from from:PLACE+"),
	pattern(fOff, cheap, skipEvent, "off mark STOCK* from:PLACE+"),
	pattern(fOff, cheap, skipEvent, "from:PLACE+ mark? STOCK* have? moved? off"),
	pattern(fOff, cheap, skipEvent, "we? have? moved STOCK* off|from from:PLACE+"),
	pattern(fOff, cheap, skipEvent, "we? moved? STOCK+ have? moved STOCK* out? off|from from:PLACE+"),
	pattern(fOff, cheap, skipEvent, "we? have? put STOCK+ off from:PLACE+"),
	pattern(fOff, cheap, skipEvent, "STOCK+ have? went out? off|from from:PLACE+"),
	pattern(fOff, cheap, skipEvent, "have? went STOCK* off from:PLACE+"),
	pattern(fOff, cheap, skipEvent, "STOCK+ have? left from? from:PLACE+"),
	pattern(fOff, cheap, skipEvent, "from:PLACE+ mark? is? empty"),
	pattern(fOff, cheap, skipEvent, "empty from:PLACE+"),
	pattern(fOffAt, cheap, skipLeft, "STOCK* off from:PLACE mark? at? NUM+"),
	pattern(fOffAt, cheap, skipLeft, "we? have? moved STOCK* off|from from:PLACE mark? at? NUM+"),
	pattern(fOffAt, cheap, skipLeft, "STOCK+ have? moved|went out? off|from from:PLACE mark? at? NUM+"),
	pattern(fBareOff, dearer, skipEvent, "STOCK* off STOCK*"),
	pattern(fBareOff, dearer, skipEvent, "we? have? moved STOCK+ off"),
	pattern(fBareOff, dearer, skipEvent, "STOCK* gone STOCK*"),
	pattern(fBareOff, dearer, skipEvent, "we? moved STOCK+ out"),

	pattern(fMove, cheap, skipEvent, "we? moved? have? STOCK* have? moved|went STOCK* off|from from:PLACE out? and? to|on|in+ to:PLACE"),
	pattern(fMove, cheap, skipEvent, "we? have? STOCK* have? moved|went STOCK* out? to|on|in+ to:PLACE off|from from:PLACE"),
	pattern(fMove, cheap, skipEvent, "STOCK* off from:PLACE out? and? to|on|in+ to:PLACE STOCK*"),

	pattern(fOn, cheap, skipEvent, "STOCK+ on|in+ to:PLACE+"),
	pattern(fOn, cheap, skipEvent, "on to:PLACE+ STOCK*"),
	pattern(fOn, cheap, skipEvent, "on to:PLACE+ mark STOCK+"),
	pattern(fOn, cheap, skipEvent, "in to:PLACE+ mark? STOCK+"),
	pattern(fOn, cheap, skipEvent, "on mark STOCK* to:PLACE+"),
	pattern(fOn, cheap, skipEvent, "we? have? put STOCK* out? on|in|to+ to:PLACE+ STOCK*"),
	pattern(fOn, cheap, skipEvent, "we? have? moved STOCK+ out? to|on|in+ to:PLACE+"),
	pattern(fOn, cheap, skipEvent, "we? have? moved out? to|on|in+ to:PLACE+ STOCK*"),
	pattern(fOn, cheap, skipEvent, "we? moved? STOCK+ have? moved|went|put out? to|on|in+ to:PLACE+"),
	pattern(fOn, cheap, skipEvent, "went STOCK+ to|on|in+ to:PLACE+"),
	pattern(fOn, cheap, skipEvent, "to:PLACE mark? STOCK+ on|in"),
	pattern(fBareOn, dearer, skipEvent, "STOCK+ on|in"),
	pattern(fBareOn, dearer, skipEvent, "we? have? put STOCK+ on|in"),

	pattern(fFrost, cheap, skipFrost, "FROST at|on|in? at|on|in? PLACE*"),
	pattern(fFrost, cheap, skipFrost, "FROST at|on|in? PLACE+ mark temp"),
	pattern(fFrost, cheap, skipFrost, "FROST mark temp"),
	pattern(fFrost, cheap, skipFrost, "temp and FROST at|on|in? PLACE*"),
	pattern(fFrost, cheap, skipFrost, "at|on|in? PLACE+ mark? FROST"),
	pattern(fFrost, cheap, skipFrost, "FROST mark? at? NUM"),
	pattern(fFrost, cheap, skipFrost, "FROST mark? RANGE"),
	pattern(fHayed, cheap, skipEvent|sMeasure|sAbout|sUs|sWeak, "hayed hay? at|on|in|off|from? PLACE+ mark? at|to? NUM?"),
	pattern(fHayed, cheap, skipEvent|sMeasure|sAbout, "PLACE+ mark? have? hayed at|to? NUM?"),
	pattern(fHayed, dearer, skipEvent|sUs, "hayed hay? at|to? NUM?"),
	pattern(fBurned, cheap, skipEvent|sUs|sAux, "burned grass? at|on|in|from|off? PLACE+"),
	pattern(fBurned, cheap, skipEvent|sAux, "PLACE+ mark? burned"),
	pattern(fBurned, dearer, skipEvent|sUs, "burned grass?"),
	pattern(fBrown, cheap, skipTops, "brown at|on|in|from? PLACE*"),
	pattern(fBrown, cheap, skipTops, "at|on|in? PLACE+ mark? brown"),
	pattern(fBrown, cheap, skipTops, "grass at|on|in|from PLACE+ brown"),
	pattern(fRegrowth, cheap, skipEvent|sUs|sCold|sGrass, "regrowth at|on|in|from? PLACE+"),
	pattern(fRegrowth, cheap, skipEvent|sCold|sGrass, "PLACE+ mark? regrowth"),
	pattern(fRegrowth, dearer, skipEvent|sCold|sGrass, "regrowth"),
	pattern(fClear, cheap, skipAny, "clear PLACE+"),
	pattern(fClear, dearer, skipAny, "clear"),
	pattern(fDry, cheap, sDate, "dry"),
	pattern(fWean, cheap, skipAny|sUs|sAux, "weaned STOCK|young*"),
	pattern(fWean, cheap, skipAny|sBe|sAux, "STOCK|young weaned"),

	pattern(fLater, cheap, skipAny|sField|sPlease|sIt|sAbout, "later at|on|from? PLACE* at|in|to? DUR|MORROW?"),
	pattern(fLater, cheap, skipAny|sField|sPlease|sIt|sAbout, "later at|in? DUR at|on? PLACE+"),
	pattern(fLater, cheap, skipAny|sField|sPlease, "PLACE+ mark? later at|in? DUR|MORROW?"),
	pattern(fUndo, cheap, skipAny|sPlease, "undo that*"),
	pattern(fUndoFrost, cheap, skipAny|sPlease, "undo that? FROST at|on|in? PLACE?"),
	pattern(fStatus, cheap, skipAsk|sAll, "status at|on|from? PLACE*"),
	pattern(fStatus, cheap, skipAsk, "PLACE+ status"),

	pattern(fAck, cheap, sFill, "ack+"),
	pattern(fChat, cheap, sFill|sDate|sBe, "chat+"),
	pattern(fNothing, dearer, sFill|sDate|sSoft|sClock|sBe, "fill+"),
}

// questions is the grammar of a sentence that asks: only the state of a paddock
// can be asked for.
var questions = []rule{
	pattern(fStatus, cheap, skipAsk|sIt, "named verb* at|on|from|in|to? PLACE at? verb*"),
	pattern(fStatus, cheap, skipAsk|sIt, "is PLACE at? verb+"),
	pattern(fStatus, cheap, skipAsk|sAll, "named? status at|on|from? PLACE*"),
	pattern(fStatus, cheap, skipAsk, "PLACE status"),
	pattern(fStatus, cheap, skipAsk, "PLACE verb*"),
	pattern(fChat, cheap, sFill|sBe, "chat+"),
}
