package store

import (
	"math"

	"tideover/internal/calc"
	"tideover/internal/quantity"
	"tideover/internal/site"
)

// The plain arithmetic of a store, registered so that a finding can show it.
var (
	usableEq = calc.Register(calc.Equation{
		Key: "store-usable", Section: "Store",
		Title:   "Water between the level at which the float valve shuts and the one from which on no more is drawn, all stores",
		Formula: "V_u = n (π/4) d² (h_s − h_a)",
		Result:  calc.Symbol{Name: "V_u", Meaning: "usable water", Dim: quantity.VolumeDim, Unit: "m³"},
		Args: []calc.Symbol{
			{Name: "n", Meaning: "stores side by side", Unit: "–"},
			{Name: "d", Meaning: "inside diameter", Dim: quantity.LengthDim, Unit: "m"},
			{Name: "h_s", Meaning: "level at which the float valve is shut, above the base", Dim: quantity.LengthDim, Unit: "m"},
			{Name: "h_a", Meaning: "level from which on no more is drawn, above the base: the outlet's centre and the water that has to cover it", Dim: quantity.LengthDim, Unit: "m"},
		},
		Range:  "upright round stores, n ≥ 1, h_s ≥ h_a",
		Source: "volume of a cylinder",
		Fn:     func(a []float64) float64 { return a[0] * math.Pi / 4 * a[1] * a[1] * (a[2] - a[3]) },
	})
	bothEq = calc.Register(calc.Equation{
		Key: "store-and-header", Section: "Store",
		Title:   "Usable water of the store and of the header tank above",
		Formula: "V_u = V_s + V_h",
		Result:  calc.Symbol{Name: "V_u", Meaning: "usable water", Dim: quantity.VolumeDim, Unit: "m³"},
		Args: []calc.Symbol{
			{Name: "V_s", Meaning: "usable water of the store below", Dim: quantity.VolumeDim, Unit: "m³"},
			{Name: "V_h", Meaning: "usable water of the header tank", Dim: quantity.VolumeDim, Unit: "m³"},
		},
		Range:  "both full",
		Source: "sum of two volumes",
		Fn:     func(a []float64) float64 { return a[0] + a[1] },
	})
	carryEq = calc.Register(calc.Equation{
		Key: "carry-time", Section: "Store",
		Title:   "How long the store lasts at the usual use (plain arithmetic: no rationing, no refill)",
		Formula: "t_c = V_u / D",
		Result:  calc.Symbol{Name: "t_c", Meaning: "carry time", Dim: quantity.TimeDim, Unit: "s"},
		Args: []calc.Symbol{
			{Name: "V_u", Meaning: "usable water", Dim: quantity.VolumeDim, Unit: "m³"},
			{Name: "D", Meaning: "use of the home", Dim: quantity.FlowDim, Unit: "m³/s"},
		},
		Range:  "D > 0; use spread evenly over day and night",
		Source: "mass balance of a full store that is not refilled",
		Fn:     func(a []float64) float64 { return a[0] / a[1] },
	})
	beginsEq = calc.Register(calc.Equation{
		Key: "row-begins", Section: "Store",
		Title:   "Water in the store when one of a long row of interruptions begins",
		Formula: "V_b = V_u where G ≥ min(V_l, V_u), else G",
		Result:  calc.Symbol{Name: "V_b", Meaning: "usable water at the beginning", Dim: quantity.VolumeDim, Unit: "m³"},
		Args: []calc.Symbol{
			{Name: "V_l", Meaning: "drawn in one of mean length", Dim: quantity.VolumeDim, Unit: "m³"},
			{Name: "G", Meaning: "comes in until the next, less what is drawn meanwhile", Dim: quantity.VolumeDim, Unit: "m³"},
			{Name: "V_u", Meaning: "usable water of the full store", Dim: quantity.VolumeDim, Unit: "m³"},
		},
		Range:  "interruptions and times between alike; fixed point of V_b = min(V_u, max(0, V_b − V_l) + G) that a full store comes to",
		Source: "mass balance",
		Fn: func(a []float64) float64 {
			return float64(site.Level(quantity.Volume(a[0]), quantity.Volume(a[1]), quantity.Volume(a[2])))
		},
	})
	shortEq = calc.Register(calc.Equation{
		Key: "short-in-longest", Section: "Store",
		Title:   "Water missing at the end of the interruption that is judged",
		Formula: "V_m = max(0, D t_l − V_u)",
		Result:  calc.Symbol{Name: "V_m", Meaning: "water missing", Dim: quantity.VolumeDim, Unit: "m³"},
		Args: []calc.Symbol{
			{Name: "D", Meaning: "use of the home", Dim: quantity.FlowDim, Unit: "m³/s"},
			{Name: "t_l", Meaning: "longest interruption of the kind that is judged", Dim: quantity.TimeDim, Unit: "s"},
			{Name: "V_u", Meaning: "usable water when it begins", Dim: quantity.VolumeDim, Unit: "m³"},
		},
		Range:  "as the carry time",
		Source: "mass balance of a full store that is not refilled",
		Fn:     func(a []float64) float64 { return math.Max(0, a[0]*a[1]-a[2]) },
	})
	spellEq = calc.Register(calc.Equation{
		Key: "through-in-spells", Section: "Store",
		Title:   "Water drawn from the store by one kind of interruption, on the long average",
		Formula: "Q = f min(D (t_1 + t_2)/2, V_u)",
		Result:  calc.Symbol{Name: "Q", Meaning: "mean draw from the store", Dim: quantity.FlowDim, Unit: "m³/s"},
		Args: []calc.Symbol{
			{Name: "f", Meaning: "interruptions of this kind in a second", Unit: "1/s"},
			{Name: "D", Meaning: "use of the home", Dim: quantity.FlowDim, Unit: "m³/s"},
			{Name: "t_1", Meaning: "shortest told", Dim: quantity.TimeDim, Unit: "s"},
			{Name: "t_2", Meaning: "longest told", Dim: quantity.TimeDim, Unit: "s"},
			{Name: "V_u", Meaning: "usable water", Dim: quantity.VolumeDim, Unit: "m³"},
		},
		Range:  "use spread evenly; the store is full when the interruption begins",
		Source: "renewal reward: mean draw is frequency times mean draw of one interruption",
		Fn:     func(a []float64) float64 { return a[0] * math.Min(a[1]*(a[2]+a[3])/2, a[4]) },
	})
	peakEq = calc.Register(calc.Equation{
		Key: "through-in-peak-hours", Section: "Store",
		Title:   "Water drawn from the store in the hours in which the main is too weak every day",
		Formula: "Q = D t_p / t_d",
		Result:  calc.Symbol{Name: "Q", Meaning: "mean draw from the store", Dim: quantity.FlowDim, Unit: "m³/s"},
		Args: []calc.Symbol{
			{Name: "D", Meaning: "use of the home", Dim: quantity.FlowDim, Unit: "m³/s"},
			{Name: "t_p", Meaning: "weak hours in a day", Dim: quantity.TimeDim, Unit: "s"},
			{Name: "t_d", Meaning: "a day", Dim: quantity.TimeDim, Unit: "s"},
		},
		Range:  "use spread evenly over the day; supper hours draw more, so this is the cautious side",
		Source: "proportion",
		Fn:     func(a []float64) float64 { return a[0] * a[1] / a[2] },
	})
	exerciseEq = calc.Register(calc.Equation{
		Key: "through-in-exercise", Section: "Store",
		Title:   "Water drawn by running the home on the store on purpose",
		Formula: "Q = (1 − Q_o / D) min(D t_l, V_u) / t_e",
		Result:  calc.Symbol{Name: "Q", Meaning: "mean draw from the store", Dim: quantity.FlowDim, Unit: "m³/s"},
		Args: []calc.Symbol{
			{Name: "D", Meaning: "use of the home", Dim: quantity.FlowDim, Unit: "m³/s"},
			{Name: "t_l", Meaning: "how long the home runs on the store each time", Dim: quantity.TimeDim, Unit: "s"},
			{Name: "V_u", Meaning: "usable water", Dim: quantity.VolumeDim, Unit: "m³"},
			{Name: "t_e", Meaning: "time from one routine to the next", Dim: quantity.TimeDim, Unit: "s"},
			{Name: "Q_o", Meaning: "mean draw from the store without the routine: that share of it falls into the routine's hours too", Dim: quantity.FlowDim, Unit: "m³/s"},
		},
		Range:  "t_e > t_l > 0, D ≥ Q_o; use spread evenly over day and night, so that of less than a day, begun in the morning, more is drawn",
		Source: "proportion; interruptions take no notice of the routine",
		Fn:     func(a []float64) float64 { return (1 - a[4]/a[0]) * math.Min(a[0]*a[1], a[2]) / a[3] },
	})
	sumEq = calc.Register(calc.Equation{
		Key: "through-sum", Section: "Store",
		Title:   "Two draws from the store together",
		Formula: "Q = Q_1 + Q_2",
		Result:  calc.Symbol{Name: "Q", Meaning: "mean draw from the store", Dim: quantity.FlowDim, Unit: "m³/s"},
		Args: []calc.Symbol{
			{Name: "Q_1", Meaning: "first draw", Dim: quantity.FlowDim, Unit: "m³/s"},
			{Name: "Q_2", Meaning: "second draw", Dim: quantity.FlowDim, Unit: "m³/s"},
		},
		Range:  "any",
		Source: "sum",
		Fn:     func(a []float64) float64 { return a[0] + a[1] },
	})
	turnoverEq = calc.Register(calc.Equation{
		Key: "turnover", Section: "Store",
		Title:   "Mean age of the water drawn: the time in which as much is drawn as the full store holds",
		Formula: "T = (V_u + V_d) / Q",
		Result:  calc.Symbol{Name: "T", Meaning: "turnover", Dim: quantity.TimeDim, Unit: "s"},
		Args: []calc.Symbol{
			{Name: "V_u", Meaning: "usable water", Dim: quantity.VolumeDim, Unit: "m³"},
			{Name: "V_d", Meaning: "water that cannot be drawn, which mixes with it", Dim: quantity.VolumeDim, Unit: "m³"},
			{Name: "Q", Meaning: "mean draw from the store", Dim: quantity.FlowDim, Unit: "m³/s"},
		},
		Range:  "Q ≥ 0, however unevenly it is drawn; infinite when nothing ever is; a store that is often low holds less, and its water is younger",
		Source: "mean age of a mixed volume, V/Q: Danckwerts 1953, Chem. Eng. Sci. 2:1",
		Fn:     func(a []float64) float64 { return (a[0] + a[1]) / a[2] },
	})
	massEq = calc.Register(calc.Equation{
		Key: "store-mass", Section: "Store",
		Title:   "Mass of one store filled to its overflow",
		Formula: "m = ρ (π/4) d² h_o + m_0",
		Result:  calc.Symbol{Name: "m", Meaning: "mass of a full store", Dim: quantity.MassDim, Unit: "kg"},
		Args: []calc.Symbol{
			{Name: "ρ", Meaning: "density of water", Unit: "kg/m³"},
			{Name: "d", Meaning: "inside diameter", Dim: quantity.LengthDim, Unit: "m"},
			{Name: "h_o", Meaning: "overflow lip above the base", Dim: quantity.LengthDim, Unit: "m"},
			{Name: "m_0", Meaning: "mass of the empty store", Dim: quantity.MassDim, Unit: "kg"},
		},
		Range:  "upright round stores",
		Source: "mass of a cylinder of water",
		Fn:     func(a []float64) float64 { return a[0]*math.Pi/4*a[1]*a[1]*a[2] + a[3] },
	})
)
