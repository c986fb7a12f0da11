package grass

import (
	"stubbled/scheduler/figure"
	"stubbled/scheduler/spell"
)

const (
	practice = "common practice: leave 8 in, 45 days, 18 in at frost"
	dormant  = "10 in before a killing frost (USDA-NRCS, Missouri, 2008); 12 in or more (Penn State); Keyser calls 18-24 in a reasonable residue at dormancy (Drovers)"
	lowest   = "growing point 6-8 in up (Keyser, Missouri Ruralist 2019); 6-8 in, never lower (Missouri Dept. of Conservation)"
	scaled   = "the tall grasses' 14 in scaled by the height wanted at frost"
	ours     = "no published greatest leaf height found"
	oldTable = "Blanchet et al., Grazing Systems Planning Guide, Univ. of Minnesota 2003, recalled"
	slowing  = "slow from late June, near dormant in August (Univ. of Tennessee SP731-C); little regrowth in August (Rangelands Gateway 2676); how much is ours"
)

// tall is a tall native: 8 in are left and 14 in begun at, the ranges are over its
// sources.
func tall(name string, leave, begin sources, maxLeaf float64, aliases ...string) Species {
	return Species{
		Name: name, Aliases: aliases, Native: true,
		Leave:   figure.Of(8, leave.low, leave.high, figure.CommonPractice, practice+"; "+leave.say),
		Target:  figure.Of(18, 10, 24, figure.CommonPractice, practice+"; "+dormant),
		Min:     figure.Of(6, 4, 8, figure.SecondHand, lowest),
		Begin:   figure.Of(14, begin.low, begin.high, figure.CommonPractice, begin.say),
		MaxLeaf: figure.Of(maxLeaf, 0, 0, figure.Assumption, ours),
		Late:    figure.Of(1, 0, 0, figure.CommonPractice, practice),
		Differ:  figure.Of(PaddockSpread, 0, 0, figure.Assumption, differ),
	}
}

// slow is a tall native of which the pair likely promises too much, nobody knows
// how much.
func (s Species) slow() Species {
	s.Late = figure.Of(0.8, 0.5, 1, figure.Assumption, slowing)
	s.Differ = figure.Of(0.30, 0, 0, figure.Assumption, differ)
	return s
}

const differ = "chosen together so that stated chances come true in simulation"

// sources are those of one height that disagree, inches.
type sources struct {
	low, high float64
	say       string
}

var (
	gamaLeave = sources{6, 16, "sources run 6-8 (Missouri, Polley 2016; USDA-ARS 2001), 10 (USDA-NRCS Americus 2002), 12-15 (USDA-ARS 1999; Crop Science 1998) to 16 (Keyser, Univ. of Tennessee)"}
	gamaBegin = sources{12, 32, "sources run 12-18 (Missouri, Polley 2016) to 32 (Keyser, Univ. of Tennessee)"}
	blueLeave = sources{4, 13, "sources run 4-6 (Penn State), 6 or more (Univ. of Missouri 2011), 6-8 (Missouri, Polley 2016), 12 (a mix, trial of 2015-17) to 13 (Keyser, Univ. of Tennessee)"}
	blueBegin = sources{10, 26, "sources run 10-14 (" + oldTable + "), 12-18 (Missouri, Polley 2016), 18-24 (Penn State) to 26 (Keyser, Univ. of Tennessee)"}
	indLeave  = sources{6, 13, "sources run 6-8 (Missouri, Polley 2016), 12 (a mix, trial of 2015-17) to 13 (Keyser, Univ. of Tennessee)"}
	indBegin  = sources{10, 26, "sources run 10-14 (" + oldTable + "), 12-18 (Missouri, Polley 2016) to 26 (Keyser, Univ. of Tennessee)"}
	swLeave   = sources{4, 15, "sources run 4-6 (Penn State), 6 (Anderson, Nebraska; cut, Oklahoma State), 12 (upland) to 15 (lowland; Keyser, Univ. of Tennessee)"}
	swBegin   = sources{12, 30, "sources run 12 (Anderson, Nebraska), 18-24 (Penn State), 26 (upland) to 30 (lowland; Keyser, Univ. of Tennessee)"}
	mixLeave  = sources{6, 14, "sources run 6-8, never lower (Missouri Dept. of Conservation), 8-10 (Kentucky Forage News 2020), 8-12, never shorter (Univ. of Tennessee 2013), 12 (trial of 2015-17) to 14 (UT Beef & Forage)"}
	mixBegin  = sources{12, 32, "sources run 12-15 (trial of 2015-17), 18-20 (Kentucky Forage News 2020), 24-28 (UT Beef & Forage) to 30-32 (Keyser, Missouri Ruralist 2019)"}
)

