package grass

import "stubbled/scheduler/figure"

const (
	practice = "common practice: leave 8 in, 45 days, 18 in at frost"
	wide     = "sources run 4-6 (Penn State), 6-8 (Missouri, USDA-ARS), 8-10 (Kentucky Forage News 2020), 12-15 (Crop Science 1998, gamagrass) to 16 (Keyser, Univ. of Tennessee)"
	beginAt  = "sources run from 12 (Univ. of Missouri, Polley 2016) to 32 (Keyser, Univ. of Tennessee)"
	dormant  = "10 in before a killing frost (USDA-NRCS, Missouri, 2008); 12 in or more (Penn State); Keyser calls 18-24 in a reasonable residue at dormancy (Drovers)"
	lowest   = "growing point 6-8 in up (Keyser, Missouri Ruralist 2019); 6-8 in, never lower (Missouri Dept. of Conservation)"
	scaled   = "the tall grasses' 14 in scaled by the height wanted at frost; little bluestem 5-7 in (recalled) to 16 in (a seed dealer's page)"
	ours     = "no published greatest leaf height found"
	oldTable = "Blanchet et al., Grazing Systems Planning Guide, Univ. of Minnesota 2003, recalled"
)

// tall is a tall native with the common-practice figures.
func tall(name string, maxLeaf float64, aliases ...string) Species {
	return Species{
		Name: name, Aliases: aliases, Native: true,
		Leave:   figure.Of(8, 4, 16, figure.CommonPractice, practice+"; "+wide),
		Target:  figure.Of(18, 10, 24, figure.CommonPractice, practice+"; "+dormant),
		Min:     figure.Of(6, 4, 8, figure.SecondHand, lowest),
		Begin:   figure.Of(14, 12, 32, figure.CommonPractice, beginAt),
		MaxLeaf: figure.Of(maxLeaf, 0, 0, figure.Assumption, ours),
	}
}

// low is a native of lower growth: its figures are recalled, not read.
func low(name string, leave, target, least, begin, maxLeaf float64, aliases ...string) Species {
	return Species{
		Name: name, Aliases: aliases, Native: true,
		Leave:   figure.Of(leave, 2, max(leave, 8), figure.Memory, oldTable+"; little bluestem 8 in (a seed dealer's page)"),
		Target:  figure.Of(target, 4, target, figure.Memory, oldTable),
		Min:     figure.Of(least, 2, least, figure.Memory, oldTable),
		Begin:   figure.Of(begin, 4, max(begin, 16), figure.Derived, scaled),
		MaxLeaf: figure.Of(maxLeaf, 0, 0, figure.Assumption, ours),
	}
}

// other is ground with no fall rest: the residual and the height to begin at.
func other(name string, residual figure.Figure, begin, maxLeaf float64, aliases ...string) Species {
	return Species{
		Name: name, Aliases: aliases,
		Leave:   residual,
		Min:     residual,
		Begin:   figure.Of(begin, 0, 0, figure.Memory, "recalled, no source read"),
		MaxLeaf: figure.Of(maxLeaf, 0, 0, figure.Assumption, ours),
	}
}

var (
	fescueLeft = figure.Of(4, 3, 5, figure.Read, "leave 3-4 in in fall (UK Master Grazer), 3-5 in (GLCI, Ball et al.)")
	coolLeft   = figure.Of(4, 3, 4, figure.Read, "leave 3-4 in of cool-season grass in fall (UK Master Grazer)")
	sodLeft    = figure.Of(3, 2, 4, figure.Memory, "sod grasses are grazed closer; recalled")
	stalkLeft  = figure.Of(8, 6, 8, figure.Memory, "leave 6-8 in of sorghum kin to regrow; recalled")
	legumeLeft = figure.Of(4, 3, 4, figure.Memory, "legumes with cool-season grass; recalled")
)

