package diary

import "strings"

// Kind says what a text was taken for.
type Kind string

// The kinds of the trade.
const (
	Reading  Kind = "reading"  // one visit to one paddock: plant heights
	Off      Kind = "off"      // animals have left the paddock
	On       Kind = "on"       // animals were turned in
	Hayed    Kind = "hayed"    // cut for hay; Heights[0], if any, is the height left
	Burned   Kind = "burned"   // burned over
	Frost    Kind = "frost"    // a minimum of 36 F or below, measured (TempC) or seen by a person
	Brown    Kind = "brown"    // the tops are brown: dormant
	Regrowth Kind = "regrowth" // green regrowth seen on hazard plants after frost
	Clear    Kind = "clear"    // the manager ends a hold: checked on the ground
	Dry      Kind = "dry"      // the manager calls a drought: no growth is promised
	Wean     Kind = "wean"     // the calves of a herd were weaned
	NoFrost  Kind = "no-frost" // a person says that it has not frozen; good for 7 days
	DryOver  Kind = "dry-over" // the manager calls the drought ended
	Rain     Kind = "rain"     // Amount inches fell; 0 where nobody says how much
	Plant    Kind = "plant"    // a hazard Plant was seen in the paddock
	Danger   Kind = "danger"   // wild cherry is down or wilted
	Horses   Kind = "horses"   // horses that no herd on file is of are in the paddock, or to go in
	// An Emergency is an animal dead, down, bloated or staggering.
	Emergency Kind = "emergency"
	Sold      Kind = "sold"   // Amount head of a herd left the farm
	Bought    Kind = "bought" // Amount head came to a herd
	Head      Kind = "head"   // a herd has Amount head
	Hay       Kind = "hay"    // Amount bales are on hand; more of them where it Adds
	Fed       Kind = "fed"    // Amount bales were fed
	Wish      Kind = "wish"   // the manager would have the farm file say Heights[0] to leave, or so long a rest (Wait)
	Grid      Kind = "grid"   // a frame count: Heights are cells of 25 with a plant, throw by throw
	Note      Kind = "note"   // passed on to the managers; it changes no sum
	Later     Kind = "later"  // put a rung off
	Ack       Kind = "ack"    // the newest open question was confirmed
	Void      Kind = "void"   // takes Voids back

	WhereNext Kind = "where-next" // where a herd goes next; every herd where none is named
	FeedLasts Kind = "feed"       // how far the feed reaches
	When      Kind = "when"       // when a paddock shuts; the frost where none is named
	HowTall   Kind = "how-tall"   // what a paddock's last height was
	DaysLeft  Kind = "days"       // how many days of grass a paddock has
	// WhatIf asks what would come of it: Wait longer in a paddock; a herd in another from
	// Day on; Heights[0] left; Amount head more, fewer where negative.
	WhatIf Kind = "what-if"
	HowLow Kind = "how-low" // how low a paddock may be grazed today; every grazed one where none is named

	Undo   Kind = "undo"
	Status Kind = "status"
	Help   Kind = "help"
	Stop   Kind = "stop"
	Start  Kind = "start"
)

// A Row is what is so of every fact of a kind. Where nothing is said a fact is
// written in the diary, of one paddock, for any contact to say.
type Row struct {
	Request bool // done when it is heard, and not written in the diary
	Farm    bool // of the whole farm where no paddock is named
	Named   bool // its paddock must be named: none is taken from what was asked
	Manager bool // only the manager may say it
	Looser  bool // animals may be let in because of it: a caution goes with its answer
	Late    bool // may be told long after its day
	Answers bool // answers what was asked of its paddock
	Moves   bool // says where animals are
	Rare    bool // found without reading the whole diary: see Book.Every
	Cuts    bool // takes the stand: a height read before it says nothing any more
	Shuts   bool // ground may be shut because of it
	Feeds   bool // where the herds eat may be planned otherwise because of it
}

var kinds = map[Kind]Row{
	Reading:   {Answers: true, Feeds: true},
	Off:       {Answers: true, Moves: true, Rare: true, Feeds: true},
	On:        {Answers: true, Moves: true, Rare: true, Feeds: true},
	Hayed:     {Cuts: true, Feeds: true},
	Burned:    {Cuts: true, Feeds: true},
	Frost:     {Farm: true, Late: true, Rare: true, Shuts: true, Feeds: true},
	Brown:     {Farm: true, Looser: true, Rare: true, Shuts: true, Feeds: true},
	Regrowth:  {Rare: true, Shuts: true, Feeds: true},
	Clear:     {Named: true, Manager: true, Looser: true, Rare: true, Feeds: true},
	Dry:       {Farm: true, Manager: true, Rare: true, Shuts: true, Feeds: true},
	Wean:      {Farm: true, Rare: true, Feeds: true},
	NoFrost:   {Farm: true, Looser: true, Rare: true, Feeds: true},
	DryOver:   {Farm: true, Manager: true, Looser: true, Rare: true, Feeds: true},
	Rain:      {Farm: true, Late: true, Rare: true, Feeds: true},
	Plant:     {Rare: true, Shuts: true, Feeds: true},
	Danger:    {Rare: true, Shuts: true, Feeds: true},
	Horses:    {Rare: true, Shuts: true, Feeds: true},
	Emergency: {Farm: true, Rare: true, Shuts: true, Feeds: true},
	Sold:      {Farm: true, Late: true, Rare: true, Feeds: true},
	Bought:    {Farm: true, Late: true, Rare: true, Feeds: true},
	Head:      {Farm: true, Late: true, Rare: true, Feeds: true},
	Hay:       {Farm: true, Late: true, Rare: true},
	Fed:       {Farm: true, Late: true, Rare: true},
	Grid:      {Named: true, Rare: true},
	Wish:      {Manager: true, Rare: true},
	Note:      {Farm: true},
	Later:     {Farm: true, Answers: true, Rare: true},
	Ack:       {Answers: true},
	Void:      {},

	WhereNext: {Request: true},
	FeedLasts: {Request: true},
	When:      {Request: true},
	HowTall:   {Request: true},
	DaysLeft:  {Request: true},
	WhatIf:    {Request: true},
	HowLow:    {Request: true},

	Undo:   {Request: true},
	Status: {Request: true},
	Help:   {Request: true},
	Stop:   {Request: true},
	Start:  {Request: true},
}

// asked ends a kind of which nobody knows yet whether it is so: frost? is a question
// about one that waits for its answer.
const asked = "?"

// Asked is the kind of a question whether a fact of this one is so.
func (k Kind) Asked() Kind { return k + asked }

// About is the kind that a question asks about; isAsked is false of what was told.
func (k Kind) About() (of Kind, isAsked bool) {
	told, isAsked := strings.CutSuffix(string(k), asked)
	return Kind(told), isAsked
}

// Row is what the table says of a kind.
func (k Kind) Row() Row {
	if of, isAsked := k.About(); isAsked {
		return Row{Farm: kinds[of].Farm, Rare: true}
	}
	return kinds[k]
}

// index is where a rare kind is found: those that tell of moves, of head or of hay together.
func (k Kind) index() Kind {
	if _, isAsked := k.About(); isAsked {
		return asked
	}
	switch k {
	case Off:
		return On
	case Wean, Sold, Bought:
		return Head
	case Fed:
		return Hay
	}
	return k
}

// Recorded reports whether facts of a kind are written in the diary; the others
// are requests.
func (k Kind) Recorded() bool { return !kinds[k].Request }
