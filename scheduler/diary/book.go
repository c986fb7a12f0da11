package diary

import (
	"cmp"
	"iter"
	"maps"
	"slices"
	"time"

	"github.com/golang-sql/civil"
)

// A Book is the live diary: the facts that still stand, in the order of the
// farm's days, found by paddock. Facts are added in the order of their ids. Its lists
// share them: none may be changed.
type Book struct {
	under     *Book            // that this one only adds to; nil for most
	byPaddock map[string]*list // "" is the whole farm
	frosts    []*Fact          // every frost, those taken back included
	rare      map[Kind]*list
	texted    map[string][]*Fact // by whom, in the order said
	standing  map[int64]*Fact
	voided    map[int64]*Fact // what was taken back
	voids     []*Fact         // by whom and when, in the order written
	last      int64
}

// A list is facts in their order, and how often it was changed otherwise than at
// its end: as long as that stays the same it has only grown.
type list struct {
	facts     []*Fact
	rewritten int
	late      int // the most days that any was told after its own
}

func (l *list) add(f *Fact) {
	l.late = max(l.late, civil.DateOf(f.At.UTC()).DaysSince(f.Day))
	if n := len(l.facts); n > 0 && order(f, l.facts[n-1]) < 0 {
		l.rewritten++
	}
	l.facts = insert(l.facts, f, order)
}

func (l *list) drop(id int64) {
	l.facts = drop(l.facts, id)
	l.rewritten++
}

// NewBook folds facts to a live diary.
func NewBook(facts ...Fact) *Book {
	b := &Book{byPaddock: map[string]*list{}, rare: map[Kind]*list{}, texted: map[string][]*Fact{}, standing: map[int64]*Fact{}, voided: map[int64]*Fact{}}
	for _, f := range facts {
		b.Add(f)
	}
	return b
}

// With is a copy to be looked at, with more facts in it that stand whatever this one
// says: what they do not touch is the same lists, and this one stays as it is. Facts
// without an id get the next ones. Nothing of it may be taken back, and who texted what
// is not kept.
func (b *Book) With(facts ...Fact) *Book {
	c := *b
	c.under, c.standing = b, map[int64]*Fact{}
	c.byPaddock, c.rare = maps.Clone(b.byPaddock), maps.Clone(b.rare)
	c.frosts, c.texted = slices.Clip(b.frosts), map[string][]*Fact{}
	for _, f := range facts {
		f.ID = cmp.Or(f.ID, c.last+1)
		ownOf(c.byPaddock, b.byPaddock, f.Paddock)
		ownOf(c.rare, b.rare, f.Kind.index())
		c.Add(f)
	}
	return &c
}

// ownOf makes a list that is another's too one of its own.
func ownOf[K comparable](all, others map[K]*list, k K) {
	if l := all[k]; l != nil && l == others[k] {
		own := *l
		own.facts = slices.Clone(l.facts)
		all[k] = &own
	}
}

// of is the list of a key, made where there is none.
func of[K comparable](all map[K]*list, k K) *list {
	if all[k] == nil {
		all[k] = &list{}
	}
	return all[k]
}

// Add takes one more fact. A void removes what it takes back.
func (b *Book) Add(f Fact) { b.add(&f) }

func (b *Book) add(f *Fact) {
	b.last = max(b.last, f.ID)
	if f.Kind == Void {
		b.voids = append(b.voids, f)
		b.remove(f.Voids)
		return
	}
	b.standing[f.ID] = f
	if f.Kind == Frost {
		b.frosts = insert(b.frosts, f, order)
	}
	if f.Kind.Row().Rare {
		of(b.rare, f.Kind.index()).add(f)
	}
	if f.Inbox != 0 {
		b.texted[f.By] = insert(b.texted[f.By], f, said)
	}
	of(b.byPaddock, f.Paddock).add(f)
}

func (b *Book) remove(id int64) {
	f := b.standing[id]
	if f == nil {
		return
	}
	delete(b.standing, id)
	b.voided[id] = f
	b.byPaddock[f.Paddock].drop(id)
	b.texted[f.By] = drop(b.texted[f.By], id)
	if f.Kind.Row().Rare {
		b.rare[f.Kind.index()].drop(id)
	}
}

// Last is the highest id that was added.
func (b *Book) Last() int64 { return b.last }

// Of lists what stands of one paddock alone, oldest day first.
func (b *Book) Of(paddock string) []*Fact { return b.byPaddock[paddock].all() }

func (l *list) all() []*Fact {
	if l == nil {
		return nil
	}
	return l.facts
}

// Since yields what stands of a paddock and of the whole farm that was said at an
// instant or later, of each the oldest day first.
func (b *Book) Since(paddock string, at time.Time) iter.Seq[*Fact] {
	return func(yield func(*Fact) bool) {
		lists := []*list{b.byPaddock[paddock], b.byPaddock[""]}
		if paddock == "" {
			lists = lists[1:]
		}
		for _, l := range lists {
			for _, f := range l.since(at) {
				if !f.At.Before(at) && !yield(f) {
					return
				}
			}
		}
	}
}

// since has all that was said at an instant or later, and some more.
func (l *list) since(at time.Time) []*Fact {
	if l == nil {
		return nil
	}
	return l.facts[From(l.facts, civil.DateOf(at.UTC()).AddDays(-l.late)):]
}

