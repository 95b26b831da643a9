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
	drawdownEq = calc.Register(calc.Equation{
		Key: "vessel-drawdown", Section: "Pumps",
		Title:   "Water a pressure vessel gives between cut-out and cut-in",
		Formula: "V_d = V (p_0/max(p_1, p_0) − p_0/p_2)",
		Result:  sym("V_d", "water given", quantity.VolumeDim, "m³"),
		Args: []calc.Symbol{
			sym("V", "volume of the vessel", quantity.VolumeDim, "m³"),
			sym("p_0", "charge, absolute", quantity.NoDim, "Pa"),
			sym("p_1", "low end, absolute", quantity.NoDim, "Pa"),
			sym("p_2", "high end, absolute", quantity.NoDim, "Pa"),
		},
		Range:  "p_2 ≥ p_1; below its charge the vessel is empty; slow, isothermal changes",
		Source: "Boyle 1662: p V constant",
		Fn: func(a []float64) float64 {
			return a[0] * math.Max(0, a[1]/math.Max(a[2], a[1])-a[1]/math.Max(a[3], a[1]))
		},
	})
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
	npshEq = calc.Register(calc.Equation{
		Key: "npsh-available", Section: "Pumps",
		Title:   "Head above vapour pressure at the pump's inlet",
		Formula: "N = (p_a − p_v)/(ρ g) + H_s − z_p",
		Result:  sym("N", "net positive suction head available", quantity.HeadDim, "m"),
		Args: []calc.Symbol{
			sym("p_a", "air pressure, absolute", quantity.NoDim, "Pa"),
			sym("p_v", "vapour pressure of the water, absolute", quantity.NoDim, "Pa"),
			sym("ρ", "density", quantity.NoDim, "kg/m³"),
			sym("H_s", "head at the inlet above the datum", quantity.HeadDim, "m"),
			sym("z_p", "height of the pump above the datum", quantity.LengthDim, "m"),
		},
		Range:  "g = 9.80665 m/s²; velocity head left out: below 0.12 m at 1.5 m/s",
		Source: "ISO 9906:2012, definition of NPSH",
		Fn:     func(a []float64) float64 { return (a[0]-a[1])/(a[2]*quantity.StandardGravity) + a[3] - a[4] },
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
	powerEq = calc.Register(calc.Equation{
		Key: "pump-electric-power", Section: "Pumps",
		Title:   "Electrical power of the pump",
		Formula: "P = ρ g q H / η",
		Result:  sym("P", "electrical power", quantity.PowerDim, "W"),
		Args: []calc.Symbol{
			sym("q", "flow", quantity.FlowDim, "m³/s"),
			sym("H", "head added", quantity.HeadDim, "m"),
			sym("η", "wire-to-water efficiency", quantity.NoDim, "–"),
		},
		Range:  "ρ = 1000 kg/m³; η taken from the pump's rated point, an assumption elsewhere",
		Source: "definition of hydraulic power",
		Fn: func(a []float64) float64 {
			return quantity.StandardDensity * quantity.StandardGravity * a[0] * a[1] / a[2]
		},
	})
	refillEq = calc.Register(calc.Equation{
		Key: "refill-time", Section: "Store",
		Title:   "Time to fill the usable store",
		Formula: "t = V_u / q",
		Result:  sym("t", "time", quantity.TimeDim, "s"),
		Args: []calc.Symbol{
			sym("V_u", "usable water", quantity.VolumeDim, "m³"),
			sym("q", "flow through the open float valve", quantity.FlowDim, "m³/s"),
		},
		Range:  "nothing drawn meanwhile; the last centimetres, while the float closes, take longer",
		Source: "mass balance",
		Fn:     func(a []float64) float64 { return a[0] / a[1] },
	})
	velocityEq = calc.Register(calc.Equation{
		Key: "velocity", Section: "Pipes",
		Title:   "Mean velocity in a pipe",
		Formula: "v = 4 q / (π d²)",
		Result:  sym("v", "velocity", quantity.VelocityDim, "m/s"),
		Args: []calc.Symbol{
			sym("q", "flow", quantity.FlowDim, "m³/s"),
			sym("d", "bore", quantity.LengthDim, "m"),
		},
		Range:  "full pipe, d > 0",
		Source: "continuity",
		Fn:     func(a []float64) float64 { return 4 * a[0] / (math.Pi * a[1] * a[1]) },
	})
)
