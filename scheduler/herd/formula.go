package herd

// The plain sums of the grazing handbooks. In all of them an input that is not
// a positive number gives 0.

// Exact conversions (NIST SP 811).
const (
	lbPerKg      = 1 / 0.45359237
	acresPerHa   = 1 / 0.40468564224
	sqFtPerAcre  = 43_560.0
	ouncesPerLb  = 16.0
	DaysPerMonth = 30.4 // average month of the Natl. Range and Pasture Handbook (790 / 26; derived)
)

// LbPerAcre turns kg per hectare into lb per acre.
func LbPerAcre(kgPerHa float64) float64 { return finite(atLeast0(kgPerHa) * lbPerKg / acresPerHa) }

// KgPerHa turns lb per acre into kg per hectare: 1 lb/ac is 1.1209 kg/ha.
func KgPerHa(lbPerAcre float64) float64 { return finite(atLeast0(lbPerAcre) / lbPerKg * acresPerHa) }

// ClipLbPerAcre is the yield that a clipping of so many ounces from so many
// square feet stands for, lb per acre.
func ClipLbPerAcre(ounces, squareFeet float64) float64 {
	if !positive(ounces, squareFeet) {
		return 0
	}
	return finite(ounces / ouncesPerLb * sqFtPerAcre / squareFeet)
}

// Layer is the forage between the canopy and the residual, lb per acre: inches
// offered times lb per acre-inch. Nothing is offered at or below the residual.
func Layer(height, residual, lbPerAcreInch float64) float64 {
	return finite(atLeast0(height-residual) * atLeast0(lbPerAcreInch))
}

// Intake is the dry matter one animal takes a day, lb, as a share of its weight
// such as 0.026.
func Intake(weightLb, ofWeight float64) float64 {
	return finite(atLeast0(weightLb) * atLeast0(ofWeight))
}

// UnitMonth is the forage of one animal unit over a month of so many days, lb:
// 26 lb and 30 days are 780.
func UnitMonth(lbPerDay, days float64) float64 { return finite(atLeast0(lbPerDay) * atLeast0(days)) }

// Eatable is the forage that animals get of what is offered, lb. efficiency is
// a share of that same base: of the layer above the residual, or of all that
// stands, as the source has it.
func Eatable(acres, lbPerAcre, efficiency float64) float64 {
	return finite(atLeast0(acres) * atLeast0(lbPerAcre) * share(efficiency))
}

// GrazingDays is how long a herd is fed: (lb/ac x acres x efficiency) / (head x
// daily lb) (Univ. of Maine Extension, Pasture Course App. D and Lesson 5; read).
func GrazingDays(acres, lbPerAcre, efficiency, head, dailyLb float64) float64 {
	return over(Eatable(acres, lbPerAcre, efficiency), atLeast0(head)*atLeast0(dailyLb))
}

// GrazingHead is how many head so much ground feeds for so many days.
func GrazingHead(acres, lbPerAcre, efficiency, days, dailyLb float64) float64 {
	return over(Eatable(acres, lbPerAcre, efficiency), atLeast0(days)*atLeast0(dailyLb))
}

// GrazingAcres is the ground that so many head need for so many days.
func GrazingAcres(lbPerAcre, efficiency, head, days, dailyLb float64) float64 {
	return over(atLeast0(head)*atLeast0(days)*atLeast0(dailyLb), Eatable(1, lbPerAcre, efficiency))
}

// StockingRate is animal-unit months per acre: units times months over acres.
func StockingRate(units, months, acres float64) float64 {
	return over(atLeast0(units)*atLeast0(months), acres)
}

// UnitMonths is the animal-unit months that ground carries at lb each.
func UnitMonths(acres, lbPerAcre, efficiency, lbEach float64) float64 {
	return over(Eatable(acres, lbPerAcre, efficiency), lbEach)
}

// AsFed is the weight as fed of so much dry matter at a moisture share; 30 lb at
// 0.6 is 75 lb. A moisture of 1 or more gives 0.
func AsFed(dryLb, moisture float64) float64 { return over(atLeast0(dryLb), 1-atLeast0(moisture)) }

// DryMatter is the dry matter of so much feed at a moisture share.
func DryMatter(asFedLb, moisture float64) float64 {
	return finite(atLeast0(asFedLb) * (1 - share(moisture)))
}

func over(a, b float64) float64 {
	if !positive(a, b) {
		return 0
	}
	return finite(a / b)
}
