package sitework

import (
	"tideover/internal/calc"
	"tideover/internal/quantity"
)

// AllStores is the mass of every store, full. [kg]
var AllStores = calc.Register(calc.Equation{
	Key: "all-stores", Title: "All stores, full", Section: "Base",
	Formula: "M = n m",
	Result:  calc.Symbol{Name: "M", Meaning: "mass of all stores, full", Dim: quantity.MassDim, Unit: "kg"},
	Args: []calc.Symbol{
		{Name: "n", Meaning: "number of stores", Unit: ""},
		{Name: "m", Meaning: "mass of one store, full", Dim: quantity.MassDim, Unit: "kg"},
	},
	Range: "what stands on the deck; the stand's own mass and people on it are not in it", Source: "arithmetic",
	Fn: func(a []float64) float64 { return a[0] * a[1] },
})

// WindSide is the side of upright round stores that wind presses on, as it is seen from
// where none hides another. [m²]
var WindSide = calc.Register(calc.Equation{
	Key: "wind-side", Title: "Side of the stores in the wind", Section: "Base",
	Formula: "A_w = n d h",
	Result:  calc.Symbol{Name: "A_w", Meaning: "side seen by the wind", Dim: quantity.AreaDim, Unit: "m²"},
	Args: []calc.Symbol{
		{Name: "n", Meaning: "number of stores", Unit: ""},
		{Name: "d", Meaning: "diameter of one", Dim: quantity.LengthDim, Unit: "m"},
		{Name: "h", Meaning: "height of one", Dim: quantity.LengthDim, Unit: "m"},
	},
	Range: "stores side by side; wind speed, height and shape factor are the engineer's", Source: "geometry",
	Fn: func(a []float64) float64 { return a[0] * a[1] * a[2] },
})

// Load is what raised stores ask of what carries them.
type Load struct {
	Mass quantity.Mass // of all, full
	Side quantity.Area // in the wind
	Calc calc.Sheet
}

// Raised works out what n stores of a mass when full [kg], a diameter and a height [m] ask
// of a stand or roof. n counts from one; the rest must be above zero.
func Raised(n int, mass quantity.Mass, diameter, height quantity.Length) Load {
	l := Load{}
	s := &l.Calc
	l.Mass = quantity.Mass(s.Eval(AllStores, float64(n), float64(mass)))
	l.Side = quantity.Area(s.Eval(WindSide, float64(n), float64(diameter), float64(height)))
	return l
}
