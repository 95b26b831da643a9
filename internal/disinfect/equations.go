package disinfect

import (
	"math"

	"tideover/internal/calc"
	"tideover/internal/quantity"
)

const section = "Disinfecting"

// Field rates at pH 7, kg of product per kg of chlorine; of thiosulphate, of its crystals, the
// pentahydrate: of the anhydrous powder 1/1.57 of that is enough.
const (
	thiosulphateRate = 1.9
	ascorbicRate     = 2.5
)

// Half-life of bleach at about 25 °C: two years at 5 %, half a year at 12 %.
const (
	year         = 365 * 86400.0
	halfAt5      = 2 * year
	halfExponent = 1.583 // ln 4 / ln 2.4: through both points
)

// density points of sodium hypochlorite solution: share of available chlorine by mass,
// kg/m³. Between them a straight line; above the last, the last slope goes on.
var densityPoints = [][2]float64{{0, 998}, {0.035, 1050}, {0.05, 1080}, {0.12, 1200}}

// The letters that occur in several equations.
var (
	chlorine = calc.Symbol{Name: "m", Meaning: "free chlorine in all the water", Dim: quantity.MassDim, Unit: "kg"}
	strength = calc.Symbol{Name: "w", Meaning: "strength on the label, available chlorine", Dim: quantity.RatioDim, Unit: "–"}
	left     = calc.Symbol{Name: "s", Meaning: "share of that strength still left", Dim: quantity.RatioDim, Unit: "–"}
	density  = calc.Symbol{Name: "ρ", Meaning: "density of the liquid", Unit: "kg/m³"}
	poured   = calc.Symbol{Name: "V_b", Meaning: "liquid to pour", Dim: quantity.VolumeDim, Unit: "m³"}
)

// PipeVolume is the water in one run of pipe. [m³]
var PipeVolume = calc.Register(calc.Equation{
	Key: "pipe-volume", Title: "Water in a run of pipe", Section: section,
	Formula: "V = π/4 · d² · L",
	Result:  calc.Symbol{Name: "V", Meaning: "water in the run", Dim: quantity.VolumeDim, Unit: "m³"},
	Args: []calc.Symbol{
		{Name: "d", Meaning: "bore", Dim: quantity.LengthDim, Unit: "m"},
		{Name: "L", Meaning: "length", Dim: quantity.LengthDim, Unit: "m"},
	},
	Range: "round pipe, full", Source: "geometry: volume of a cylinder",
	Fn: func(a []float64) float64 { return math.Pi / 4 * a[0] * a[0] * a[1] },
})

// ChlorineMass is the free chlorine that makes a water as strong as asked. [kg]
var ChlorineMass = calc.Register(calc.Equation{
	Key: "chlorine-mass", Title: "Chlorine for a volume of water", Section: section,
	Formula: "m = V · c", Result: chlorine,
	Args: []calc.Symbol{
		{Name: "V", Meaning: "water in store and pipes", Dim: quantity.VolumeDim, Unit: "m³"},
		{Name: "c", Meaning: "dose of free chlorine", Dim: quantity.DoseDim, Unit: "kg/m³"},
	},
	Range: "clean water; dirt uses chlorine up, which the strip finds", Source: "conservation of mass",
	Fn: func(a []float64) float64 { return a[0] * a[1] },
})

// LiquidDensity is the density of bleach of a given strength by mass. [kg/m³]
var LiquidDensity = calc.Register(calc.Equation{
	Key: "bleach-density", Title: "Density of bleach", Section: section,
	Formula: "ρ = straight lines through (0, 998), (3.5 %, 1050), (5 %, 1080), (12 %, 1200) kg/m³", Result: density,
	Args:  []calc.Symbol{strength},
	Range: "1 to 20 % available chlorine; ±3 %, as makers add different amounts of salt and caustic",
	Source: "trade values for sodium hypochlorite solution, recalled, not checked at a source: " +
		"weigh a litre if you need better",
	Fn: func(a []float64) float64 { return densityOf(a[0]) },
})

func densityOf(w float64) float64 {
	p := densityPoints
	i := 1
	for i < len(p)-1 && w > p[i][0] {
		i++
	}
	slope := (p[i][1] - p[i-1][1]) / (p[i][0] - p[i-1][0])
	return p[i-1][1] + float64(slope*(w-p[i-1][0]))
}