// Farm lists what stands of the whole farm, oldest day first.
func (b *Book) Farm() []*Fact { return b.Of("") }

// Texted yields what stands of what somebody texted or typed since an instant, the last
// said first.
func (b *Book) Texted(by string, since time.Time) iter.Seq[*Fact] {
	return func(yield func(*Fact) bool) {
		for _, f := range slices.Backward(b.texted[by]) {
			if f.At.Before(since) || !yield(f) {
				return
			}
		}
	}
}

// Moves lists every on and off that stands, oldest day first.
func (b *Book) Moves() []*Fact { return b.Every(On) }

// A Version changes whenever what a list of facts says up to a day does.
type Version struct {
	of        *list
	Facts     int // up to that day
	rewritten int
}

// Version is that of what stands of a paddock, of the whole farm where none is named.
func (b *Book) Version(paddock string, day civil.Date) Version {
	return b.byPaddock[paddock].version(day)
}

// VersionOf is that of a rare kind.
func (b *Book) VersionOf(rare Kind, day civil.Date) Version { return b.rare[rare].version(day) }

func (l *list) version(day civil.Date) Version {
	if l == nil {
		return Version{}
	}
	return Version{l, From(l.facts, day.AddDays(1)), l.rewritten}
}

// Grew reports whether it is that of a list which has only more at its end than it had.
func (v Version) Grew(had Version) bool {
	return had.of != nil && v.of == had.of && v.rewritten == had.rewritten && v.Facts > had.Facts
}

// Stays reports whether what a list said up to its day is what it says there now.
func (v Version) Stays(now Version) bool { return v.of == now.of && v.rewritten == now.rewritten }

// Every lists what stands of a rare kind, of every paddock, oldest day first: of Head
// all that tells of head and calves, of Hay what was fed too, of On the off besides.
func (b *Book) Every(rare Kind) []*Fact { return b.rare[rare].all() }

// Asked lists every question about what would shut ground that nobody has answered,
// oldest day first.
func (b *Book) Asked() []*Fact { return b.Every(asked) }

// FrostsEver lists the frosts that were ever written down, also those taken
// back: what a plant may have turned poisonous by is not undone by a text.
func (b *Book) FrostsEver() []*Fact { return b.frosts }

// Voided is all that was ever taken back, by id; not to be changed.
func (b *Book) Voided() map[int64]*Fact { return b.voided }

// TakenBack lists what was taken back since an instant: the facts themselves,
// each with the void that did it.
func (b *Book) TakenBack(since time.Time) (facts, voids []Fact) {
	for i := len(b.voids) - 1; i >= 0 && !b.voids[i].At.Before(since); i-- {
		if f, ok := b.voided[b.voids[i].Voids]; ok {
			facts, voids = append(facts, *f), append(voids, *b.voids[i])
		}
	}
	return facts, voids
}

// Standing finds a fact that still stands.
func (b *Book) Standing(id int64) (Fact, bool) {
	for ; b != nil; b = b.under {
		if f := b.standing[id]; f != nil {
			return *f, true
		}
	}
	return Fact{}, false
}

// About yields what stands of a kind that concerns a paddock, its own or the
// whole farm's, from a day on. Of each the newest comes first.
func (b *Book) About(paddock string, kind Kind, from civil.Date) iter.Seq[*Fact] {
	return func(yield func(*Fact) bool) {
		for _, facts := range [2][]*Fact{b.Of(paddock), b.Farm()} {
			for i := len(facts) - 1; i >= 0 && !facts[i].Day.Before(from); i-- {
				if facts[i].Kind == kind && !yield(facts[i]) {
					return
				}
			}
		}
	}
}

// Until is the diary as it stood at the end of a day.
func (b *Book) Until(day civil.Date) *Book {
	past := NewBook()
	maps.Copy(past.voided, b.voided)
	var facts []*Fact
	for _, l := range b.byPaddock {
		facts = append(facts, l.facts[:l.version(day).Facts]...)
	}
	slices.SortFunc(facts, order)
	for _, f := range facts {
		past.add(f)
	}
	for _, f := range b.frosts {
		if _, gone := b.voided[f.ID]; gone && !f.Day.After(day) {
			past.frosts = insert(past.frosts, f, order)
		}
	}
	past.last = b.last
	return past
}

// order puts facts by the day they speak of, then by when they were said, then
// as they were written.
func order(a, b *Fact) int {
	if a.Day != b.Day {
		return a.Day.DaysSince(b.Day)
	}
	return said(a, b)
}

// said puts facts by when they were said, then as they were written.
func said(a, b *Fact) int { return cmp.Or(a.At.Compare(b.At), cmp.Compare(a.ID, b.ID)) }

// From is where facts in their order begin that are of a day or later.
func From(facts []*Fact, day civil.Date) int {
	i, _ := slices.BinarySearchFunc(facts, day, func(f *Fact, day civil.Date) int { return f.Day.DaysSince(day) })
	return i
}

// insert keeps an order; nearly every fact belongs at the end.
func insert(facts []*Fact, f *Fact, order func(a, b *Fact) int) []*Fact {
	i := len(facts)
	for i > 0 && order(f, facts[i-1]) < 0 {
		i--
	}
	return slices.Insert(facts, i, f)
}

func drop(facts []*Fact, id int64) []*Fact {
	for i, f := range facts {
		if f.ID == id {
			return append(facts[:i:i], facts[i+1:]...)
		}
	}
	return facts
}
