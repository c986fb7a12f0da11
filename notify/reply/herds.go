package reply

import (
	"slices"
	"strings"
)

// kindsOf tells what animals a herd is of, by its kind and its names: a yearling
// steer is both.
func (v *vocabulary) kindsOf(h Herd) []stockKind {
	var list []stockKind
	for _, s := range append([]string{h.Kind, h.ID}, h.Names...) {
		for _, w := range strings.Fields(fold(strings.ToLower(s))) {
			k := v.kinds[strings.Trim(w, ",.;:()")]
			if k == calves && len(list) > 0 {
				continue // cow, of 'cow with calf'
			}
			if k != noStock && !slices.Contains(list, k) {
				list = append(list, k)
			}
		}
	}
	return list
}

// herdWords turns words for animals into herds of this farm: vacas is the herd
// of cows. Where no herd of the kind is on file, cattle may be any cattle;
// goats on a farm without goats are nobody's.
func (p *parser) herdWords(toks []token) {
	for i := range toks {
		t := &toks[i]
		theirs := i > 0 && (toks[i-1].poss || i > 1 && p.reader.hinted(toks[i-2].s, hWhose) && toks[i-1].set == 0 && toks[i-1].kind == word)
		if theirs && !toks[i-1].is(sPlace) && p.reader.hinted(t.f, hElsewhere) {
			t.lex = lex{guard: gOther} // my sister's place
			continue
		}
		if (t.is(sHerd) || t.stock != noStock) && i > 0 && toks[i-1].poss && !(i > 1 && toks[i-1].is(sPlace) && toks[i-2].is(sOn|sOff|sIn|sTo|sFrom)) {
			t.lex, t.herds = lex{guard: gOther}, nil // Jim's cows
			continue
		}
		every := i > 0 && toks[i-1].is(sAll) || i > 1 && toks[i-1].role == rLast && toks[i-2].is(sAll)
		if t.is(sHerd) {
			t.guard, t.role = noGuard, noRole
			t.set &= sHerd
			if t.poss && !every {
				t.lex = lex{guard: gPart}
			}
			continue
		}
		kind := p.reader.voc.kinds[t.f]
		if t.guard == gPart && every && len(p.reader.ofKind(kind)) > 0 { // every last steer
			t.set, t.guard, t.herds = t.set|sHerd, noGuard, p.reader.ofKind(kind)
			if named := p.reader.stock.exact[t.f+"s"]; named != nil {
				t.herds = named // of pairs, where others are cows too
			}
			continue
		}
		if t.guard == gPart && p.reader.voc.kinds[t.f] != noStock {
			t.set |= sBeast
			if i > 0 && toks[i-1].poss && toks[i-1].is(sPlace) && !(i > 1 && toks[i-2].is(sOn|sOff|sIn|sTo|sFrom|sAt)) {
				toks[i-1].lex, toks[i-1].places = lex{set: sFill}, nil // Ruth's cow
			}
		}
		if t.stock == noStock {
			continue
		}
		if t.poss {
			t.lex = lex{guard: gPart}
			continue
		}
		which := p.reader.ofKind(t.stock)
		switch {
		case len(which) > 0 && !p.reader.hinted(t.s, hYoung):
			t.set |= sHerd
			t.herds = which
			t.guard = noGuard
		case t.guard != noGuard || t.stock == calves: // bulls, calves: not the herd
			if t.guard == noGuard {
				t.guard = gPart
			}
			t.set |= sBeast
		case t.stock == cows && p.reader.onlyCattle():
			t.set |= sStock
		default:
			t.guard = gOther
		}
	}
}

// ofKind lists the herds of a kind.
func (r *Reader) ofKind(k stockKind) []int {
	var list []int
	for i, kinds := range r.kinds {
		if slices.Contains(kinds, k) {
			list = append(list, i)
		}
	}
	return list
}

// onlyCattle reports whether people may call every herd on file cows.
func (r *Reader) onlyCattle() bool {
	for _, kinds := range r.kinds {
		if slices.ContainsFunc(kinds, func(k stockKind) bool { return !k.cattle() }) {
			return false
		}
	}
	return true
}

// herdOf tells which herd is meant by a count of heads: the one that has as
// many, and of that animal where one was named; -1 where none or several fit.
func (r *Reader) herdOf(count int, animal token) int {
	found := -1
	for i, h := range r.herds {
		if h.Head != count || count == 0 {
			continue
		}
		if animal.is(sHerd) && !slices.Contains(animal.herds, i) {
			continue
		}
		if animal.guard != noGuard && !animal.is(sHerd|sStock) {
			continue
		}
		if found >= 0 {
			return -1
		}
		found = i
	}
	return found
}

// allHeads reports whether a count is of all herds together.
func (r *Reader) allHeads(count int) bool {
	sum := 0
	for _, h := range r.herds {
		if h.Head == 0 {
			return false
		}
		sum += h.Head
	}
	return sum == count && len(r.herds) > 1
}

