package sitework

import (
	"math"

	"tideover/internal/calc"
	"tideover/internal/quantity"
)

// What a slab is made of and how far it reaches beyond the store: trade guides, recalled.
const (
	Overhang        = quantity.Length(0.15)
	ConcreteDensity = 2400.0 // kg/m³, with its steel
)

// Footprint is the ground one round store stands on. [m²]
var Footprint = calc.Register(calc.Equation{
	Key: "footprint", Title: "Ground under a round store", Section: "Base",
	Formula: "A = π d² / 4",
	Result:  calc.Symbol{Name: "A", Meaning: "footprint", Dim: quantity.AreaDim, Unit: "m²"},
	Args:    []calc.Symbol{{Name: "d", Meaning: "diameter of the store", Dim: quantity.LengthDim, Unit: "m"}},
	Range:   "round, flat floor", Source: "geometry",
	Fn: func(a []float64) float64 { return math.Pi * a[0] * a[0] / 4 },
})

// UnderStore is the pressure of a full store on what it stands on. [Pa]
var UnderStore = calc.Register(calc.Equation{
	Key: "under-store", Title: "Pressure under a full store", Section: "Base",
	Formula: "p = m g / A",
	Result:  calc.Symbol{Name: "p", Meaning: "pressure under the store", Dim: quantity.PressureDim, Unit: "Pa"},
	Args: []calc.Symbol{
		{Name: "m", Meaning: "mass, full", Dim: quantity.MassDim, Unit: "kg"},
		{Name: "g", Meaning: "standard gravity", Unit: "m/s²"},
		{Name: "A", Meaning: "footprint", Dim: quantity.AreaDim, Unit: "m²"},
	},
	Range: "evenly spread: a flat floor on a flat base", Source: "statics",
	Fn: func(a []float64) float64 { return a[0] * a[1] / a[2] },
})

// UnderSlab is the pressure on the ground under a square slab with one store on it. [Pa]
var UnderSlab = calc.Register(calc.Equation{
	Key: "under-slab", Title: "Pressure on the ground under the slab", Section: "Base",
	Formula: "p_s = (m / b² + ρ h) g",
	Result:  calc.Symbol{Name: "p_s", Meaning: "pressure on the ground", Dim: quantity.PressureDim, Unit: "Pa"},
	Args: []calc.Symbol{
		{Name: "m", Meaning: "mass of the store, full", Dim: quantity.MassDim, Unit: "kg"},
		{Name: "b", Meaning: "side of the slab for one store", Dim: quantity.LengthDim, Unit: "m"},
		{Name: "ρ", Meaning: "density of concrete", Unit: "kg/m³"},
		{Name: "h", Meaning: "thickness of the slab", Dim: quantity.LengthDim, Unit: "m"},
		{Name: "g", Meaning: "standard gravity", Unit: "m/s²"},
	},
	Range: "a slab stiff enough to spread the load; settlement and soft spots are not in it", Source: "statics",
	Fn: func(a []float64) float64 { return (a[0]/(a[1]*a[1]) + a[2]*a[3]) * a[4] },
})

// Thickness is how thick a slab of guides is for a store so big: 100 mm to 5 m³, 125 mm
// to 10 m³, 150 mm above. Trade guides, recalled.
func Thickness(v quantity.Volume) quantity.Length {
	switch {
	case v <= 5:
		return 0.100
	case v <= 10:
		return 0.125
	}
	return 0.150
}

// Base is what one store asks of the ground.
type Base struct {
	Footprint quantity.Area
	Side      quantity.Length // of a square slab under one store
	Thickness quantity.Length
	Store     quantity.Pressure // under the store itself
	Ground    quantity.Pressure // under the slab
	Calc      calc.Sheet
}

// Ground works out what a store of a diameter [m], a volume [m³] and a mass when full
// [kg] asks of the ground. The diameter must be above zero.
func Ground(diameter quantity.Length, volume quantity.Volume, mass quantity.Mass) Base {
	b := Base{Side: diameter + 2*Overhang, Thickness: Thickness(volume)}
	s := &b.Calc
	a := s.Eval(Footprint, float64(diameter))
	b.Footprint = quantity.Area(a)
	b.Store = quantity.Pressure(s.Eval(UnderStore, float64(mass), Gravity, a))
	b.Ground = quantity.Pressure(s.Eval(UnderSlab, float64(mass), float64(b.Side), ConcreteDensity, float64(b.Thickness), Gravity))
	return b
}
