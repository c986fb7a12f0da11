package reply

import (
	"time"

	"github.com/golang-sql/civil"
)

// A date in a text is the latest such day that is not to come. One that would
// lie within the next month is asked about rather than taken for last year's.
const nearFuture = 31

// date reads a day at i: yesterday, last night, two days ago, oct 14, the
// 14th, friday. n is 0 where there is none.
func (p *parser) date(toks []token, i int) (made token, n int) {
	t := toks[i]
	if t.is(sPlace) && (t.role == rWeekday || t.role == rMonth) && p.asName(toks, i) {
		return made, 0
	}
	switch t.role {
	case rOffset:
		return p.dayToken(toks[i:i+1], p.day.AddDays(int(t.val))), 1
	case rMonth:
		return p.monthFirst(toks, i)
	case rWeekday:
		if i > 0 && (p.reader.hinted(toks[i-1].s, hWhose) || p.reader.hinted(toks[i-1].s, hNoDay)) {
			return made, 0 // that's my monday
		}
		if i+1 < len(toks) && p.reader.tells(&toks[i+1], hPartOfDay) { // sat night
			if made = p.weekday(toks, i, false); p.day.DaysSince(made.day) == 7 {
				made.day = p.day // mon am, of a Monday
			}
			made.s, made.to, made.set = made.s+" "+toks[i+1].s, toks[i+1].to, made.set&^sSoft
			return made, 2
		}
		if made, n = p.dateBehind(toks, i); n > 0 {
			return made, n
		}
		if p.reader.hinted(t.f, hWordToo) && !p.endsOn(toks, i) && !(i == 0 && len(toks) > 1 && (p.reader.hinted(firstWord(toks[1].s), hWriter) || toks[1].is(sMeasure) && len(toks) > 2 && toks[2].is(sColon))) { // sat i got 9
			return made, 0
		}
		return p.weekday(toks, i, false), 1
	case rLast:
		if i+1 < len(toks) && toks[i+1].role == rWeekday {
			made = p.weekday(toks, i+1, true)
			made.from = t.from
			return made, 2
		}
		if i+1 < len(toks) && (toks[i+1].role == rSomeday || toks[i+1].role == rSpan) {
			return odd(toks[i:i+2], gBefore), 2
		}
		return made, 0
	case rHace:
		if i+2 < len(toks) && toks[i+1].role == rNumber && toks[i+2].role == rSpan {
			return p.ago(toks[i:i+3], toks[i+1].val*toks[i+2].val), 3
		}
		return made, 0
	case rArticle:
		if i+2 < len(toks) && toks[i+1].role == rSpan && toks[i+2].role == rAgo {
			return p.ago(toks[i:i+3], toks[i+1].val), 3
		}
		if i+1 < len(toks) && toks[i+1].role == rSpan {
			made = join(toks[i : i+2])
			made.lex = lex{set: sDur, val: toks[i+1].val}
			return made, 2
		}
		return made, 0
	case rNumber:
		return p.dayFirst(toks, i)
	}
	return made, 0
}

// asName reports whether the name of a paddock that is a day or a month too stands as
// a name: sunday is 9, off june, al sunday.
func (p *parser) asName(toks []token, i int) bool {
	const begins, says = sStop | sComma | sAnd | sOff | sTo | sFrom | sIn, sBe | sColon | sMeasure | sEmpty | sField | sGrass | sWeak
	article := i > 0 && (p.reader.hinted(lastWord(toks[i-1].s), hArticle) || toks[i-1].is(sOff|sTo))
	behind := i+1 < len(toks) && (toks[i+1].is(says) || toks[i+1].role == rNumber)
	if k := i + 2; !behind && k < len(toks) && toks[i+1].is(sComma) {
		behind = toks[k].role == rNumber || toks[k].is(sEmpty)
	}
	if made, n := p.monthFirst(toks, i); toks[i].role == rMonth && n > 0 && made.is(sDate) && p.day.DaysSince(made.day) <= nearFuture {
		return false
	}
	return article && !p.reader.hinted(toks[max(0, i-1)].s, hBeforeDayOnly) || behind && (i == 0 || toks[i-1].is(begins|sFill|sChat))
}

// dateBehind reads the date that stands behind a weekday: mon 10/26, friday the 23rd.
func (p *parser) dateBehind(toks []token, i int) (made token, n int) {
	j := i + 1
	for j < len(toks) && (toks[j].is(sComma) || toks[j].s == "." && toks[j].glued || p.reader.hinted(toks[j].s, hBeforeDay)) {
		j++
	}
	switch {
	case j >= len(toks):
		return made, 0
	case toks[j].is(sDate):
		made, n = toks[j], 1
	case toks[j].role == rMonth:
		made, n = p.monthFirst(toks, j)
	case toks[j].role == rNumber && toks[j].typed:
		made, n = p.dayFirst(toks, j)
	}
	if n == 0 || !made.is(sDate) || int(made.day.In(time.UTC).Weekday()) != int(toks[i].val) {
		return made, 0
	}
	return p.dayToken(toks[i:j+n], made.day), j + n - i
}

