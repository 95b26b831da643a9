// Package sitework does the plain arithmetic of the people on site: what the base
// carries, what current the pump takes and what an inverter must give, how hard the pipe
// is tested, how long each outlet is flushed, how long the home has no water, and between
// which readings a measured figure is accepted.
//
// Stage: an analysis without a home. It takes bare figures and gives results with their
// calculation. It never sees a job and makes no judgement beyond comparing with the
// limit it is given.
//
// Left out: the stress in a slab and its settlement (an engineer's work where the ground
// is soft), the drop in a cable (the electrician's), and the fall in pressure of a
// plastic pipe that stretches (the test is done in steps instead).
package sitework

import (
	"math"

	"tideover/internal/calc"
	"tideover/internal/quantity"
)

// Gravity is standard gravity. [m/s²]
const Gravity = 9.80665

// WaterOff is how long the home has no water while the new work is tied in. [s]
var WaterOff = calc.Register(calc.Equation{
	Key: "water-off", Title: "Water off to the home while tying in", Section: "Building",
	Formula: "t = t_d + n (t_c + 2 t_j) + t_f",
	Result:  calc.Symbol{Name: "t", Meaning: "water off", Dim: quantity.TimeDim, Unit: "s"},
	Args: []calc.Symbol{
		{Name: "n", Meaning: "places where new pipe meets old", Unit: "–"},
		{Name: "t_d", Meaning: "draining down", Dim: quantity.TimeDim, Unit: "s"},
		{Name: "t_c", Meaning: "one cut, deburred", Dim: quantity.TimeDim, Unit: "s"},
		{Name: "t_j", Meaning: "one joint", Dim: quantity.TimeDim, Unit: "s"},
		{Name: "t_f", Meaning: "filling slowly and looking for leaks", Dim: quantity.TimeDim, Unit: "s"},
	},
	Range:  "everything dry-fitted before, two people, no surprise in the old pipe: double it for the promise to the family",
	Source: "trade knowledge, recalled: 2.5 min a cut, 5 min a joint, 15 min to drain, 20 min to fill and look",
	Fn:     func(a []float64) float64 { return a[1] + a[0]*(a[2]+2*a[3]) + a[4] },
})

// TieIn works out how long the water is off for so many places where new meets old.
func TieIn(places int) (quantity.Time, calc.Sheet) {
	var s calc.Sheet
	t := s.Eval(WaterOff, float64(places), 15*60, 2.5*60, 5*60, 20*60)
	return quantity.Time(t), s
}

// Band is the readings between which a figure measured on site is accepted.
type Band struct{ Low, High float64 }

// Accept returns the readings around an expected figure that are accepted: its own
// spread, or a share of it where that is more, or a least width where that is more still.
// All in the figure's unit; half, share and least must not be negative.
func Accept(figure, half, share, least float64) Band {
	w := max(half, math.Abs(figure)*share, least)
	return Band{figure - w, figure + w}
}