// from says when a native starts to grow in spring.
func (s Species) from(starts figure.Figure) Species { s.Starts = starts; return s }

var (
	gamaStarts = figure.Of(105, 91, 135, figure.SecondHand, "fast from mid-April in the mid-South (Univ. of Tennessee SP731-C); up to a month later in the northern Corn Belt, two weeks earlier in the Deep South (Keyser, AgProud)")
	swStarts   = figure.Of(116, 105, 135, figure.SecondHand, "late April in the mid-South (Univ. of Tennessee SP731-C); mid-May in northern Iowa (Iowa State)")
	blueStarts = figure.Of(125, 121, 136, figure.SecondHand, "the bluestems early in May in the mid-South (Univ. of Tennessee SP731-C) and southern Iowa, mid-May in northern Iowa (Iowa State)")
	likeBlue   = figure.Of(125, 121, 136, figure.Assumption, "the bluestems' taken: early in May (Univ. of Tennessee SP731-C), mid-May in northern Iowa (Iowa State)")
)

// low is a native of lower growth: its figures are recalled, not read.
func low(name string, leave, target, least, begin figure.Figure, maxLeaf float64, aliases ...string) Species {
	return Species{
		Name: name, Aliases: aliases, Native: true, Leave: leave, Target: target, Min: least, Begin: begin,
		MaxLeaf: figure.Of(maxLeaf, 0, 0, figure.Assumption, ours),
		Late:    figure.Of(1, 0, 0, figure.CommonPractice, "its own pair, leave to height at frost"),
		Differ:  figure.Of(PaddockSpread, 0, 0, figure.Assumption, differ),
	}
}

func recalled(value, low, high float64, also string) figure.Figure {
	return figure.Of(value, low, high, figure.Memory, oldTable+also)
}

// other is ground with no fall rest: the residual and the height to begin at.
func other(name string, residual, begin figure.Figure, maxLeaf float64, aliases ...string) Species {
	return Species{
		Name: name, Aliases: aliases, Leave: residual, Min: residual, Begin: begin,
		MaxLeaf: figure.Of(maxLeaf, 0, 0, figure.Assumption, ours),
	}
}

// begun is a height to begin at that nobody was read for.
func begun(in float64) figure.Figure {
	return figure.Of(in, 0, 0, figure.Memory, "recalled, no source read")
}

var (
	fescueLeft = figure.Of(4, 3, 5, figure.Read, "leave 3-4 in in fall (UK Master Grazer), 3-5 in (GLCI, Ball et al.)")
	coolLeft   = figure.Of(4, 3, 6, figure.Read, "leave 3-4 in of cool-season grass in fall (UK Master Grazer); 4 is the shortest left, not the mean (USDA-NRCS Indiana 2020); 4-6 of green leaf (Beef Magazine)")
	sodLeft    = figure.Of(3, 2, 4, figure.Memory, "sod grasses are grazed closer; recalled")
	warmLeft   = figure.Of(3, 2, 5, figure.SecondHand, "2-3 in (Univ. of Missouri Extension 2016); after drought bermudagrass 3, Old World bluestem 5 (Oklahoma State)")
	warmBegin  = figure.Of(6, 6, 8, figure.SecondHand, "6-8 in (Univ. of Missouri Extension, Springfield News-Leader 2016)")
	stalkLeft  = figure.Of(8, 6, 8, figure.SecondHand, "about 8 leafy inches (Univ. of Nebraska, Farm Progress 2004); 6-8 recalled")
	kinBegin   = figure.Of(24, 18, 30, figure.SecondHand, kinTall+"; 30 after a frost (AgProud 35189)")
	millBegin  = figure.Of(15, 12, 15, figure.SecondHand, "12-15 in (Univ. of Nebraska, Farm Progress 2004)")
	legumeLeft = figure.Of(4, 3, 4, figure.Memory, "legumes with cool-season grass; recalled")
)