// endsOn reports whether a weekday that is a word of its own stands as a day: at
// the end of what is said, and behind something of the trade.
func (p *parser) endsOn(toks []token, i int) bool {
	if i == 0 {
		return len(toks) > 1 && toks[1].s == "." // sat. lower 8
	}
	if i+1 < len(toks) && !toks[i+1].is(sStop|sComma|sColon) && toks[i+1].role != rNumber {
		return false
	}
	before := &toks[i-1]
	return p.reader.hinted(before.s, hSince) || before.role == rLast || before.role == rNumber || before.is(anchors|sIn|sMeasure|sBeast) && (before.span > 1 || !p.reader.hinted(before.f, hArticle))
}

// dayFirst reads 14 oct, 14 de octubre, 14th, two days ago.
func (p *parser) dayFirst(toks []token, i int) (made token, n int) {
	if i+2 < len(toks) && toks[i+1].role == rSpan && toks[i+2].role == rAgo {
		return p.ago(toks[i:i+3], toks[i].val*toks[i+1].val), 3
	}
	j := i + 1
	if i > 0 && p.dayBehind(toks, i) { // helada el 24
		return p.dayOfMonth(toks[i:i+1], int(toks[i].val)), 1
	}
	ordinal := j < len(toks) && toks[j].glued && toks[i].typed && p.reader.hinted(toks[j].s, hOrdinal)
	if ordinal {
		j++
	}
	if j+1 < len(toks) && p.reader.hinted(toks[j].s, hOfMonth) && toks[j+1].role == rMonth {
		j++
	}
	plain := j == i+1 // 9 may: more likely a verb
	if j < len(toks) && toks[j].role == rMonth && !(plain && toks[j].guard != noGuard) {
		j++
		if _, used := p.year(toks, j); plain && used == 0 && j < len(toks) && toks[j].role == rNumber {
			if i > 0 && !p.tongue.dayFirst {
				return made, 0 // creek 9 oct 14: the day stands behind the month
			}
			return odd(toks[i:j+1], gDay), j + 1 - i // 9 oct 14: either
		}
		year, used := p.year(toks, j)
		return p.monthDay(toks[i:j+used], int(toks[j-1].val), int(toks[i].val), year), j + used - i
	}
	if ordinal {
		return p.dayOfMonth(toks[i:i+2], int(toks[i].val)), 2
	}
	return made, 0
}

// dayBehind reports whether a number is the day of what was done: a word that
// stands before days stands before it, and nothing that it may count behind it.
func (p *parser) dayBehind(toks []token, i int) bool {
	t := &toks[i]
	if !p.reader.hinted(toks[i-1].s, hBeforeDay) || !t.typed || t.val < 1 || t.val > 31 || t.val != float64(int(t.val)) {
		return false
	}
	told := false
	for k := range toks {
		told = told || toks[k].is(sFrost|sEvent|verbs) && !toks[k].is(sMeasure)
	}
	return told && !p.reader.fields.hasNumber(t.val) && (i+1 == len(toks) || toks[i+1].is(sStop|sComma|sAt|sIn|sOn|sPlace))
}

// longestShortMonth is how many letters a month cut short has: a full stop behind one
// is no end of a sentence.
const longestShortMonth = 4

// monthFirst reads oct 14, october 14th, octubre 14.
func (p *parser) monthFirst(toks []token, i int) (made token, n int) {
	j := i + 1
	if j < len(toks) && toks[j].s == "." && len(toks[i].f) <= longestShortMonth {
		j++
	}
	if j < len(toks) && p.reader.hinted(toks[j].s, hBeforeDay) {
		j++
	}
	if j >= len(toks) || toks[j].role != rNumber || toks[j].frac {
		return made, 0
	}
	d := int(toks[j].val)
	if j++; j < len(toks) && unitWord(toks[j]) && toks[j].role != rUnitIn {
		return made, 0 // june 9 inches
	}
	if j < len(toks) && toks[j].glued && p.reader.hinted(toks[j].s, hOrdinal) {
		j++
	}
	year, used := p.year(toks, j)
	return p.monthDay(toks[i:j+used], int(toks[i].val), d, year), j + used - i
}

// year reads a year at j, with a comma or a small word before it; 0 where there is
// none.
func (p *parser) year(toks []token, j int) (year, used int) {
	k := j
	if k < len(toks) && (toks[k].is(sComma) || p.reader.hinted(toks[k].s, hBeforeYear)) {
		k++
	}
	if k < len(toks) && toks[k].role == rNumber && toks[k].val >= 2000 && toks[k].val < 2100 {
		return int(toks[k].val), k + 1 - j
	}
	return 0, 0
}

