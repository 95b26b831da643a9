package interview

import (
	"cmp"
	"slices"

	"tideover/internal/calc"
	"tideover/internal/catalogue"
	"tideover/internal/quantity"
	"tideover/internal/site"
)

// What a first size rests on.
const (
	rationed  = 0.7   // share of it people use once they know the store is low: judgement
	clearance = 0.05  // m a tank needs beside it in a door
	mostTanks = 4     // linked side by side
	drawn     = 1.3e5 // Pa wanted at the highest tap while it runs: 1 bar of EN 806-2, and the way there
	lost      = 0.25  // share of the head pipe and fittings are taken to lose, before they are worked out
	fillIn    = 12 * 3600.0
)

var storeEq = calc.Register(calc.Equation{
	Key: "store-first-size", Section: "Store",
	Title:   "First size of a store, before seasons are lived through",
	Formula: "V = n w s t",
	Result:  calc.Symbol{Name: "V", Meaning: "usable water", Dim: quantity.VolumeDim, Unit: "m³"},
	Args: []calc.Symbol{
		{Name: "n", Meaning: "people", Dim: quantity.NoDim, Unit: "–"},
		{Name: "w", Meaning: "use of one person", Dim: quantity.FlowDim, Unit: "m³/s"},
		{Name: "s", Meaning: "share of it used when people know the store is low", Dim: quantity.NoDim, Unit: "–"},
		{Name: "t", Meaning: "longest interruption told", Dim: quantity.TimeDim, Unit: "s"},
	},
	Range:  "a rule of thumb: no odds, no seasons; never beyond what keeps fresh",
	Source: "mass balance; use of EN 806-3:2006",
	Fn:     func(a []float64) float64 { return a[0] * a[1] * a[2] * a[3] },
})

// tanks picks rows and count for so much usable water [m³], the fewest tanks and the least
// water that do, through a door [m], of those sold by the measure of the home. ok is false where no tank passes.
func (v *Interview) tanks(want, door float64, sys quantity.System) (row catalogue.Store, count int, ok bool) {
	var fit []catalogue.Store
	for _, key := range v.rows.Keys("stores") {
		s := v.rows.Stores[key]
		if catalogue.SoldIn(key, sys) && float64(s.Diameter)+clearance <= door {
			fit = append(fit, s)
		}
	}
	if len(fit) == 0 {
		return row, 0, false
	}
	slices.SortStableFunc(fit, func(a, b catalogue.Store) int { return cmp.Compare(a.Nominal, b.Nominal) })
	for count = 1; count <= mostTanks; count++ {
		for _, s := range fit {
			if float64(s.Usable(site.OverflowMargin(nil, nil), site.UsualCover(nil)))*float64(count) >= want {
				return s, count, true
			}
		}
	}
	return fit[len(fit)-1], mostTanks, true
}

// pumps are the catalogue's pumps that lift so much water so high, the weakest first, then
// all others from the weakest: what is tried in this order.
func (v *Interview) pumps(q, h float64) []catalogue.Pump {
	var able, rest []catalogue.Pump
	for _, key := range v.rows.Keys("pumps") {
		p := v.rows.Pumps[key]
		if at(p, q) >= h {
			able = append(able, p)
		} else {
			rest = append(rest, p)
		}
	}
	weakest := func(a, b catalogue.Pump) int {
		return cmp.Or(cmp.Compare(a.Power, b.Power), cmp.Compare(a.Shutoff, b.Shutoff), cmp.Compare(a.Key, b.Key))
	}
	slices.SortFunc(able, weakest)
	slices.SortFunc(rest, weakest)
	return append(able, rest...)
}

// at is a pump's head at a flow, straight between its points: enough to pick by. [m]
func at(p catalogue.Pump, q float64) float64 {
	q1, h1, q2, h2 := float64(p.Q1), float64(p.H1), float64(p.Q2), float64(p.H2)
	if q <= q1 {
		return float64(p.Shutoff) - (float64(p.Shutoff)-h1)*q/q1
	}
	return h1 - (h1-h2)*(q-q1)/(q2-q1)
}