// Grasses is every species known, natives first.
var Grasses = spell.Table[Species]{
	tall("eastern gamagrass", gamaLeave, gamaBegin, 48, "gamagrass", "gama grass", "eastern gama grass", "egg", "tripsacum").from(gamaStarts),
	tall("big bluestem", blueLeave, blueBegin, 36, "bluestem", "big blue", "bbs").from(blueStarts),
	tall("indiangrass", indLeave, indBegin, 36, "indian grass", "yellow indiangrass", "ind").is(stands).from(likeBlue),
	tall("switchgrass", swLeave, swBegin, 40, "switch grass", "switch", "swg").is(saponin).slow().from(swStarts),
	tall("lowland switchgrass", swLeave, swBegin, 48, "switchgrass lowland", "alamo switchgrass", "kanlow switchgrass").is(saponin).slow().from(swStarts),
	tall("upland switchgrass", sources{4, 12, swLeave.say}, sources{12, 26, swBegin.say}, 36, "switchgrass upland", "cave-in-rock switchgrass").is(saponin).slow().from(swStarts),
	tall("mixed natives", mixLeave, mixBegin, 36, "mixed native", "native mix", "natives", "native grass", "mixed native grass",
		"nwsg", "native warm-season grass", "native warm-season mix", "tallgrass", "tallgrass mix", "prairie", "tallgrass prairie").is(stands).from(likeBlue),
	low("little bluestem", recalled(6, 3, 8, "; 8 in (a seed dealer's page)"), recalled(12, 4, 12, ""), recalled(4, 3, 4, ""),
		figure.Of(9, 5, 16, figure.Derived, scaled+"; 5-7 in (recalled) to 16 in (a seed dealer's page)"), 20, "little blue", "lbs").from(blueStarts),
	low("sideoats grama", recalled(4, 2, 4, ""), recalled(8, 4, 8, ""), recalled(3, 2, 3, ""),
		figure.Of(6, 4, 6, figure.Derived, scaled+"; 4-6 in recalled"), 14, "side-oats grama", "side oats grama", "sideoats", "sog").from(likeBlue),

	other("tall fescue", fescueLeft, begun(8), 24, "fescue", "kentucky 31", "ky-31", "k31", "tf").is(coolSeason | toxic),
	other("novel fescue", fescueLeft, begun(8), 24, "novel tall fescue", "novel endophyte fescue").is(coolSeason),
	other("orchardgrass", coolLeft, begun(8), 30, "orchard grass").is(coolSeason),
	other("smooth brome", coolLeft, begun(8), 30, "bromegrass", "brome", "smooth bromegrass").is(coolSeason),
	other("timothy", coolLeft, begun(8), 30).is(coolSeason),
	other("kentucky bluegrass", sodLeft, begun(5), 16, "bluegrass").is(coolSeason),
	other("perennial ryegrass", sodLeft, begun(6), 18, "ryegrass").is(coolSeason),
	other("reed canarygrass", coolLeft, begun(10), 48, "reed canary grass", "canarygrass").is(coolSeason),
	other("mixed cool-season", coolLeft, begun(8), 30, "cool-season grass", "cool-season mix", "cool season grass",
		"mixed cool season grass", "mixed pasture", "cool-season", "pasture").is(coolSeason),
	other("winter annuals", coolLeft, begun(8), 30, "cereal rye", "winter wheat", "wheat", "triticale", "oats", "annual ryegrass", "small grain", "small grains").is(coolSeason | nitrate),
	other("bermudagrass", warmLeft, warmBegin, 18, "bermuda grass", "bermuda"),
	other("bahiagrass", sodLeft, begun(6), 18, "bahia grass", "bahia"),
	other("old world bluestem", warmLeft, warmBegin, 24, "caucasian bluestem"),
	other("crabgrass", sodLeft, begun(6), 24, "crab grass"),
	other("pearl millet", stalkLeft, millBegin, 60, "millet", "foxtail millet").is(nitrate),
	other("corn", stalkLeft, begun(24), 96, "grazing corn", "corn stalks", "maize").is(nitrate),
	other("teff", coolLeft, begun(8), 30),
	other("sorghum-sudangrass", stalkLeft, kinBegin, 72, "sorghum-sudan").is(stands),
	other("sudangrass", stalkLeft, sudanTall, 72, "sudan grass", "sudan").is(stands),
	other("sorghum", stalkLeft, kinBegin, 60, "forage sorghum", "grain sorghum", "milo").is(stands),
	other("johnsongrass", stalkLeft, begun(18), 60, "johnson grass").is(stands),
	other("alfalfa", legumeLeft, begun(10), 36, "lucerne").is(stands),
	other("clover", legumeLeft, begun(8), 24, "red clover", "white clover", "ladino clover").is(stands),
}

