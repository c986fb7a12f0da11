package grass

import "stubbled/scheduler/figure"

const (
	practice = "common practice: leave 8 in, 45 days, 18 in at frost"
	wide     = "sources run 6-8 (Missouri, USDA-ARS) and 8-10 (Kentucky Forage News 2020) to 12-16 (Keyser, Univ. of Tennessee)"
	beginAt  = "sources run from 12 (Univ. of Missouri, Polley 2016) to 32 (Keyser, Univ. of Tennessee)"
	dormant  = "Penn State asks 12 in or more at frost; Keyser calls 18-24 in a reasonable residue at dormancy (Drovers)"
	lowest   = "growing point 6-8 in up (Keyser, Missouri Ruralist 2019); 6-8 in, never lower (Missouri Dept. of Conservation)"
	scaled   = "no source read; the tall grasses' 14 in scaled by the height wanted at frost"
	ours     = "no published greatest leaf height found"
	oldTable = "Blanchet et al., Grazing Systems Planning Guide, Univ. of Minnesota 2003, recalled"
)

// tall is a tall native with the common-practice figures.
func tall(name string, maxLeaf float64, aliases ...string) Species {
	return Species{
		Name: name, Aliases: aliases, Native: true,
		Leave:   figure.Of(8, 6, 16, figure.CommonPractice, practice+"; "+wide),
		Target:  figure.Of(18, 12, 24, figure.CommonPractice, practice+"; "+dormant),
		Min:     figure.Of(6, 4, 8, figure.SecondHand, lowest),
		Begin:   figure.Of(14, 12, 32, figure.CommonPractice, beginAt),
		MaxLeaf: figure.Of(maxLeaf, 0, 0, figure.Assumption, ours),
	}
}

// low is a native of lower growth: its figures are recalled, not read.
func low(name string, leave, target, least, begin, maxLeaf float64, aliases ...string) Species {
	return Species{
		Name: name, Aliases: aliases, Native: true,
		Leave:   figure.Of(leave, 2, leave, figure.Memory, oldTable),
		Target:  figure.Of(target, 4, target, figure.Memory, oldTable),
		Min:     figure.Of(least, 2, least, figure.Memory, oldTable),
		Begin:   figure.Of(begin, 4, begin, figure.Derived, scaled),
		MaxLeaf: figure.Of(maxLeaf, 0, 0, figure.Assumption, ours),
	}
}

// other is ground with no fall rest: the residual and the height to begin at.
func other(name string, residual figure.Figure, begin, maxLeaf float64, aliases ...string) Species {
	return Species{
		Name: name, Aliases: aliases,
		Leave:   residual,
		Min:     residual,
		Begin:   figure.Of(begin, 0, 0, figure.Memory, oldTable),
		MaxLeaf: figure.Of(maxLeaf, 0, 0, figure.Assumption, ours),
	}
}

// hot marks ground sown to a hazard plant.
func hot(s Species, hazard string) Species { s.Hazard = hazard; return s }

// short marks grass that is doubtful after a frost while short.
func short(s Species) Species { s.Dhurrin = true; return s }

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
	short(tall("indiangrass", 36, "indian grass", "yellow indiangrass", "ind")),
	tall("switchgrass", 40, "switch grass", "switch", "swg"),
	tall("lowland switchgrass", 48, "switchgrass lowland", "alamo switchgrass", "kanlow switchgrass"),
	tall("upland switchgrass", 36, "switchgrass upland", "cave-in-rock switchgrass"),
	short(tall("mixed natives", 36, "mixed native", "native mix", "natives", "native grass", "mixed native grass",
		"nwsg", "native warm-season grass", "native warm-season mix", "tallgrass", "tallgrass mix", "prairie", "tallgrass prairie")),
	low("little bluestem", 6, 12, 4, 9, 20, "little blue", "lbs"),
	low("sideoats grama", 4, 8, 3, 6, 14, "side-oats grama", "side oats grama", "sideoats", "sog"),

	other("tall fescue", fescueLeft, 8, 24, "fescue", "kentucky 31", "ky-31", "k31", "novel fescue", "tf"),
	other("orchardgrass", coolLeft, 8, 30, "orchard grass"),
	other("smooth brome", coolLeft, 8, 30, "bromegrass", "brome", "smooth bromegrass"),
	other("timothy", coolLeft, 8, 30),
	other("kentucky bluegrass", sodLeft, 5, 16, "bluegrass"),
	other("perennial ryegrass", sodLeft, 6, 18, "ryegrass"),
	other("reed canarygrass", coolLeft, 10, 48, "reed canary grass", "canarygrass"),
	other("mixed cool-season", coolLeft, 8, 30, "cool-season grass", "cool-season mix", "cool season grass",
		"mixed cool season grass", "mixed pasture", "cool-season", "pasture"),
	other("winter annuals", coolLeft, 8, 30, "cereal rye", "winter wheat", "wheat", "triticale", "oats", "annual ryegrass"),
	other("bermudagrass", sodLeft, 6, 18, "bermuda grass", "bermuda"),
	other("bahiagrass", sodLeft, 6, 18, "bahia grass", "bahia"),
	other("old world bluestem", sodLeft, 6, 24, "caucasian bluestem"),
	other("crabgrass", sodLeft, 6, 24, "crab grass"),
	other("pearl millet", stalkLeft, 18, 60, "millet"),
	other("teff", coolLeft, 8, 30),
	hot(other("sorghum-sudangrass", stalkLeft, 24, 72, "sorghum-sudan"), "sorghum-sudangrass"),
	hot(other("sudangrass", stalkLeft, 18, 72, "sudan grass", "sudan"), "sudangrass"),
	hot(other("sorghum", stalkLeft, 24, 60, "forage sorghum", "grain sorghum", "milo"), "sorghum"),
	hot(other("johnsongrass", stalkLeft, 18, 60, "johnson grass"), "johnsongrass"),
	hot(other("alfalfa", legumeLeft, 10, 36, "lucerne"), "alfalfa"),
	hot(other("clover", legumeLeft, 8, 24, "red clover", "white clover", "ladino clover"), "clover"),
}

