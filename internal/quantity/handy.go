package quantity

import (
	"math"
	"strconv"
)

// Handy writes a pressure or a length [Pa, m] as somebody would set it, in the reader's units and
// no finer than a gauge or a rule shows: "1.2 bar" or "17 psi", "9.5 m" or "31 ft", "68 mm" or
// "2.75 in". What comes of the rounding is for who tries the value to judge. Range: finite
// values; any other dimension is written to the last bit.
func Handy(dim Dim, si float64, sys System) string {
	steps := func(unit, step float64, name string) string {
		return strconv.FormatFloat(math.Round(si/unit/step)*step, 'f', -1, 64) + " " + name
	}
	const foot, psi = 0.3048, 6894.757293168
	switch {
	case dim == PressureDim && sys == US:
		return steps(psi, 1, "psi")
	case dim == PressureDim:
		return strconv.FormatFloat(math.Round(si/1e3)/100, 'f', -1, 64) + " bar"
	case dim == LengthDim && sys == US && math.Abs(si) < 1:
		return steps(foot/12, 0.25, "in")
	case dim == LengthDim && sys == US:
		return steps(foot, 0.5, "ft")
	case dim == LengthDim && math.Abs(si) < 1:
		return steps(1e-3, 1, "mm")
	case dim == LengthDim:
		return strconv.FormatFloat(math.Round(si*10)/10, 'f', -1, 64) + " m"
	}
	return FormatFile(Quantity{Dim: dim, SI: si, Basis: Stated}, sys)
}
