package site

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/assume"
	"tideover/internal/calc"
	"tideover/internal/catalogue"
	"tideover/internal/quantity"
)

// airEq holds for an outlet in the side of a still store; what swirls draws air sooner, hence f.
var airEq = calc.Register(calc.Equation{
	Key: "air-depth", Section: "Store",
	Title:   "Water above the centre of an outlet in a store's side below which air is drawn with it",
	Formula: "h_a = f · 0.75 (Q²/g)^(1/5)",
	Result:  calc.Symbol{Name: "h_a", Meaning: "depth of water above the outlet's centre", Dim: quantity.LengthDim, Unit: "m"},
	Args: []calc.Symbol{
		{Name: "f", Meaning: "for swirl, air in gulps and a wavy surface, against still water", Unit: "–"},
		{Name: "Q", Meaning: "flow into the outlet", Dim: quantity.FlowDim, Unit: "m³/s"},
		{Name: "g", Meaning: "gravity", Unit: "m/s²"},
	},
	Range:  "an outlet small against the depth; Q ≥ 0, f ≥ 1; measured within ±20 % in still water (f = 1)",
	Source: "Smoglie & Reimann 1986, Int. J. Multiphase Flow 12:609, air over water; recalled",
	Fn:     func(a []float64) float64 { return a[0] * 0.75 * math.Pow(a[1]*a[1]/a[2], 0.2) },
})

// Cover is how far above the centre of its outlet the water of a store stands when the pump gets
// no more of it [m]: where its level switch hangs, or where it draws air, whichever is met first.
// Nought where height alone drives the water: it runs on, less and less, to the outlet.
func Cover(a *assembly.Assembly) quantity.Length {
	at := a.Of(assembly.Pump)
	if len(at) == 0 {
		return 0
	}
	row, _ := a.Parts[at[0]].Row.(catalogue.Pump)
	air := airEq.Fn([]float64{assume.AirDepth.In(a.Assumed), float64(row.Q1) * float64(max(1, a.Together)), quantity.StandardGravity})
	if !a.LevelGuard() {
		return quantity.Length(air)
	}
	return quantity.Length(math.Max(air, assume.LowFloat.In(a.Assumed)))
}

// UsualCover is Cover for a tank that is chosen before anything is laid out: a level switch hangs
// in it as it usually does.
func UsualCover(v assume.Values) quantity.Length { return quantity.Length(assume.LowFloat.In(v)) }

// Waits is how far the level of the stores falls before a delayed float valve lets anything in [m];
// nought where the valve follows the level. What fills a header tank has no say in it.
func Waits(a *assembly.Assembly) (down quantity.Length) {
	for _, i := range a.Of(assembly.FloatValve) {
		if row, is := a.Parts[i].Row.(catalogue.Float); is && (a.Header() < 0 || a.Fills(i) != a.Header()) {
			down = max(down, row.Opens)
		}
	}
	return down
}