// heads reads 38 cows, 38 head of cattle. As many as a herd has are that herd;
// any other number is a part of one.
func (p *parser) heads(toks []token, i int) (token, int) {
	j := i + 1
	which := -1
	if toks[j].role == rHead {
		j++
		if k := j + 1; k < len(toks) && p.reader.hinted(toks[j].s, hOfMonth) && (toks[k].stock != noStock || toks[k].is(sHerd|sStock)) {
			j++
		}
	}
	var animal token
	if j < len(toks) && (toks[j].stock != noStock || toks[j].is(sHerd|sStock)) {
		animal = toks[j]
		j++
	} else if j < len(toks) && toks[j].guard == gPart && toks[j-1].role == rNumber {
		j++
	}
	which = p.reader.herdOf(int(toks[i].val), animal)
	t := join(toks[i:j])
	if toks[i].val == 0 { // empty, 0 head
		t.lex, t.herds = lex{set: sFill}, nil
		return t, j - i
	}
	t.lex = lex{set: sBeast, guard: gPart, val: toks[i].val}
	t.herds = nil
	if which >= 0 && toks[i].val == float64(int(toks[i].val)) {
		t.lex = lex{set: sHerd}
		t.herds = []int{which}
	} else if p.reader.allHeads(int(toks[i].val)) && !animal.is(sHerd) {
		t.lex = lex{set: sStock | sAll}
	}
	return t, j - i
}

// tallies takes the numbers of a text about animals that have left for counts of
// them: counted 36 of 38, 30 of them. As many as there are is all of them; so is
// what had to be fetched and was got.
func (p *parser) tallies(toks []token) {
	if !slices.ContainsFunc(toks, func(t token) bool { return t.is(sOff | sGone | sEmpty | sOut) }) {
		return
	}
	got := p.writes(hGotThem)
	for i := range toks {
		t := &toks[i]
		if !t.is(sNum) || t.is(sPlace) || t.unit != 0 || t.val != float64(int(t.val)) {
			continue
		}
		all, end := p.outOf(toks, i)
		next := i + 1
		for next < len(toks) && toks[next].is(sComma|sAnd) {
			next++
		}
		listed := next < len(toks) && toks[next].is(sNum) && !toks[next].is(sPlace) // salieron 8 9 8 7
		if listed && i > 0 && toks[i-1].is(sGone) && p.reader.tells(&toks[i-1], hCounting) {
			toks[i-1].lex = lex{set: sMeasure}
		}
		counting := !listed && i > 0 && (p.reader.tells(&toks[i-1], hCounting) || i > 1 && toks[i-1].is(sFill|sBe|sAbout|sAll) && p.reader.tells(&toks[i-2], hCounting))
		switch head := int(t.val); {
		case end > i && all > 0 && head >= all, end == i && counting && (p.reader.herdOf(head, token{}) >= 0 || p.reader.allHeads(head)):
			t.lex = lex{set: sStock | sAll}
		case end > i, counting:
			t.lex = lex{set: sBeast, guard: gPart, val: t.val}
		case got:
			t.lex = lex{set: sFill}
		default:
			continue
		}
		for k := i + 1; k <= end; k++ {
			toks[k].lex = lex{set: sFill}
		}
		for k := i - 1; counting && k >= 0 && k >= i-2; k-- {
			if p.reader.tells(&toks[k], hCounting) {
				toks[k].lex = lex{set: sFill}
			}
		}
	}
}

// outOf gives what the number at token i is a part of, and the last token of that:
// 36 of the 38, 30 of them; 0 and i where it is of nothing.
func (p *parser) outOf(toks []token, i int) (all, end int) {
	k := i + 1
	if k < len(toks) && toks[k].is(sOut|sOff) && !p.reader.hinted(toks[k].f, hOfMonth) {
		if toks[k].span > 1 { // out of
			k++
		}
	}
	if k < len(toks) && p.reader.hinted(toks[k].s, hOfMonth) {
		k++
	} else if k == i+1 {
		return 0, i
	}
	for k < len(toks) && toks[k].is(sFill) && !toks[k].is(sStock|sNum) {
		k++
	}
	switch {
	case k < len(toks) && toks[k].is(sNum) && !toks[k].is(sPlace):
		return int(toks[k].val), k
	case k < len(toks) && p.reader.hinted(toks[k].s, hPronoun):
		return 0, k
	}
	return 0, i
}

