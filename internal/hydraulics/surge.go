package hydraulics

import (
	"fmt"
	"math"

	"tideover/internal/calc"
	"tideover/internal/quantity"
)

// Bulk is the bulk modulus of water at 20 °C [Pa]. Source: Wylie & Streeter 1993, ch. 1.
const Bulk = 2.19e9

// Wall is a pipe's wall as a pressure wave meets it.
type Wall struct {
	Bore      float64 // [m]
	Thickness float64 // [m]
	Modulus   float64 // of elasticity, E [Pa]
	Poisson   float64 // [–]
}

// WaveSpeed is how fast a pressure wave runs in a pipe full of water [m/s], or a refusal
// by field and limit. density in kg/m³. Valid for pipes held along their length (clipped,
// laid in the ground), thick walls included; free air in the water slows it further.
// Source: Wylie & Streeter 1993, Fluid Transients in Systems, ch. 1, case (b).
func WaveSpeed(part string, w Wall, density float64) (float64, error) {
	g := guard{part: part}
	g.want("bore", w.Bore, w.Bore > 0 && w.Bore <= 2, "above 0 and to 2 m")
	g.want("wall", w.Thickness, w.Thickness > 0 && w.Thickness <= w.Bore, "above 0 and to the bore")
	g.want("modulus of elasticity", w.Modulus, w.Modulus >= 1e7 && w.Modulus <= 1e13, "1e7 to 1e13 Pa")
	g.want("Poisson's ratio", w.Poisson, w.Poisson >= 0 && w.Poisson <= 0.5, "0 to 0.5")
	g.want("density", density, density >= 900 && density <= 1100, "900 to 1100 kg/m³")
	if err := g.fail(); err != nil {
		return 0, err
	}
	return WaveSpeedEq.Fn([]float64{density, w.Bore, w.Thickness, w.Modulus, w.Poisson}), nil
}

// Surge is the bound on the rise of head [m] when water at v [m/s] is stopped in the time
// stop [s] at the end of a pipe of length l [m] with wave speed a [m/s]: all of it where
// the wave has not come back by then (Joukowsky), less where it has (Michaud), for a
// closure that slows the water evenly. A bound, not a wave analysis: tees, and water that
// already slows, make it less; a closure that comes all at its end, up to Joukowsky's.
func Surge(a, v, l, stop float64) (float64, error) {
	if !(a > 0 && v >= 0 && l >= 0 && stop >= 0) || math.IsInf(a+v+l+stop, 0) {
		return 0, fmt.Errorf("hydraulics: surge of %g m/s stopped in %g s over %g m at %g m/s: a wave speed above 0 and the rest 0 or more are accepted", v, stop, l, a)
	}
	if stop <= 2*l/a {
		return JoukowskyEq.Fn([]float64{a, v}), nil
	}
	return MichaudEq.Fn([]float64{l, v, stop}), nil
}

// Water hammer.
var (
	WaveSpeedEq = calc.Register(calc.Equation{
		Key: "wave-speed", Section: "Surge", Title: "Speed of a pressure wave in a pipe",
		Formula: "a = √(K/ρ)/√(1 + c K D/(E e)),  c = (2 e/D)(1 + ν) + D (1 − ν²)/(D + e),  K = 2.19 GPa",
		Result:  sym("a", "wave speed", quantity.VelocityDim, "m/s"),
		Args: []calc.Symbol{
			pure("ρ", "density", "kg/m³"), symBore, sym("e", "wall", quantity.LengthDim, "m"),
			pure("E", "modulus of elasticity of the wall", "Pa"), pure("ν", "Poisson's ratio of the wall", "–"),
		},
		Range:  "full pipe held along its length; no free air",
		Source: "Wylie & Streeter 1993, Fluid Transients in Systems, ch. 1 (thick wall, anchored throughout)",
		Fn: func(a []float64) float64 {
			rho, d, e, mod, nu := a[0], a[1], a[2], a[3], a[4]
			c := 2*e/d*(1+nu) + d*(1-nu*nu)/(d+e)
			return math.Sqrt(Bulk/rho) / math.Sqrt(1+c*Bulk*d/(mod*e))
		},
	})
	JoukowskyEq = calc.Register(calc.Equation{
		Key: "joukowsky", Section: "Surge", Title: "Rise of head when water is stopped at once",
		Formula: "Δh = a V/g", Result: sym("Δh", "rise of head", quantity.HeadDim, "m"),
		Args:  []calc.Symbol{sym("a", "wave speed", quantity.VelocityDim, "m/s"), symVelocity},
		Range: "stopped within 2 L/a; the most a single pipe can do", Source: "Joukowsky 1904, Mém. Acad. Imp. Sci. St.-Pétersbourg 9(5)",
		Fn: func(a []float64) float64 { return a[0] * a[1] / Gravity },
	})
	MichaudEq = calc.Register(calc.Equation{
		Key: "michaud", Section: "Surge", Title: "Rise of head when water is stopped slowly",
		Formula: "Δh = 2 L V/(g T_c)", Result: sym("Δh", "rise of head", quantity.HeadDim, "m"),
		Args: []calc.Symbol{
			sym("L", "length of pipe", quantity.LengthDim, "m"), symVelocity, sym("T_c", "time of closure", quantity.TimeDim, "s"),
		},
		Range: "T_c above 2 L/a, water slowed evenly", Source: "Michaud 1878, Bull. Soc. Vaud. Ing. Archit. 4(3)-(4)",
		Fn: func(a []float64) float64 { return 2 * a[0] * a[1] / (Gravity * a[2]) },
	})
)
