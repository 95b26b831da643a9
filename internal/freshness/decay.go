package freshness

import (
	"math"

	"tideover/internal/assume"
	"tideover/internal/calc"
	"tideover/internal/quantity"
)

const section = "Freshness"

// Decay is how chlorine goes: in the water by itself, faster when warm, and at the wall.
type Decay struct {
	Bulk20 float64 // 1/s at 20 °C
	Energy float64 // J/mol of activation
	Wall   float64 // m/s at the wet wall
	Bottom float64 // m²: wet area that does not change with the level
	Sides  float64 // 1/m: wet area for each m³ of water, 4/d in an upright cylinder
}

// UsualDecay is treated water in a plastic store of 1 m: assumed until somebody
// measures it. Bulk 0.5 a day lies in the middle of what treated waters show at 20 °C
// (0.1 to 1.5, recalled); 50 kJ/mol doubles it from 20 to 30 °C; the wall takes 0.01 m a
// day (plastic 0.005 to 0.05, recalled).
var UsualDecay = Decay{Bulk20: assume.Decay.Value / 86400, Energy: 50e3, Wall: 0.01 / 86400, Bottom: math.Pi / 4, Sides: 4}

// JarEq is the rate that a closed jar of the main's water shows, read fresh and after a day.
var JarEq = calc.Register(calc.Equation{
	Key: "chlorine-jar", Title: "Decay of chlorine read in a jar", Section: section,
	Formula: "k_20 = ln(C_0/C_1)/86400", Result: calc.Symbol{Name: "k_20", Meaning: "rate at 20 °C", Unit: "1/s"},
	Args: []calc.Symbol{
		{Name: "C_0", Meaning: "free chlorine of the fresh water", Dim: quantity.DoseDim, Unit: "kg/m³"},
		{Name: "C_1", Meaning: "and after a day in a full, closed jar in the dark", Dim: quantity.DoseDim, Unit: "kg/m³"},
	},
	Range:  "0 < C_1; 0 where C_1 is C_0 or above; a clean full jar at about 20 °C",
	Source: "bottle test of first-order decay (Vasconcelos, Rossman, Grayman, Boulos & Clark 1997, J. AWWA 89(7))",
	Fn:     func(a []float64) float64 { return JarDecay(a[0], a[1]) },
})

// JarDecay is the rate of a jar that held fresh at first and left after a day [kg/m³]: 0 where
// nothing went. left is above 0. [1/s at 20 °C]
func JarDecay(fresh, left float64) float64 {
	if left >= fresh {
		return 0
	}
	return math.Log(fresh/left) / 86400
}

// BulkEq is the rate at which free chlorine decays in the water itself.
var BulkEq = calc.Register(calc.Equation{
	Key: "chlorine-bulk", Title: "Decay of chlorine with temperature", Section: section,
	Formula: "k = k_20 exp(−E/R · (1/T − 1/293.15))", Result: calc.Symbol{Name: "k", Meaning: "rate of decay", Unit: "1/s"},
	Args: []calc.Symbol{
		{Name: "k_20", Meaning: "rate at 20 °C", Unit: "1/s"},
		{Name: "E", Meaning: "activation energy", Unit: "J/mol"},
		{Name: "T", Meaning: "temperature of the water (kelvin in the formula)", Dim: quantity.TemperatureDim, Unit: "°C"},
	},
	Range:  "0 to 30 °C; first order, so it fits one water at one dose: re-dosed water decays slower, a small residual faster",
	Source: "Arrhenius 1889; first order in the bulk: Vasconcelos, Rossman, Grayman, Boulos & Clark 1997, J. AWWA 89(7)",
	Fn:     func(a []float64) float64 { return bulk(a[0], a[1], a[2]) },
})

// MixedResidualEq is the chlorine in a mixed store through which water flows steadily.
var MixedResidualEq = calc.Register(calc.Equation{
	Key: "chlorine-mixed", Title: "Chlorine left in a mixed store", Section: section,
	Formula: "C = C_in/(1 + k τ)", Result: calc.Symbol{Name: "C", Meaning: "free chlorine in the store", Dim: quantity.DoseDim, Unit: "kg/m³"},
	Args: []calc.Symbol{
		{Name: "C_in", Meaning: "free chlorine arriving", Dim: quantity.DoseDim, Unit: "kg/m³"},
		{Name: "k", Meaning: "rate of decay, bulk and wall", Unit: "1/s"},
		{Name: "τ", Meaning: "volume over flow", Dim: quantity.TimeDim, Unit: "s"},
	},
	Range: "steady flow, store mixed", Source: "mass balance of a stirred vessel (Levenspiel 1999, Chemical Reaction Engineering, 3rd ed., ch. 5)",
	Fn: func(a []float64) float64 { return a[0] / (1 + a[1]*a[2]) },
})

// PlugResidualEq is the chlorine left in water that stood or flowed unmixed.
var PlugResidualEq = calc.Register(calc.Equation{
	Key: "chlorine-standing", Title: "Chlorine left in water that stands, or flows unmixed", Section: section,
	Formula: "C = C_in exp(−k t)", Result: calc.Symbol{Name: "C", Meaning: "free chlorine left", Dim: quantity.DoseDim, Unit: "kg/m³"},
	Args: []calc.Symbol{
		{Name: "C_in", Meaning: "free chlorine at first", Dim: quantity.DoseDim, Unit: "kg/m³"},
		{Name: "k", Meaning: "rate of decay, bulk and wall", Unit: "1/s"},
		{Name: "t", Meaning: "time since", Dim: quantity.TimeDim, Unit: "s"},
	},
	Range: "first order", Source: "Vasconcelos, Rossman, Grayman, Boulos & Clark 1997, J. AWWA 89(7)",
	Fn: func(a []float64) float64 { return a[0] * math.Exp(-a[1]*a[2]) },
})

// DecayEq is the rate at which free chlorine goes, in the water and at the wall.
var DecayEq = calc.Register(calc.Equation{
	Key: "chlorine-decay", Title: "Decay of chlorine in the water and at the wall", Section: section,
	Formula: "k = k_b + w a; the floor takes w A more, whatever the level",
	Result:  calc.Symbol{Name: "k", Meaning: "rate of decay, bulk and wall", Unit: "1/s"},
	Args: []calc.Symbol{
		{Name: "k_b", Meaning: "rate of decay in the water", Unit: "1/s"},
		{Name: "w", Meaning: "rate at the wet wall", Unit: "m/s"},
		{Name: "a", Meaning: "side over the water it holds", Unit: "1/m"},
	},
	Range:  "first order; w of 0.01 m a day is recalled for plastic, not seen at a source",
	Source: "Vasconcelos, Rossman, Grayman, Boulos & Clark 1997, J. AWWA 89(7): first order at the wall",
	Fn:     func(a []float64) float64 { return a[0] + a[1]*a[2] },
})

// rate is what decays everywhere in the water alike: bulk, and the part of the wall
// that grows with the water. [1/s]
func (d Decay) rate(heat float64) float64 {
	return bulk(d.Bulk20, d.Energy, heat) + d.Wall*d.Sides
}

func bulk(k20, energy, heat float64) float64 {
	return k20 * math.Exp(-energy/gas*(1/(heat+kelvin)-1/(20+kelvin)))
}

// fixed is what the wall takes whatever the level, as if so much water left. [m³/s]
func (d Decay) fixed() float64 { return d.Wall * d.Bottom }
