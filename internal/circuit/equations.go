package circuit

import (
	"math"

	"tideover/internal/calc"
	"tideover/internal/quantity"
)

// The relations that close an outlet's walk.
var (
	// PressureEq is the pressure a head makes at a height.
	PressureEq = calc.Register(calc.Equation{
		Key: "pressure-of-head", Section: "Water",
		Title:   "Pressure felt at a height",
		Formula: "p = ρ g (H − z)",
		Result:  calc.Symbol{Name: "p", Meaning: "gauge pressure", Dim: quantity.PressureDim, Unit: "Pa"},
		Args: []calc.Symbol{
			{Name: "H", Meaning: "head above the datum", Dim: quantity.HeadDim, Unit: "m"},
			{Name: "z", Meaning: "height above the datum", Dim: quantity.LengthDim, Unit: "m"},
		},
		Range:  "ρ = 1000 kg/m³ and g = 9.80665 m/s²: the one density at which heads and pressures stand for each other",
		Source: "hydrostatics (Pascal 1663)",
		Fn:     func(a []float64) float64 { return Weight * (a[0] - a[1]) },
	})
	// OutletFlow is what an outlet passes.
	OutletFlow = calc.Register(calc.Equation{
		Key: "outlet-flow", Section: "Outlets",
		Title:   "Flow of a draw-off, held by a regulator where it has one",
		Formula: "q = min(c √h, q_r)",
		Result:  calc.Symbol{Name: "q", Meaning: "flow", Dim: quantity.FlowDim, Unit: "m³/s"},
		Args: []calc.Symbol{
			{Name: "c", Meaning: "outlet coefficient, from its flow at 3 bar", Unit: "m^2.5/s"},
			{Name: "h", Meaning: "head left at the outlet while it runs", Dim: quantity.HeadDim, Unit: "m"},
			{Name: "q_r", Meaning: "regulator's flow, 0 for none", Dim: quantity.FlowDim, Unit: "m³/s"},
		},
		Range:  "h ≥ 0, c > 0",
		Source: "Torricelli's orifice law",
		Fn: func(a []float64) float64 {
			q := a[0] * math.Sqrt(math.Max(a[1], 0))
			if a[2] > 0 {
				q = math.Min(q, a[2])
			}
			return q
		},
	})
	// OpenOutletFlow is what an outlet without a regulator passes.
	OpenOutletFlow = calc.Register(calc.Equation{
		Key: "outlet-flow-open", Section: "Outlets",
		Title:   "Flow of a draw-off without a regulator",
		Formula: "q = c √h",
		Result:  calc.Symbol{Name: "q", Meaning: "flow", Dim: quantity.FlowDim, Unit: "m³/s"},
		Args: []calc.Symbol{
			{Name: "c", Meaning: "outlet coefficient, from its flow at 3 bar", Unit: "m^2.5/s"},
			{Name: "h", Meaning: "head left at the outlet while it runs", Dim: quantity.HeadDim, Unit: "m"},
		},
		Range:  "h ≥ 0, c > 0",
		Source: "Torricelli's orifice law",
		Fn:     func(a []float64) float64 { return a[0] * math.Sqrt(math.Max(a[1], 0)) },
	})
)
