package hydraulics

import "math"

// The ends of the bridge between laminar and turbulent flow, as Reynolds numbers.
const (
	laminarEnd     = 2000.0
	turbulentStart = 4000.0
	ln10           = math.Ln10
)

// friction is φ = f Re² as a function of the Reynolds number for one relative
// roughness: proportional to the head lost, strictly increasing and C1.
//
//	Re ≤ 2000   φ = 64 Re                         (Hagen-Poiseuille)
//	Re ≥ 4000   φ = f Re², f by Colebrook-White   (Colebrook 1939)
//	between     cubic Hermite through both ends' values and slopes
//
// The bridge is monotone: the end slopes over the chord's, α and β, satisfy
// α² + β² < 9 (Fritsch & Carlson 1980) for every ε/D from 0 to 0.05.
type friction struct {
	r      float64 // ε/(3.7 D)
	c2, c3 float64 // bridge: φ = 64·2000 (1 + t) + c2 t² + c3 t³, t = (Re − 2000)/2000
}

func newFriction(relative float64) friction {
	f := friction{r: relative / 3.7}
	var x float64
	v1, m1 := f.turbulent(turbulentStart, &x)
	width := turbulentStart - laminarEnd
	v0, m0 := 64*laminarEnd, 64*width
	m1 *= width
	f.c2 = 3*(v1-v0) - 2*m0 - m1
	f.c3 = m0 + m1 - 2*(v1-v0)
	return f
}

// at returns φ and dφ/dRe at a Reynolds number ≥ 0. x is 1/√f where it was last asked
// for, or 0: turbulent flow starts from it and leaves the new one.
func (f *friction) at(re float64, x *float64) (phi, slope float64) {
	switch {
	case re <= laminarEnd:
		return 64 * re, 64
	case re >= turbulentStart:
		return f.turbulent(re, x)
	}
	const width = turbulentStart - laminarEnd
	t := (re - laminarEnd) / width
	phi = 64*laminarEnd + t*(64*width+t*(f.c2+t*f.c3))
	return phi, (64*width + t*(2*f.c2+3*t*f.c3)) / width
}

// turbulent returns φ and dφ/dRe by Colebrook-White; the slope is exact, by the
// implicit function theorem.
func (f *friction) turbulent(re float64, last *float64) (phi, slope float64) {
	const c = 2 / ln10
	x := colebrook(f.r, re, *last)
	*last = x
	b := 2.51 / re
	g := c / (f.r + b*x)
	dx := g * x * b / (re * (1 + g*b)) // dx/dRe
	y := re / x
	return y * y, 2 * y * (1 - re*dx/x) / x
}

// colebrook returns x = 1/√f, the root of x + 2 log10(r + 2.51 x/Re) = 0.
//
// r = ε/(3.7 D) [–] and Re ≥ 1 [–]. It starts from x, or with x = 0 from the first step of
// Serghides (1984), and takes Halley's third-order steps: from there two reach 1e-14
// anywhere from Re 4e3 to 1e9. From any x of 1 to 20, farther than pipes lie apart, it
// gets there too (tested).
// Source: Colebrook 1939, J. Inst. Civ. Eng. 11:133; Clamond 2009 for the conditioning.
func colebrook(r, re, x float64) float64 {
	const c = 2 / ln10
	b := 2.51 / re
	if !(x > 0 && x < 100) {
		x = -c * math.Log(r+12/re)
	}
	for range 12 {
		u := r + b*x
		g := c * b / u
		value, slope := x+c*math.Log(u), 1+g
		step := value / slope
		// F'' = −g²/c; Halley: step/(1 − step F''/(2F')). Far off, Newton's own step is
		// the safe one: from the left it never passes the root.
		if bend := step * g * g / (2 * c * slope); math.Abs(bend) < 0.3 {
			step /= 1 + bend
		}
		x -= step
		if math.Abs(step) < 1e-5*x { // the step after this one is below 1e-15
			break
		}
	}
	return x
}

// DarcyFactor returns the Darcy friction factor f of a full, straight pipe [–].
//
// re is the Reynolds number (> 0) and relative the roughness over the bore, 0 to 0.05.
// Laminar to 2000, Colebrook-White from 4000, a monotone bridge of f Re² between.
func DarcyFactor(re, relative float64) float64 {
	f := newFriction(relative)
	var x float64
	phi, _ := f.at(re, &x)
	return phi / (re * re)
}
