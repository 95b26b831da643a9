package freshness

import (
	"math"

	"tideover/internal/calc"
	"tideover/internal/quantity"
)

// ConvectionEq is how well wind and sky take heat off a surface outdoors.
var ConvectionEq = calc.Register(calc.Equation{
	Key: "heat-outside", Title: "Heat off an outdoor surface", Section: section,
	Formula: "h_o = 5.7 + 3.8 w", Result: calc.Symbol{Name: "h_o", Meaning: "coefficient of heat to wind and sky", Unit: "W/(m²·K)"},
	Args:   []calc.Symbol{{Name: "w", Meaning: "wind at the store", Dim: quantity.VelocityDim, Unit: "m/s"}},
	Range:  "wind to 5 m/s; radiation to the sky counted in, in the middle of the day and night",
	Source: "McAdams 1954, Heat Transmission, 3rd ed., after Jürges 1924; recalled",
	Fn:     func(a []float64) float64 { return 5.7 + 3.8*a[0] },
})

// SolAirEq is the temperature of air that would warm a shaded store as air and sun do.
var SolAirEq = calc.Register(calc.Equation{
	Key: "sol-air", Title: "Air and sun as one temperature", Section: section,
	Formula: "T_sa = T_a + α I/h_o", Result: calc.Symbol{Name: "T_sa", Meaning: "sol-air temperature", Dim: quantity.TemperatureDim, Unit: "°C"},
	Args: []calc.Symbol{
		{Name: "T_a", Meaning: "air", Dim: quantity.TemperatureDim, Unit: "°C"},
		{Name: "α", Meaning: "share of the sun the colour takes up: black 0.9, green or blue 0.7, beige 0.5, white 0.3", Unit: "–"},
		{Name: "I", Meaning: "sun on the shell, mean over all of it", Unit: "W/m²"},
		{Name: "h_o", Meaning: "heat to wind and sky", Unit: "W/(m²·K)"},
	},
	Range: "opaque shells", Source: "Mackey & Wright 1944, Heating, Piping & Air Conditioning 16; colours recalled",
	Fn: func(a []float64) float64 { return a[0] + a[1]*a[2]/a[3] },
})

// WallEq is how well the shell of a store lets heat through.
var WallEq = calc.Register(calc.Equation{
	Key: "heat-wall", Title: "Heat through the shell of a store", Section: section,
	Formula: "U = 1/(1/h_i + e/λ + 1/h_o)", Result: calc.Symbol{Name: "U", Meaning: "heat through the shell", Unit: "W/(m²·K)"},
	Args: []calc.Symbol{
		{Name: "h_i", Meaning: "heat from still water to the wall (about 100)", Unit: "W/(m²·K)"},
		{Name: "e", Meaning: "insulation", Dim: quantity.LengthDim, Unit: "m"},
		{Name: "λ", Meaning: "its conductivity (foam 0.035)", Unit: "W/(m·K)"},
		{Name: "h_o", Meaning: "heat to wind and sky", Unit: "W/(m²·K)"},
	},
	Range: "thin shells; the plastic itself is left out, which warms a little too fast", Source: "series of resistances (Fourier)",
	Fn: func(a []float64) float64 { return 1 / (1/a[0] + a[1]/a[2] + 1/a[3]) },
})