const (
	acidSays  = "14 days after a non-killing frost (UK Master Grazer; Overton Co., TN; Indiana NRCS), 10-14 (UT Beef & Forage), 8-10 (Univ. of Illinois), 3-4 after a hard one (Ohio State 2016)"
	cherrySay = "none is published: off until the limbs are gone or the leaves dry and brown (Univ. of Maryland 2025; Penn State 2023); the sorghum kin's borrowed"
	kinTall   = "sorghum kin 24 in (Univ. of Illinois, Nebraska); 18-24 (Kansas State), 20-24 (Nebraska)"
	measured  = "under 500 mg/kg at 16 in or more, over 750 at 8 in or less (J. Range Manage. 40(6), 1987, five cultivars, no frost); a threat under 8 in after frost (Ohio State 2024)"
	bloatSays = "worst 3-5 days after freezing, over when 50-70 % has dried (Univ. of Nebraska), which freezes over several weeks draw out (2023)"
)

var (
	acidDays  = figure.Of(14, 3, 14, figure.Read, acidSays)
	cherryDay = figure.Of(14, 0, 0, figure.Assumption, cherrySay)
	grassDays = figure.Of(14, 5, 14, figure.Assumption, "the sorghum kin's wait borrowed; Ohio State ranks indiangrass with them after frost")
	bloatDays = figure.Of(14, 3, 14, figure.Assumption, bloatSays)
	sudanTall = figure.Of(18, 15, 18, figure.Read, "sudangrass 18 in (Univ. of Illinois, Nebraska), 15-18 in (Nebraska 2020, NDSU)")
	johnTall  = figure.Of(18, 15, 24, figure.Derived, "sudangrass's taken; regrowth 18-24 in (UT Beef & Forage)")
	sorghTall = figure.Of(24, 18, 24, figure.Read, kinTall)
	caneTall  = figure.Of(24, 18, 24, figure.Derived, "sorghum's taken: "+kinTall)
	indTall   = figure.Of(16, 8, 16, figure.Read, measured)
	mixTall   = figure.Of(8, 8, 16, figure.Assumption, "of a mix only a part is indiangrass: "+measured)
	bloatKill = figure.Of(24, 23, 25, figure.Read, "alfalfa 24-25 F for four hours (Ohio State 2012), 23 F (Iowa State 2013)")
	bloatRest = figure.Of(7, 4, 7, figure.Assumption, "4-5 days after the killing freeze (Univ. of Nebraska), with two to spare")
)