// ailing takes 'one', a number on a tag or 'she' for an animal in a sentence that tells
// of a dead or ailing one and names none: lost one in lane, #12 is down. What nobody
// says of anything but a body needs no name.
func (p *parser) ailing(toks []token) {
	for from, to := 0, 0; from < len(toks); from = to + 1 {
		for to = from; to < len(toks) && !toks[to].is(sStop); to++ {
		}
		ill, other := -1, false
		for i := from; i < to; i++ {
			t := &toks[i]
			if t.is(sDead) || t.is(sDown) && ill < 0 {
				ill = i
			}
			other = other || t.is(sHerd|sStock|sBeast) || t.guard == gThing && t.kind == word || t.is(sChat) && !t.is(sDead) || t.kind == word && t.set == 0 && t.guard == noGuard && t.role == noRole && !p.reader.tells(t, hTag)
		}
		if ill >= 0 && !other {
			p.ailingIn(toks[from:to], ill-from)
		}
	}
}

// ailingIn finds the animal in a sentence whose word for what ails it is token ill.
func (p *parser) ailingIn(toks []token, ill int) {
	found := false
	for i := range toks {
		t := &toks[i]
		tag := i > 0 && p.reader.tells(&toks[i-1], hTag) || strings.HasPrefix(t.s, "#")
		oneIn := t.is(sNum) && i+1 < len(toks) && toks[i+1].is(sPlace) && p.reader.hinted(t.f, hOne) // no inch
		if t.is(sPlace) || !oneIn && !p.reader.tells(t, hOne) && !(tag && t.val > 0) && !(t.is(sNum) && i == ill+1 && p.reader.tells(&toks[ill], hLost)) {
			continue
		}
		t.lex, found = lex{set: sBeast, guard: gPart}, true
		if tag && i > 0 {
			toks[i-1].lex = lex{set: sFill}
		}
	}
	if t := &toks[ill]; !found && t.is(sDead) && p.reader.tells(t, hBody) {
		t.set |= sBeast
	}
}

// trees takes what fells, cuts or breaks a tree for that in a sentence about wild
// cherry. A tree of which nobody says what it is may be one where cherry grows: it is
// put to a letter.
func (p *parser) trees(toks []token) {
	for from, to := 0, 0; from < len(toks); from = to + 1 {
		for to = from; to < len(toks) && !toks[to].is(sStop); to++ {
		}
		tree, grows := -1, false
		for i := from; i < to; i++ {
			t := &toks[i]
			grows = grows || t.is(sPlace) && len(t.places) == 1 && p.reader.places[t.places[0]].Cherry
			if t.is(sTree) {
				tree = i
			}
		}
		down := slices.ContainsFunc(toks[from:to], func(t token) bool { return t.is(sDown|sWilt) && !p.reader.tells(&t, hAnyTree) })
		for i := from; i < to && tree < 0 && grows && down; i++ {
			if t := &toks[i]; p.reader.tells(t, hAnyTree) {
				t.lex, tree = lex{set: sPlant | sTree, guard: gHedge}, i
			}
		}
		for i := from; i < to && tree >= 0; i++ {
			if i != tree && p.reader.tells(&toks[i], hFells) {
				if i > tree && slices.ContainsFunc(toks[tree:i], func(t token) bool { return t.is(sComma) }) && slices.ContainsFunc(toks[from:i], func(t token) bool { return t.is(sDown | sWilt) }) {
					toks[i].lex = lex{set: sDead} // it is down, gonna cut it up: of the same
					continue
				}
				toks[i].lex = lex{set: sWilt}
				for k := min(i, tree) + 1; k < max(i, tree); k++ {
					if t := &toks[k]; t.is(sOff|sMoved|sOut) || t.set == 0 || t.guard == gThing {
						t.lex = lex{set: sFill}
					}
				}
			}
		}
	}
}

// shoots takes words for growth for new shoots where they are said of ground with
// sorghum or its kin, and no height is: lane is coming back.
func (p *parser) shoots(toks []token) {
	kin := slices.ContainsFunc(toks, func(t token) bool {
		return t.is(sPlace) && len(t.places) == 1 && p.reader.places[t.places[0]].Kin
	})
	read := slices.ContainsFunc(toks, func(t token) bool { return t.is(sNum) && !t.is(sPlace) })
	for i := range toks {
		t := &toks[i]
		if kin && !read && p.reader.tells(t, hGrowing) {
			t.lex = lex{set: sEvent, event: eRegrowth}
		} else if t.is(sGone) && (i+1 < len(toks) && p.grows(toks[i+1:]) || i > 0 && toks[i-1].event == eRegrowth) {
			t.lex = lex{set: sFill} // ya salieron brotes
		} else if i > 0 && t.guard == gToCome && toks[i-1].event == eRegrowth {
			t.lex = lex{set: sFill} // new shoots coming
		}
	}
}

// grows reports whether what is named next is a plant, so that a verb before it speaks
// of no animals.
func (p *parser) grows(toks []token) bool {
	for i := range toks {
		if t := &toks[i]; t.event == eRegrowth || t.is(sGrass|sPlant) {
			return true
		} else if !t.is(sFill | sChat) {
			return false
		}
	}
	return false
}