// StoreHeatEq is the temperature of a store after a time.
var StoreHeatEq = calc.Register(calc.Equation{
	Key: "store-heat", Title: "Temperature of a store", Section: section,
	Formula: "T = T_∞ + (T_0 − T_∞) exp(−(a + q) t/V), T_∞ = (a T_sa + q T_in)/(a + q), a = U A/(ρ c)",
	Result:  calc.Symbol{Name: "T", Meaning: "water in the store", Dim: quantity.TemperatureDim, Unit: "°C"},
	Args: []calc.Symbol{
		{Name: "T_0", Meaning: "water at first", Dim: quantity.TemperatureDim, Unit: "°C"},
		{Name: "T_sa", Meaning: "sol-air temperature", Dim: quantity.TemperatureDim, Unit: "°C"},
		{Name: "T_in", Meaning: "water arriving", Dim: quantity.TemperatureDim, Unit: "°C"},
		{Name: "U A", Meaning: "heat through the whole shell", Unit: "W/K"},
		{Name: "V", Meaning: "water in the store", Dim: quantity.VolumeDim, Unit: "m³"},
		{Name: "q", Meaning: "flow through it", Dim: quantity.FlowDim, Unit: "m³/s"},
		{Name: "t", Meaning: "time since", Dim: quantity.TimeDim, Unit: "s"},
	},
	Range:  "store mixed, shell without heat of its own; the engine solves filling and emptying the same way, with ∫ dt/V for t/V",
	Source: "heat balance of a lumped body (Incropera & DeWitt 2002, 5th ed., section 5.3)",
	Fn: func(a []float64) float64 {
		loss := a[3] / heatCap
		end := (loss*a[1] + a[5]*a[2]) / (loss + a[5])
		return end + (a[0]-end)*math.Exp(-(loss+a[5])*a[6]/a[4])
	},
})

// warm returns the temperature at the end of a span and its mean over the span.
func warm(p path, q, was, in float64, around Around) (last, mean float64) {
	loss := around.Loss / heatCap
	w := loss + q
	if w == 0 || p.t == 0 {
		return was, was
	}
	theta := p.theta(p.t)
	end := (loss*around.Outside + q*in) / w
	last = end + (was-end)*math.Exp(-w*theta)
	return last, end + (was-end)*p.v0*theta*gap((w-p.r)*theta)/p.t
}

// CoolEq is how long standing water takes to cool to freezing.
var CoolEq = calc.Register(calc.Equation{
	Key: "frost-cooling", Title: "Time until standing water is at freezing", Section: section,
	Formula: "t = ρ c V/(U A) · ln((T − T_a)/(−T_a))", Result: calc.Symbol{Name: "t", Meaning: "time to 0 °C", Dim: quantity.TimeDim, Unit: "s"},
	Args: []calc.Symbol{
		{Name: "V", Meaning: "water", Dim: quantity.VolumeDim, Unit: "m³"},
		{Name: "U A", Meaning: "heat through the whole shell", Unit: "W/K"},
		{Name: "T", Meaning: "water at first", Dim: quantity.TemperatureDim, Unit: "°C"},
		{Name: "T_a", Meaning: "air, below 0", Dim: quantity.TemperatureDim, Unit: "°C"},
	},
	Range: "air steadily below 0 °C, no flow; pipes, float valve and vent freeze long before a store", Source: "lumped heat balance",
	Fn: func(a []float64) float64 {
		if !(a[3] < 0) {
			return math.Inf(1)
		}
		return heatCap * a[0] / a[1] * math.Log((a[2]-a[3])/-a[3])
	},
})

// IceEq is how long water at 0 °C takes to freeze in part.
var IceEq = calc.Register(calc.Equation{
	Key: "frost-ice", Title: "Time until a share is ice", Section: section,
	Formula: "t = s ρ L V/(U A · (−T_a))", Result: calc.Symbol{Name: "t", Meaning: "time after 0 °C is reached", Dim: quantity.TimeDim, Unit: "s"},
	Args: []calc.Symbol{
		{Name: "s", Meaning: "share that freezes", Dim: quantity.RatioDim, Unit: "–"},
		{Name: "V", Meaning: "water", Dim: quantity.VolumeDim, Unit: "m³"},
		{Name: "U A", Meaning: "heat through the whole shell", Unit: "W/K"},
		{Name: "T_a", Meaning: "air, below 0", Dim: quantity.TemperatureDim, Unit: "°C"},
	},
	Range: "the ice is not counted as insulation, so the true time is longer", Source: "latent heat of fusion 334 kJ/kg",
	Fn: func(a []float64) float64 {
		if !(a[3] < 0) {
			return math.Inf(1)
		}
		return a[0] * fusion * a[1] / (a[2] * -a[3])
	},
})