// table is every species known, natives first.
var table = []Species{
	tall("eastern gamagrass", 48, "gamagrass", "gama grass", "eastern gama grass", "egg", "tripsacum"),
	tall("big bluestem", 36, "bluestem", "big blue", "bbs"),
	tall("indiangrass", 36, "indian grass", "yellow indiangrass", "ind").is(stands),
	tall("switchgrass", 40, "switch grass", "switch", "swg").is(saponin),
	tall("lowland switchgrass", 48, "switchgrass lowland", "alamo switchgrass", "kanlow switchgrass").is(saponin),
	tall("upland switchgrass", 36, "switchgrass upland", "cave-in-rock switchgrass").is(saponin),
	tall("mixed natives", 36, "mixed native", "native mix", "natives", "native grass", "mixed native grass",
		"nwsg", "native warm-season grass", "native warm-season mix", "tallgrass", "tallgrass mix", "prairie", "tallgrass prairie").is(stands),
	low("little bluestem", 6, 12, 4, 9, 20, "little blue", "lbs"),
	low("sideoats grama", 4, 8, 3, 6, 14, "side-oats grama", "side oats grama", "sideoats", "sog"),

	other("tall fescue", fescueLeft, 8, 24, "fescue", "kentucky 31", "ky-31", "k31", "tf").is(coolSeason | toxic),
	other("novel fescue", fescueLeft, 8, 24, "novel tall fescue", "novel endophyte fescue").is(coolSeason),
	other("orchardgrass", coolLeft, 8, 30, "orchard grass").is(coolSeason),
	other("smooth brome", coolLeft, 8, 30, "bromegrass", "brome", "smooth bromegrass").is(coolSeason),
	other("timothy", coolLeft, 8, 30).is(coolSeason),
	other("kentucky bluegrass", sodLeft, 5, 16, "bluegrass").is(coolSeason),
	other("perennial ryegrass", sodLeft, 6, 18, "ryegrass").is(coolSeason),
	other("reed canarygrass", coolLeft, 10, 48, "reed canary grass", "canarygrass").is(coolSeason),
	other("mixed cool-season", coolLeft, 8, 30, "cool-season grass", "cool-season mix", "cool season grass",
		"mixed cool season grass", "mixed pasture", "cool-season", "pasture").is(coolSeason),
	other("winter annuals", coolLeft, 8, 30, "cereal rye", "winter wheat", "wheat", "triticale", "oats", "annual ryegrass", "small grain", "small grains").is(coolSeason | nitrate),
	other("bermudagrass", sodLeft, 6, 18, "bermuda grass", "bermuda"),
	other("bahiagrass", sodLeft, 6, 18, "bahia grass", "bahia"),
	other("old world bluestem", sodLeft, 6, 24, "caucasian bluestem"),
	other("crabgrass", sodLeft, 6, 24, "crab grass"),
	other("pearl millet", stalkLeft, 18, 60, "millet", "foxtail millet").is(nitrate),
	other("corn", stalkLeft, 24, 96, "grazing corn", "corn stalks", "maize").is(nitrate),
	other("teff", coolLeft, 8, 30),
	other("sorghum-sudangrass", stalkLeft, 24, 72, "sorghum-sudan").is(stands),
	other("sudangrass", stalkLeft, 18, 72, "sudan grass", "sudan").is(stands),
	other("sorghum", stalkLeft, 24, 60, "forage sorghum", "grain sorghum", "milo").is(stands),
	other("johnsongrass", stalkLeft, 18, 60, "johnson grass").is(stands),
	other("alfalfa", legumeLeft, 10, 36, "lucerne").is(stands),
	other("clover", legumeLeft, 8, 24, "red clover", "white clover", "ladino clover").is(stands),
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

// hazards are the plants that hold a paddock after frost.
var hazards = []Hazard{
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

// A Named is a figure with what it is a figure of.
type Named struct {
	Of, What, Unit string
	figure.Figure
}

// Figures are all figures of the grasses, then of the plants that poison, in the
// order of the tables.
func Figures() []Named {
	var all []Named
	add := func(of, what, unit string, f figure.Figure) {
		if f.Known() {
			all = append(all, Named{of, what, unit, f})
		}
	}
	for _, s := range table {
		add(s.Name, "leave", "in", s.Leave)
		add(s.Name, "at frost", "in", s.Target)
		add(s.Name, "lowest", "in", s.Min)
		add(s.Name, "begin", "in", s.Begin)
		add(s.Name, "tallest leaf", "in", s.MaxLeaf)
	}
	for _, h := range hazards {
		add(h.Name, "wait", "days", h.Wait)
		add(h.Name, "safe from", "in", h.Safe)
		add(h.Name, "tall at frost", "in", h.Tall)
		add(h.Name, "killed at", "F", h.KilledAt)
		add(h.Name, "wait once killed", "days", h.Killed)
	}
	return all
}