// coolSeason are the species that grow on into the fall and can be stockpiled.
var coolSeason = []string{
	"tall fescue", "orchardgrass", "smooth brome", "timothy", "kentucky bluegrass",
	"perennial ryegrass", "reed canarygrass", "mixed cool-season", "winter annuals",
}

var (
	acidDays  = figure.Of(14, 5, 14, figure.Read, "14 days after a non-killing frost (UK Master Grazer); 10-14 (UT Beef & Forage); 8-10 (Univ. of Illinois); 5-7 (Nebraska)")
	bloatDays = figure.Of(5, 3, 5, figure.Read, "alfalfa: worst the first 3-5 days after freezing (Walz, Univ. of Nebraska)")
	cloverDay = figure.Of(5, 3, 5, figure.Assumption, "alfalfa's wait borrowed (Walz, Univ. of Nebraska)")
	grassDays = figure.Of(14, 5, 14, figure.Assumption, "the sorghum kin's wait borrowed; indiangrass is named beside them by K-State")
	sudanTall = figure.Of(18, 15, 18, figure.Read, "sudangrass 18 in (Univ. of Illinois), 15-18 in (Nebraska, NDSU)")
	sorghTall = figure.Of(24, 18, 24, figure.Read, "sorghum kin 24 in (Univ. of Illinois, Nebraska); 18-24 in (UT)")
)

// hazards are the plants that hold a paddock after frost.
var hazards = []Hazard{
	{Name: "johnsongrass", Aliases: []string{"johnson grass"}, Danger: PrussicAcid, Wait: acidDays, ShortBelow: sorghTall},
	{Name: "sorghum", Aliases: []string{"grain sorghum", "forage sorghum", "milo"}, Danger: PrussicAcid, Wait: acidDays, ShortBelow: sorghTall},
	{Name: "sudangrass", Aliases: []string{"sudan grass", "sudan"}, Danger: PrussicAcid, Wait: acidDays, ShortBelow: sudanTall},
	{Name: "sorghum-sudangrass", Aliases: []string{"sorghum-sudan", "sorghum-sudan hybrid"}, Danger: PrussicAcid, Wait: acidDays, ShortBelow: sorghTall},
	{Name: "shattercane", Aliases: []string{"shatter cane"}, Danger: PrussicAcid, Wait: acidDays, ShortBelow: sorghTall},
	{Name: "wild cherry", Aliases: []string{"cherry"}, Danger: PrussicAcid, Wait: acidDays},
	{Name: "black cherry", Aliases: nil, Danger: PrussicAcid, Wait: acidDays},
	{Name: "chokecherry", Aliases: []string{"choke cherry"}, Danger: PrussicAcid, Wait: acidDays},
	{Name: "arrowgrass", Aliases: []string{"arrow grass"}, Danger: PrussicAcid, Wait: acidDays},
	{Name: "alfalfa", Aliases: []string{"lucerne"}, Danger: Bloat, Wait: bloatDays},
	{Name: "clover", Aliases: []string{"red clover", "white clover", "ladino clover"}, Danger: Bloat, Wait: cloverDay},
	{Name: "indiangrass", Aliases: []string{"indian grass", "yellow indiangrass"}, Danger: PrussicAcid, Wait: grassDays,
		Conditional: true},
	{Name: "mixed natives", Aliases: []string{"mixed native", "native mix", "natives"}, Danger: PrussicAcid, Wait: grassDays,
		Conditional: true},
}