// HalfLife is the time in which bleach loses half its strength. [s]
var HalfLife = calc.Register(calc.Equation{
	Key: "bleach-half-life", Title: "How fast bleach grows weak", Section: section,
	Formula: "T = 2 years · (5 % / w)^1.583",
	Result:  calc.Symbol{Name: "T", Meaning: "time in which half the strength is lost", Dim: quantity.TimeDim, Unit: "s"},
	Args:    []calc.Symbol{strength},
	Range:   "1 to 20 %, shut, dark, about 25 °C; four to five times faster at 35 to 38 °C",
	Source: "power law through two trade values (5 %: about 2 years; 10 to 12.5 %: about half a year), " +
		"recalled, not checked at a source",
	Fn: func(a []float64) float64 { return halfAt5 * math.Pow(0.05/a[0], halfExponent) },
})

// StrengthLeft is the share of the label's strength an aged bottle still has. [–]
var StrengthLeft = calc.Register(calc.Equation{
	Key: "bleach-left", Title: "Strength left in an old bottle", Section: section,
	Formula: "s = 2^(−t / T)", Result: left,
	Args: []calc.Symbol{
		{Name: "t", Meaning: "age of the bottle", Dim: quantity.TimeDim, Unit: "s"},
		{Name: "T", Meaning: "time in which half the strength is lost", Dim: quantity.TimeDim, Unit: "s"},
	},
	Range: "t up to one T; beyond it buy a fresh bottle", Source: "first-order decay",
	Fn: func(a []float64) float64 { return math.Exp2(-a[0] / a[1]) },
})

// ProductMass is the granules that hold so much chlorine. [kg]
var ProductMass = calc.Register(calc.Equation{
	Key: "granules-mass", Title: "Granules to weigh out", Section: section,
	Formula: "m_p = m / w",
	Result:  calc.Symbol{Name: "m_p", Meaning: "granules to weigh out", Dim: quantity.MassDim, Unit: "kg"},
	Args:    []calc.Symbol{chlorine, strength},
	Range:   "calcium hypochlorite, 20 to 80 % by mass, kept dry", Source: "definition of strength by mass",
	Fn: func(a []float64) float64 { return a[0] / a[1] },
})

// LiquidByMass is the bleach to pour when the label's per cent are by mass. [m³]
var LiquidByMass = calc.Register(calc.Equation{
	Key: "bleach-by-mass", Title: "Bleach to pour, strength by mass (w/w)", Section: section,
	Formula: "V_b = m / (w · ρ · s)", Result: poured,
	Args:  []calc.Symbol{chlorine, strength, density, left},
	Range: "1 to 20 % by mass", Source: "definition of strength by mass",
	Fn: func(a []float64) float64 { return a[0] / (a[1] * a[2] * a[3]) },
})

// LiquidByVolume is the bleach to pour when the label's per cent are mass by volume. [m³]
var LiquidByVolume = calc.Register(calc.Equation{
	Key: "bleach-by-volume", Title: "Bleach to pour, strength by volume (w/v)", Section: section,
	Formula: "V_b = m / (w · 1000 kg/m³ · s)", Result: poured,
	Args:  []calc.Symbol{chlorine, strength, left},
	Range: "1 to 20 % mass by volume, the trade's per cent: 5 % is 50 g/L", Source: "definition of strength by volume",
	Fn: func(a []float64) float64 { return a[0] / (a[1] * 1000 * a[2]) },
})

// LiquidMass is the mass of the bleach poured. [kg]
var LiquidMass = calc.Register(calc.Equation{
	Key: "bleach-mass", Title: "Bleach to pour, by weight", Section: section,
	Formula: "m_b = ρ · V_b",
	Result:  calc.Symbol{Name: "m_b", Meaning: "bleach to pour, weighed", Dim: quantity.MassDim, Unit: "kg"},
	Args:    []calc.Symbol{density, poured},
	Range:   "as the density", Source: "definition of density",
	Fn: func(a []float64) float64 { return a[0] * a[1] },
})

// NeutraliserMass is the product that takes the chlorine out again. [kg]
var NeutraliserMass = calc.Register(calc.Equation{
	Key: "neutraliser-mass", Title: "Neutraliser to weigh out", Section: section,
	Formula: "m_n = r · m",
	Result:  calc.Symbol{Name: "m_n", Meaning: "neutraliser for all of the chlorine", Dim: quantity.MassDim, Unit: "kg"},
	Args: []calc.Symbol{
		{Name: "r", Meaning: "neutraliser for each kilogram of chlorine", Dim: quantity.NoDim, Unit: "kg/kg"},
		chlorine,
	},
	Range:  "field rates at pH 7: sodium thiosulphate crystals (pentahydrate) 1.9, ascorbic acid 2.5; of anhydrous thiosulphate 1/1.57 of the crystals is enough",
	Source: "field dechlorination rates as quoted in trade guides; reaction theory brackets them",
	Fn:     func(a []float64) float64 { return a[0] * a[1] },
})
