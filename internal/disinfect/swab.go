package disinfect

import (
	"tideover/internal/calc"
	"tideover/internal/quantity"
)

// SwabStrength is the solution that fittings are dipped in or wiped with where no dosed
// water reaches them, and SwabTime how long it stays wet on them.
const (
	SwabStrength quantity.Dose = 10   // kg/m³: 1 %
	SwabTime     quantity.Time = 1800 // s
)

// SwabProduct is how much product goes into a bucket of that solution. [in the unit of P]
var SwabProduct = calc.Register(calc.Equation{
	Key: "swab-product", Title: "Product for the solution that fittings are dipped in", Section: section,
	Formula: "P_s = P c_s V_s / m",
	Result:  calc.Symbol{Name: "P_s", Meaning: "product for the bucket, in the unit of P", Unit: "m³ or kg"},
	Args: []calc.Symbol{
		{Name: "P", Meaning: "product that goes into the store", Unit: "m³ or kg"},
		{Name: "c_s", Meaning: "free chlorine of the solution", Dim: quantity.DoseDim, Unit: "kg/m³"},
		{Name: "V_s", Meaning: "water in the bucket", Dim: quantity.VolumeDim, Unit: "m³"},
		{Name: "m", Meaning: "chlorine that goes into the store", Dim: quantity.MassDim, Unit: "kg"},
	},
	Range:  "the same bottle on the same day; the product's own volume is not taken off the water",
	Source: "proportion; a 1 % solution left on for 30 minutes, as ANSI/AWWA C651 has it for fittings, recalled",
	Fn:     func(a []float64) float64 { return a[0] * a[1] * a[2] / a[3] },
})

// Swab is the product for so much water [m³] of the 1 % solution, of the bottle the dose was
// worked out for: what to pour of a liquid, or to weigh.
func (d *Dose) Swab(water quantity.Volume) (liquid quantity.Volume, mass quantity.Mass) {
	var s calc.Sheet
	in := func(product float64) float64 {
		return s.Eval(SwabProduct, product, float64(SwabStrength), float64(water), float64(d.Chlorine))
	}
	return quantity.Volume(in(float64(d.Liquid))), quantity.Mass(in(float64(d.Product)))
}