// acid is a plant that makes prussic acid after every frost.
func acid(name string, safe figure.Figure, aliases ...string) Hazard {
	return Hazard{Name: name, Aliases: aliases, Danger: PrussicAcid, Wait: acidDays, Safe: safe}
}

func cherry(name string, aliases ...string) Hazard {
	return Hazard{Name: name, Aliases: aliases, Danger: PrussicAcid, Wait: cherryDay, ByEye: true}
}

func legume(name string, aliases ...string) Hazard {
	return Hazard{Name: name, Aliases: aliases, Danger: Bloat, Wait: bloatDays, KilledAt: bloatKill, Killed: bloatRest, StandOnly: true}
}

// shortStand is grass that a frost turns only while it is short.
func shortStand(name string, tall figure.Figure, aliases ...string) Hazard {
	return Hazard{Name: name, Aliases: aliases, Danger: PrussicAcid, Wait: grassDays, Tall: tall}
}

// Hazards are the plants that hold a paddock after frost.
var Hazards = spell.Table[Hazard]{
	acid("johnsongrass", johnTall, "johnson grass"),
	acid("sorghum", sorghTall, "grain sorghum", "forage sorghum", "milo"),
	acid("sudangrass", sudanTall, "sudan grass", "sudan"),
	acid("sorghum-sudangrass", sorghTall, "sorghum-sudan", "sorghum-sudan hybrid"),
	acid("shattercane", caneTall, "shatter cane"),
	cherry("wild cherry", "cherry"),
	cherry("black cherry"),
	cherry("chokecherry", "choke cherry"),
	acid("arrowgrass", figure.Figure{}, "arrow grass"),
	legume("alfalfa", "lucerne"),
	legume("clover", "red clover", "white clover", "ladino clover"),
	shortStand("indiangrass", indTall, "indian grass", "yellow indiangrass"),
	shortStand("mixed natives", mixTall, "mixed native", "native mix", "natives"),
}

// Figures are all figures of the grasses, then of the plants that poison, in the
// order of the tables, then those of growth and of what a stand holds.
func Figures() (all figure.Names) {
	for _, s := range Grasses {
		all.Add(s.Name, "leave", "in", s.Leave)
		all.Add(s.Name, "at frost", "in", s.Target)
		all.Add(s.Name, "lowest", "in", s.Min)
		all.Add(s.Name, "begin", "in", s.Begin)
		all.Add(s.Name, "starts to grow", "day of the year", s.Starts)
		all.Add(s.Name, "tallest leaf", "in", s.MaxLeaf)
		if s.Late.Value < 1 {
			all.Add(s.Name, "late growth", "of its pair's", s.Late)
			all.Add(s.Name, "paddocks differ by", "of growth", s.Differ)
		}
	}
	for _, h := range Hazards {
		all.Add(h.Name, "wait", "days", h.Wait)
		all.Add(h.Name, "safe from", "in", h.Safe)
		all.Add(h.Name, "tall at frost", "in", h.Tall)
		all.Add(h.Name, "killed at", "F", h.KilledAt)
		all.Add(h.Name, "wait once killed", "days", h.Killed)
	}
	assumed := func(v float64) figure.Figure { return figure.Of(v, 0, 0, figure.Assumption, differ) }
	all.Add("growth", "paddocks differ by", "of growth", assumed(PaddockSpread))
	all.Add("growth", "falls differ by", "of growth", assumed(YearSpread))
	all.Add("growth", "height read to", "in at 18", assumed(heightErrorAt18))
	for _, s := range []Soil{Dry, Moist} {
		all.Add("growth", string(s)+" soil", "of average", figure.Of(s.Factor(), 0, 0, figure.Assumption, "no published multiplier found"))
	}
	for _, s := range []Stand{Thin, Medium, Dense} {
		all.Add("native stand", string(s), "lb an acre-inch", s.Standing(true))
	}
	for _, s := range []Stand{Thin, Medium, Dense} {
		all.Add("other stand", string(s), "lb an acre-inch", s.Standing(false))
	}
	return all
}
