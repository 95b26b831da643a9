package hydraulics

import "math"

// edge is a live element as the inner loops see it: what they ask of the circuit and of
// the state, and what the last evaluation gave, side by side.
type edge struct {
	q, h, dh float64 // flow, head taken, slope
	res      float64 // head available − head taken
	l        *law
	x        float64   // opening
	square   quadratic // the law at this opening, where l.kind says it is a square
	e        int32     // the element
	from, to int32     // its points
	i, j     int32     // their places in the elimination, −1 when held
	slot     int32     // of its conductance
}

// kind tells which laws have a short way.
type kind uint8

const (
	other  kind = iota // by its own Drop
	piped              // a pipe, two-way
	square             // a quadratic at any one opening, nothing more
)

func kindOf(e Element) kind {
	switch e.Law.(type) {
	case *Pipe:
		if !e.OneWay {
			return piped
		}
	case *Fixed, *Valve, *Main:
		return square
	}
	return other
}

// squareAt is the quadratic a square law is at opening x.
func squareAt(l Law, x float64) quadratic {
	switch l := l.(type) {
	case *Fixed:
		return l.law
	case *Main:
		return l.law
	case *Valve:
		kv := l.kv * x
		if l.n == 2 {
			kv *= x
		}
		return quadratic{b: barHead / (kv * kv), z: kv * rounding}
	}
	panic("hydraulics: squareAt: the law must be a square")
}

// at is law.at, the short way. last is a pipe's remembered 1/√f; rough reports that the
// friction is not settled yet.
func (g *edge) at(q float64, last *float64) (h, dh float64, rough bool) {
	switch g.l.kind {
	case piped:
		return g.l.pipe.near(q, last)
	case square:
		if g.l.oneWay && q < 0 {
			return g.l.opens + Reverse*q, Reverse, false
		}
		h, dh = g.square.drop(q)
		return h + g.l.opens, dh, false
	}
	h, dh = g.l.at(q, g.x)
	return h, dh, false
}

// chord is the slope from rest, where the law takes h, to the element's typical flow.
func (g *edge) chord(h float64) float64 {
	if g.l.kind == piped {
		return g.l.chord
	}
	t := g.l.typical
	if g.x > 0 && g.x < 1 && g.l.closer != nil {
		t *= g.x
	}
	var none float64
	far, _, _ := g.at(t, &none)
	return (far - h) / t
}

// near is Drop with the friction brought on from the remembered 1/√f by one step of
// Halley: third order, so that while Newton closes in on the flows the friction keeps
// ahead of it with one logarithm a step. rough reports a step of more than a hundred
// thousandth: what is left is then not below 1e-14, and the flows may not be called solved.
func (p *Pipe) near(q float64, last *float64) (h, dh float64, rough bool) {
	a := math.Abs(q)
	re := a * p.re
	var phi, dphi float64
	if re < turbulentStart {
		phi, dphi = p.f.at(re, last)
	} else {
		phi, dphi, rough = p.f.near(re, last)
	}
	h = p.c*phi + a*(p.k1+a*p.k2)
	dh = p.c*dphi*p.re + p.k1 + 2*a*p.k2
	return math.Copysign(h, q), dh, rough
}

// near is one step of colebrook from *last and what turbulent makes of it; where *last is
// nothing or far off, colebrook itself.
func (f *friction) near(re float64, last *float64) (phi, slope float64, rough bool) {
	const c = 2 / ln10
	x := *last
	b := 2.51 / re
	u := f.r + b*x
	t := c * b / u
	s := 1 / (1 + t)
	step := (x + c*math.Log(u)) * s
	if !(x > 0 && math.Abs(step) < 0.4*x) {
		phi, slope = f.turbulent(re, last)
		return phi, slope, false
	}
	step /= 1 + step*t*t*s/(2*c)
	x -= step
	*last = x
	y := re / x
	return y * y, 2 * y * s / x, math.Abs(step) >= 1e-5*x
}
