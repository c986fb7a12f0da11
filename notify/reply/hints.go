package reply

import "strings"

// A hint is what a single rule asks of a word, by the row of heard.txt that
// lists such words. It gives a word no meaning: one with nothing but hints is
// unknown.
type hint string

// The hints.
const (
	hAbbreviated    hint = "abbreviated"
	hHundred        hint = "hundred"
	hJoinsName      hint = "joins a name"
	hJoinsTens      hint = "joins tens"
	hJoinedTens     hint = "joined tens"
	hDecimalComma   hint = "decimal comma"
	hOrdinal        hint = "ending of a day"
	hOfMonth        hint = "of a month"
	hBeforeYear     hint = "before a year"
	hBeforeDay      hint = "before a day"
	hBeforeDayOnly  hint = "before a day only"
	hBeforeHour     hint = "before an hour"
	hBeforeHourToo  hint = "before an hour of two words"
	hStems          hint = "stems"
	hPutsRight      hint = "puts a number right"
	hSpot           hint = "spot"
	hBeginsSpot     hint = "begins a spot"
	hPastEnds       hint = "ending of the past"
	hBeforeOrAfter  hint = "before or after"
	hEffort         hint = "what it took"
	hBeforeHeads    hint = "before heads"
	hCountedOne     hint = "counted one"
	hIsh            hint = "nearly"
	hCountOf        hint = "number of plants"
	hSubject        hint = "subject"
	hSince          hint = "since a day"
	hAdverb         hint = "ending of an adverb"
	hNobody         hint = "nobody"
	hSinceThen      hint = "since that day"
	hNoTrace        hint = "no trace of it"
	hYours          hint = "said to whom it is yours"
	hOfHer          hint = "of an animal"
	hWhose          hint = "whose"
	hNextDoor       hint = "next door"
	hPhone          hint = "telephone"
	hWriter         hint = "writer"
	hCompany        hint = "company of"
	hNext           hint = "next number"
	hSoThen         hint = "so then"
	hEats           hint = "eats"
	hNoIllness      hint = "no illness behind"
	hException      hint = "exception"
	hEverywhere     hint = "everywhere or much"
	hDenies         hint = "begins a denial"
	hBehindSale     hint = "behind a sale"
	hBehindNews     hint = "behind news"
	hNoSale         hint = "no sale"
	hPastHour       hint = "past an hour"
	hNoName         hint = "no name"
	hPartOfDay      hint = "part of a day"
	hElsewhere      hint = "place of others"
	hDeed           hint = "deed"
	hHearsay        hint = "hearsay"
	hOrRather       hint = "or rather"
	hModal          hint = "may or can"
	hLate           hint = "told late"
	hCompared       hint = "compared with"
	hWithout        hint = "without"
	hAnother        hint = "another number"
	hDigitTo        hint = "to in a digit"
	hLeftBehind     hint = "left behind"
	hBesideNumber   hint = "beside a number only"
	hDid            hint = "did and read"
	hTill           hint = "till then"
	hJoins          hint = "asks or joins"
	hAnyMore        hint = "any more"
	hMany           hint = "ending of many"
	hBoth           hint = "both"
	hCelsius        hint = "celsius"
	hFahrenheit     hint = "fahrenheit"
	hQuestionMark   hint = "question mark"
	hBeginsQuestion hint = "begins a question"
	hPronoun        hint = "pronoun"
	hSorry          hint = "sorry"
	hGround         hint = "ground"
	hUntil          hint = "until then"
	hFrosted        hint = "frost is seen on it"
	hHolds          hint = "holds"
	hWordToo        hint = "weekday or word"
	hLost           hint = "lost"
	hThere          hint = "there"
	hThermometer    hint = "thermometer"
	hOfAir          hint = "of the air"
	hSees           hint = "sees"
	hNoDay          hint = "before no day"
	hLetter         hint = "sounds like a letter"
	hShortOf        hint = "short of"
	hDownTo         hint = "down to"
	hFrostComes     hint = "frost to come"
	hOfFrost        hint = "of a frost"
	hGateOpen       hint = "gate was open"
	hAlmostFroze    hint = "almost froze"
	hFellTo         hint = "fell to"
	hOfNight        hint = "of a night"
	hBelowZero      hint = "below zero"
	hSign           hint = "sign of frost"
	hAllTheSame     hint = "all the same"
	hCause          hint = "cause"
	hYes            hint = "yes, it froze"
	hBut            hint = "but"
	hDidSo          hint = "did so"
	hJust           hint = "just"
	hWater          hint = "water"
	hTag            hint = "before a tag"
	hGrowing        hint = "growing back"
	hDrought        hint = "drought and nothing else"
	hUneasy         hint = "may be of danger"
	hIce            hint = "ice"
	hWhite          hint = "white"
	hKills          hint = "kills plants"
	hTender         hint = "tender plants"
	hChill          hint = "chill"
	hOne            hint = "one of them"
	hHorse          hint = "one horse"
	hRiding         hint = "on horseback"
	hBody           hint = "of a body"
	hAtEase         hint = "at ease"
	hFells          hint = "fells"
	hAnyTree        hint = "any tree"
	hCuts           hint = "cuts grass"
	hForHay         hint = "of cut grass"
	hBesideNews     hint = "beside news"
	hOfBales        hint = "of bales"
	hCounting       hint = "counting"
	hNotQuite       hint = "not quite"
	hGotThem        hint = "got them all the same"
	hClitic         hint = "them before a verb"
	hComesBy        hint = "comes by then"
	hHard           hint = "hard frost"
	hStiff          hint = "stiff by night"
	hDew            hint = "dew"
	hPrice          hint = "of a price"
	hTakesAway      hint = "takes away"
	hFinished       hint = "finished"
	hNotThat        hint = "not that"
	hNone           hint = "none of them"
	hChoice         hint = "letter of a choice"
	hNameComes      hint = "name comes"
	hNameCame       hint = "name came"
	hArrives        hint = "arrives"
	hPlacedPast     hint = "placed, and past"
	hKindly         hint = "asks kindly"
	hQuoted         hint = "quoted"
	hArticle        hint = "article"
	hGreen          hint = "green"
	hThanks         hint = "thanks"
	hAlready        hint = "already"
	hIsPast         hint = "is past"
	hPastFrost      hint = "past frost"
	hMayBeToCome    hint = "may be to come"
	hEndsToCome     hint = "ending may be to come"
	hNeedsAnimals   hint = "needs animals"
	hAnimalsBehind  hint = "animals behind"
	hWaterFroze     hint = "water froze"
	hYoung          hint = "young of a herd"
	hNow            hint = "now"
	hGot            hint = "got"
	hMayBeRain      hint = "may be of rain"
	hNight          hint = "at night"
	hMorning        hint = "part of morning"
)

