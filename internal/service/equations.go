package service

import (
	"math"

	"tideover/internal/calc"
	"tideover/internal/quantity"
)

func sym(name, meaning string, dim quantity.Dim, unit string) calc.Symbol {
	return calc.Symbol{Name: name, Meaning: meaning, Dim: dim, Unit: unit}
}

// The arithmetic of the service, registered so that a finding can show it.
var (
	switchPeriodEq = calc.Register(calc.Equation{
		Key: "switch-period", Section: "Pumps",
		Title:   "Time between two starts of a switched pump at the worst draw, half its own flow",
		Formula: "t = 4 V_d / q_p",
		Result:  sym("t", "time between starts", quantity.TimeDim, "s"),
		Args: []calc.Symbol{
			sym("V_d", "water the vessel gives", quantity.VolumeDim, "m³"),
			sym("q_p", "pump's flow in the middle of the swing", quantity.FlowDim, "m³/s"),
		},
		Range:  "pump's flow taken as constant over the swing",
		Source: "fill time V_d/(q_p − q) and run-down V_d/q, shortest in sum at q = q_p/2",
		Fn:     func(a []float64) float64 { return 4 * a[0] / a[1] },
	})
	sleepPeriodEq = calc.Register(calc.Equation{
		Key: "sleep-period", Section: "Pumps",
		Title:   "Time between two starts of a pump that sleeps below a draw, at that draw",
		Formula: "t = V_d / q_s + t_r",
		Result:  sym("t", "time between starts", quantity.TimeDim, "s"),
		Args: []calc.Symbol{
			sym("V_d", "water the vessel gives", quantity.VolumeDim, "m³"),
			sym("q_s", "draw below which the pump sleeps", quantity.FlowDim, "m³/s"),
			sym("t_r", "time it runs on", quantity.TimeDim, "s"),
		},
		Range:  "draws at or below q_s",
		Source: "mass balance of the vessel",
		Fn:     func(a []float64) float64 { return a[0]/a[1] + a[2] },
	})
	wornEq = calc.Register(calc.Equation{
		Key: "worn-speed", Section: "Pumps",
		Title:   "Speed at which a new pump does what a worn one does at full speed",
		Formula: "s = √(1 − l)",
		Result:  sym("s", "ratio to full speed", quantity.RatioDim, "–"),
		Args:    []calc.Symbol{sym("l", "share of its head that is lost", quantity.RatioDim, "–")},
		Range:   "0 ≤ l < 1; the flow at every head falls with it, as rings that leak make it",
		Source:  "affinity laws: H by s², Q by s",
		Fn:      func(a []float64) float64 { return math.Sqrt(1 - a[0]) },
	})
	servedEq = calc.Register(calc.Equation{
		Key: "served-share", Section: "Pumps",
		Title:   "Share of its need that a tap gets",
		Formula: "φ = q / q_n",
		Result:  sym("φ", "share of its need", quantity.RatioDim, "–"),
		Args:    []calc.Symbol{sym("q", "what it gets", quantity.FlowDim, "m³/s"), sym("q_n", "what it needs", quantity.FlowDim, "m³/s")},
		Range:   "q_n > 0",
		Source:  "by definition",
		Fn:      func(a []float64) float64 { return a[0] / a[1] },
	})
	drawPeriodEq = calc.Register(calc.Equation{
		Key: "draw-period", Section: "Pumps",
		Title:   "Time between two starts of a switched pump at a draw",
		Formula: "t = V_d / q + V_d / (q_p − q)",
		Result:  sym("t", "time between starts", quantity.TimeDim, "s"),
		Args: []calc.Symbol{
			sym("V_d", "water the vessel gives", quantity.VolumeDim, "m³"),
			sym("q", "draw", quantity.FlowDim, "m³/s"),
			sym("q_p", "pump's flow in the middle of the swing", quantity.FlowDim, "m³/s"),
		},
		Range:  "0 < q < q_p; pump's flow taken as constant over the swing",
		Source: "mass balance of the vessel: run-down, then fill",
		Fn:     func(a []float64) float64 { return a[0]/a[1] + a[0]/(a[2]-a[1]) },
	})
	turnsEq = calc.Register(calc.Equation{
		Key: "turns-period", Section: "Pumps",
		Title:   "Time between two starts of one pump of several that take turns",
		Formula: "t_1 = n t",
		Result:  sym("t_1", "time between starts of one pump", quantity.TimeDim, "s"),
		Args: []calc.Symbol{
			sym("t", "time between starts of any", quantity.TimeDim, "s"),
			{Name: "n", Meaning: "pumps that take turns", Unit: "–"},
		},
		Range:  "the lead passes on at every start, and none is out of service",
		Source: "counting",
		Fn:     func(a []float64) float64 { return a[0] * a[1] },
	})
	npshNeedEq = calc.Register(calc.Equation{
		Key: "npsh-needed", Section: "Pumps",
		Title:   "Suction head the pump asks for",
		Formula: "N_r = N_1 max(1, q/q_1)²",
		Result:  sym("N_r", "net positive suction head required", quantity.HeadDim, "m"),
		Args: []calc.Symbol{
			sym("N_1", "its figure at q_1", quantity.HeadDim, "m"),
			sym("q", "flow", quantity.FlowDim, "m³/s"),
			sym("q_1", "flow the figure belongs to", quantity.FlowDim, "m³/s"),
		},
		Range:  "an assumption: constant below q_1 and with the square of the flow above, as suction losses go",
		Source: "similarity; no published curve for a generic pump",
		Fn:     func(a []float64) float64 { r := math.Max(1, a[1]/a[2]); return a[0] * r * r },
	})
	refillEq = calc.Register(calc.Equation{
		Key: "refill-time", Section: "Store",
		Title:   "Time to fill the usable store",
		Formula: "t = V_u / (q − q_h)",
		Result:  sym("t", "time", quantity.TimeDim, "s"),
		Args: []calc.Symbol{
			sym("V_u", "usable water", quantity.VolumeDim, "m³"),
			sym("q", "flow through the open float valve", quantity.FlowDim, "m³/s"),
			sym("q_h", "what the home draws from the store meanwhile, on the mean of the day", quantity.FlowDim, "m³/s"),
		},
		Range:  "q above q_h, else it never fills; a busy hour draws more; the last centimetres, while the float closes, take longer",
		Source: "mass balance",
		Fn: func(a []float64) float64 {
			if a[1] <= a[2] {
				return math.Inf(1)
			}
			return a[0] / (a[1] - a[2])
		},
	})
	leftEq = calc.Register(calc.Equation{
		Key: "pressure-left", Section: "Pumps",
		Title:   "Pressure the low end of the swing leaves at the highest outlet",
		Formula: "p = p_1 − p_s",
		Result:  sym("p", "pressure left", quantity.PressureDim, "Pa"),
		Args: []calc.Symbol{
			sym("p_1", "low end of the swing", quantity.PressureDim, "Pa"),
			sym("p_s", "water standing up to the outlet", quantity.PressureDim, "Pa"),
		},
		Range:  "at rest",
		Source: "hydrostatics",
		Fn:     func(a []float64) float64 { return a[0] - a[1] },
	})
)
