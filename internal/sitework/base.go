package sitework

import (
	"math"

	"tideover/internal/calc"
	"tideover/internal/quantity"
)

// What a slab is made of and how far it reaches beyond the store: trade guides, recalled.
const (
	Overhang        = quantity.Length(0.15)
	Between         = quantity.Length(0.20) // room between two stores, for the link and a hand
	ConcreteDensity = 2400.0                // kg/m³, with its steel
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

// UnderSlab is the pressure on the ground under one slab with every store on it. [Pa]
var UnderSlab = calc.Register(calc.Equation{
	Key: "under-slab", Title: "Pressure on the ground under the slab", Section: "Base",
	Formula: "p_s = (n m / (l b) + ρ h) g",
	Result:  calc.Symbol{Name: "p_s", Meaning: "pressure on the ground", Dim: quantity.PressureDim, Unit: "Pa"},
	Args: []calc.Symbol{
		{Name: "n", Meaning: "number of stores", Unit: ""},
		{Name: "m", Meaning: "mass of one store, full", Dim: quantity.MassDim, Unit: "kg"},
		{Name: "l", Meaning: "length of the slab", Dim: quantity.LengthDim, Unit: "m"},
		{Name: "b", Meaning: "width of the slab", Dim: quantity.LengthDim, Unit: "m"},
		{Name: "ρ", Meaning: "density of concrete", Unit: "kg/m³"},
		{Name: "h", Meaning: "thickness of the slab", Dim: quantity.LengthDim, Unit: "m"},
		{Name: "g", Meaning: "standard gravity", Unit: "m/s²"},
	},
	Range: "a slab stiff enough to spread the load; settlement and soft spots are not in it", Source: "statics",
	Fn: func(a []float64) float64 { return (a[0]*a[1]/(a[2]*a[3]) + a[4]*a[5]) * a[6] },
})

// SlabLength is how long one slab is under stores in a row. [m]
var SlabLength = calc.Register(calc.Equation{
	Key: "slab-length", Title: "Length of the slab under stores in a row", Section: "Base",
	Formula: "l = n d + (n − 1) s + 2 o",
	Result:  calc.Symbol{Name: "l", Meaning: "length of the slab", Dim: quantity.LengthDim, Unit: "m"},
	Args: []calc.Symbol{
		{Name: "n", Meaning: "number of stores", Unit: ""},
		{Name: "d", Meaning: "diameter of one", Dim: quantity.LengthDim, Unit: "m"},
		{Name: "s", Meaning: "room between two, for the link", Dim: quantity.LengthDim, Unit: "m"},
		{Name: "o", Meaning: "reach beyond the store", Dim: quantity.LengthDim, Unit: "m"},
	},
	Range: "round stores in one row", Source: "geometry",
	Fn: func(a []float64) float64 { return a[0]*a[1] + (a[0]-1)*a[2] + 2*a[3] },
})

// SlabConcrete is the concrete a slab takes, without waste. [m³]
var SlabConcrete = calc.Register(calc.Equation{
	Key: "slab-concrete", Title: "Concrete of the slab", Section: "Base",
	Formula: "V = l b h",
	Result:  calc.Symbol{Name: "V", Meaning: "concrete", Dim: quantity.VolumeDim, Unit: "m³"},
	Args: []calc.Symbol{
		{Name: "l", Meaning: "length of the slab", Dim: quantity.LengthDim, Unit: "m"},
		{Name: "b", Meaning: "width of the slab", Dim: quantity.LengthDim, Unit: "m"},
		{Name: "h", Meaning: "thickness of the slab", Dim: quantity.LengthDim, Unit: "m"},
	},
	Range: "flat ground; nothing for waste or an uneven bed", Source: "geometry",
	Fn: func(a []float64) float64 { return a[0] * a[1] * a[2] },
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

// Base is what stores in a row ask of the ground, on one slab.
type Base struct {
	Footprint quantity.Area   // of one store
	Length    quantity.Length // of the slab under them all
	Width     quantity.Length
	Thickness quantity.Length
	Concrete  quantity.Volume
	Store     quantity.Pressure // under a store itself
	Ground    quantity.Pressure // under the slab
	Calc      calc.Sheet
	Under     int // how many steps of Calc lead to Store: what a store on a deck needs
}

// Ground works out what n stores of a diameter [m], a volume [m³] and a mass when full
// [kg] each ask of the ground. n counts from one; the rest must be above zero.
func Ground(n int, diameter quantity.Length, volume quantity.Volume, mass quantity.Mass) Base {
	b := Base{Width: diameter + 2*Overhang, Thickness: Thickness(volume)}
	s := &b.Calc
	a := s.Eval(Footprint, float64(diameter))
	b.Footprint = quantity.Area(a)
	b.Store = quantity.Pressure(s.Eval(UnderStore, float64(mass), Gravity, a))
	b.Under = len(s.Steps)
	l := s.Eval(SlabLength, float64(n), float64(diameter), float64(Between), float64(Overhang))
	b.Length = quantity.Length(l)
	b.Concrete = quantity.Volume(s.Eval(SlabConcrete, l, float64(b.Width), float64(b.Thickness)))
	b.Ground = quantity.Pressure(s.Eval(UnderSlab, float64(n), float64(mass), l, float64(b.Width), ConcreteDensity, float64(b.Thickness), Gravity))
	return b
}