// The rows that list whole texts, with {n} for a number, {herd} and {paddock} for a
// name, {cells} for counts: see told.go.
const (
	hSold       hint = "tells sold"
	hBought     hint = "tells bought"
	hHead       hint = "tells head"
	hHay        hint = "tells hay"
	hMoreHay    hint = "tells more hay"
	hLessHay    hint = "tells hay sold"
	hFed        hint = "tells fed"
	hUndoSold   hint = "undoes sold"
	hUndoBought hint = "undoes bought"
	hUndoHead   hint = "undoes head"
	hUndoHay    hint = "undoes hay"
	hUndoFed    hint = "undoes fed"
	hUndoWish   hint = "undoes wish"
	hWishLeave  hint = "wishes to leave"
	hWishRest   hint = "wishes to rest"
	hFenceDown  hint = "tells fence down"
	hGrid       hint = "tells grid"
	hWhereNext  hint = "asks where next"
	hFeed       hint = "asks of feed"
	hWhen       hint = "asks when it shuts"
	hWhenFrost  hint = "asks when it freezes"
	hHowTall    hint = "asks how tall"
	hDaysLeft   hint = "asks for days"
	hHowLow     hint = "asks how low"
)

// What begins a supposing, and the words in it: see suppose.go.
const (
	hWhatIf    hint = "what if"
	hMore      hint = "supposes more"
	hIn        hint = "supposes from now"
	hIfStay    hint = "supposes to stay"
	hIfMove    hint = "supposes to move"
	hIfLeave   hint = "supposes to leave"
	hIfSell    hint = "supposes to sell"
	hIfBuy     hint = "supposes to buy"
	hIfOut     hint = "supposes out"
	hIfNothing hint = "supposes nothing"
)

// hinted reports whether a word or phrase has a hint, in any language.
func (r *Reader) hinted(w string, h hint) bool { return r.voc.hints[h][w] }

// tells reports whether a token has a hint, with its accents or without.
func (r *Reader) tells(t *token, h hint) bool {
	if r.hinted(t.s, h) || t.span < 2 {
		return r.hinted(t.s, h) || r.hinted(t.f, h)
	}
	return r.hinted(fold(t.s), h)
}

// holdsPart reports whether a part of a word has a hint.
func (r *Reader) holdsPart(w string, h hint) bool {
	for part := range r.voc.hints[h] {
		if strings.Contains(w, part) {
			return true
		}
	}
	return false
}

// endsIn reports whether the end of a word has a hint.
func (r *Reader) endsIn(w string, h hint) bool {
	for end := range r.voc.hints[h] {
		if strings.HasSuffix(w, end) {
			return true
		}
	}
	return false
}

// writes reports whether a text holds a word or phrase with a hint anywhere.
func (p *parser) writes(h hint) bool {
	for phrase := range p.reader.voc.hints[h] {
		if strings.Contains(" "+p.text+" ", " "+phrase+" ") {
			return true
		}
	}
	return false
}
