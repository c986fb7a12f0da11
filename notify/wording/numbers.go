package wording

import (
	"math"
	"strconv"
)

// The inch and the pound are exact by definition (NIST SP 811, appendix B).
const (
	cmPerInch     = 2.54
	kgPerLb       = 0.45359237
	lbPerTon      = 2000 // the short ton that hay is sold by in the US
	kgPerTonne    = 1000
	degreesOfTurn = 0.05 // half of the tenth that a temperature is told in
)

// inUnits gives a length in inches in the farm's unit, and the step that it is
// told in: half an inch, or a whole centimetre.
func (v voice) inUnits(inches float64) (x, step float64) {
	if v.o.Centimetres {
		return inches * cmPerInch, 1
	}
	return inches, 0.5
}

// bare is a height without its unit.
func (v voice) bare(inches float64) string {
	x, step := v.inUnits(inches)
	return v.lang.Number(math.Round(x/step)*step, 1)
}

// length is a height with its unit.
func (v voice) length(inches float64) string { return v.withUnit(v.bare(inches)) }

func (v voice) withUnit(x string) string {
	if v.o.Centimetres {
		return v.say("unit.cm", "x", x)
	}
	return v.say("unit.in", "x", x)
}

// rain is what fell, to a hundredth of an inch or a whole millimetre.
func (v voice) rain(inches float64) string {
	if v.o.Centimetres {
		return v.say("unit.mm", "n", int(math.Round(10*inches*cmPerInch)))
	}
	return v.withUnit(v.lang.Number(inches, 2))
}

// whole is a forecast height, told no finer than it is known.
func (v voice) whole(inches float64) string {
	x, _ := v.inUnits(inches)
	return v.lang.Number(math.Round(x), 0)
}

// against is a height beside the height that decides: rounded, but never so
// that it seems to be on the other side of it, or on it.
func (v voice) against(h, floor float64) string {
	x, step := v.inUnits(h)
	at, _ := v.inUnits(floor)
	at = math.Round(at/step) * step
	told := math.Round(x/step) * step
	if floor > 0 && h != floor && (told == at || (told < at) != (h < floor)) {
		if told = math.Round(x*10) / 10; told >= at && h < floor {
			told = at - 0.1
		} else if told <= at && h > floor {
			told = at + 0.1
		}
	}
	return v.lang.Number(told, 1)
}

// degrees is a temperature in the farm's scale, told to a tenth where a whole
// degree would land it on the wrong side of a threshold.
func (v voice) degrees(c float64) string {
	if v.o.Centimetres {
		return v.say("unit.c", "x", v.lang.Number(math.Round(c*10)/10, 1))
	}
	f := c*9/5 + 32
	told := math.Round(f)
	for _, threshold := range [...]float64{28, 32, 36} {
		if (told <= threshold) != (f <= threshold+degreesOfTurn) {
			told = math.Round(f*10) / 10
			break
		}
	}
	return v.say("unit.f", "x", v.lang.Number(told, 1))
}

// hay is a weight of hay, or a range: tons as it is sold, pounds or kilos where all
// of it is under a ton.
func (v voice) hay(low, high float64) string {
	switch {
	case v.o.Centimetres && high*kgPerLb < kgPerTonne:
		return v.between(low*kgPerLb, high*kgPerLb, 50, func(n int) string { return v.say("unit.kg", "n", n) })
	case v.o.Centimetres:
		return v.between(low*kgPerLb/kgPerTonne, high*kgPerLb/kgPerTonne, 1, func(n int) string { return v.say("unit.tonnes", "n", n) })
	case high < lbPerTon:
		return v.between(low, high, 100, func(n int) string { return v.say("unit.lb", "n", n) })
	}
	return v.between(low/lbPerTon, high/lbPerTon, 1, func(n int) string { return v.say("unit.tons", "n", n) })
}

// between is a number in whole steps upwards, with its unit, or a range of them.
func (v voice) between(low, high, step float64, unit func(int) string) string {
	from, to := int(math.Ceil(low/step)*step), int(math.Ceil(high/step)*step)
	if from == to {
		return unit(to)
	}
	return v.say("hay.range", "low", from, "high", unit(to))
}

// bales is so much hay in bales of a weight, and by weight.
func (v voice) bales(low, high, bale float64) string {
	n := v.between(low/bale, high/bale, 1, func(n int) string { return v.say("unit.bales", "n", n) })
	return v.say("hay.bales", "bales", n, "hay", v.hay(low, high))
}

// percent is a chance, 0-1, never told as certain.
func (v voice) percent(p float64) int {
	return int(math.Round(100 * min(0.99, max(0.01, p))))
}

// falls is a chance said as people say it: in so many falls of ten.
func (v voice) falls(p float64) string {
	n := int(math.Round(10 * min(1, max(0, p))))
	switch {
	case p < 0.05:
		return v.say("falls.none")
	case n >= 10:
		return v.say("falls.all")
	}
	return v.say("falls", "n", max(1, n))
}

// daysOfGrass is a number of whole days, and whether it is under one.
func daysOfGrass(d *float64) (n int, known bool) {
	if d == nil || *d < 0 {
		return 0, false
	}
	return int(min(*d, 999)), true
}

// samples are three heights to type as an example: near the height given, or
// near the height to leave.
func (v voice) samples(near float64) string {
	x, _ := v.inUnits(near)
	if x < 2 {
		x, _ = v.inUnits(9)
	}
	n := int(math.Round(x))
	step := 1
	if v.o.Centimetres {
		step = 3
	}
	return v.say("samples", "first", strconv.Itoa(n+step), "second", strconv.Itoa(n-step), "third", strconv.Itoa(n))
}