// slashed reads 10/14, 10/14/26, 14/10 and ISO dates; also 1/2, and 14/8/6 as a
// list. ok is false where it is none of them.
func (p *parser) slashed(all token, parts []string, seps string) (made []token, ok bool) {
	a, b := int(number(parts[0])), int(number(parts[1]))
	if len(parts) == 2 {
		if isFraction(parts[0], parts[1]) {
			all.role, all.val, all.frac = rNumber, number(parts[0])/number(parts[1]), true
			all.parts = []float64{float64(a), float64(b)}
			return one(all), true
		}
		return one(p.numeric(all, a, b, 0)), true
	}
	c := int(number(parts[2]))
	if len(parts[0]) == 4 {
		return one(p.monthDay([]token{all}, b, c, a)), true
	}
	if len(parts[2]) == 4 || (len(parts[2]) == 2 && (c == p.day.Year%100 || c == p.day.Year%100-1)) {
		if c < 100 {
			c += p.day.Year / 100 * 100
		}
		return one(p.numeric(all, a, b, c)), true
	}
	return nil, false
}

func dateLike(parts []string) bool {
	return len(parts[0]) == 4 || (len(parts[2]) == 4 && len(parts[0]) <= 2)
}

// numeric reads a/b as month and day, or as day and month where people
// write dates so; where only one of them can be, it is that.
func (p *parser) numeric(all token, a, b, year int) token {
	us := validMonthDay(a, b)
	eu := validMonthDay(b, a)
	switch {
	case us && (!p.tongue.dayFirst || !eu || a == b):
		return p.monthDay([]token{all}, a, b, year)
	case eu && !us:
		return p.monthDay([]token{all}, b, a, year)
	case us && eu: // 10/11, of somebody who writes the day first
		all.lex = lex{guard: gDay}
		return all
	}
	all.lex = lex{guard: gDay}
	all.parts = []float64{float64(a), float64(b)}
	return all
}

func validMonthDay(m, d int) bool {
	return m >= 1 && m <= 12 && d >= 1 && d <= 31 &&
		time.Date(2024, time.Month(m), d, 0, 0, 0, 0, time.UTC).Day() == d
}

// monthDay makes the token of a month and day; year 0 is the latest that is
// past.
func (p *parser) monthDay(toks []token, m, d, year int) token {
	t := join(toks)
	t.lex = lex{guard: gDay}
	if !validMonthDay(m, d) {
		return t
	}
	day := civil.Date{Year: p.day.Year, Month: time.Month(m), Day: d}
	if year != 0 {
		day.Year = year
	} else if day.After(p.day) {
		if day.DaysSince(p.day) <= nearFuture {
			return t
		}
		day.Year--
	}
	if !day.IsValid() || day.After(p.day) || p.day.DaysSince(day) > 400 {
		return t
	}
	return p.dayToken(toks, day)
}

// dayOfMonth reads the 14th: the latest one.
func (p *parser) dayOfMonth(toks []token, d int) token {
	day := civil.Date{Year: p.day.Year, Month: p.day.Month, Day: d}
	if d > p.day.Day {
		day.Month--
		if day.Month == 0 {
			day.Year, day.Month = day.Year-1, time.December
		}
	}
	if !day.IsValid() || d < 1 {
		t := join(toks)
		t.lex = lex{guard: gDay}
		return t
	}
	return p.dayToken(toks, day)
}

// weekday reads friday: the latest before today. Without 'last' it may also be
// one to come.
func (p *parser) weekday(toks []token, i int, last bool) token {
	back := (int(p.day.In(time.UTC).Weekday()) - int(toks[i].val) + 7) % 7
	heads := !last && (i == 0 || toks[i-1].is(sStop)) && i+1 < len(toks) && (toks[i+1].is(sColon) || toks[i+1].s == "\n" || i == 0 && toks[1].s == ".")
	if back == 0 && !heads {
		back = 7
	}
	t := p.dayToken(toks[i:i+1], p.day.AddDays(-back))
	if !last && !heads {
		t.set |= sSoft
	}
	return t
}

func (p *parser) ago(toks []token, hours float64) token {
	t := p.dayToken(toks, p.day.AddDays(-int(hours/24)))
	if hours > 24*400 || hours < 0 {
		t.lex = lex{guard: gDay}
	}
	return t
}

func (p *parser) dayToken(toks []token, day civil.Date) token {
	t := join(toks)
	t.lex = lex{set: sDate}
	t.places = nil
	t.day = day
	return t
}

// clock reads 6:30.
func (p *parser) clock(all token, parts []string) token {
	all.lex = lex{guard: gUnknown}
	if len(parts[1]) == 2 && number(parts[0]) < 25 && number(parts[1]) < 60 {
		all.lex = lex{set: sClock}
	}
	return all
}
