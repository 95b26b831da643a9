package hydraulics

import "math"

// residuals is the solver's own account of an answer, by the laws it solved with.
func (n *Net) residuals(s *State, a *Answer, w *Work) Certificate {
	return n.judge(s, a, w.step, func(e int, q, x float64) float64 {
		if w.live[e] && q == w.flow[e] && q == a.Flow[e] {
			return w.h[e] - n.ways[e].opens
		}
		h, _ := n.ways[e].drop.Drop(q, x)
		return h
	})
}

// Certify judges an answer from the circuit, the state and the answer alone, with its
// own evaluation of every law of this package: the friction factor by bisection instead
// of the solver's, every other relation written out anew. It shares no buffer, no matrix
// and no classification with Solve. Residuals are relative as Certificate says.
func Certify(n *Net, s *State, a *Answer) Certificate {
	if n.checkState(s) != nil || len(a.Flow) != len(n.elements) || len(a.Head) != len(n.points) {
		return Certificate{Mass: math.Inf(1), Energy: math.Inf(1), Way: math.Inf(1), Worst: "answer of another circuit"}
	}
	return n.certify(s, a, make([]float64, len(n.points)))
}

func (n *Net) certify(s *State, a *Answer, sum []float64) Certificate {
	return n.judge(s, a, sum, func(e int, q, x float64) float64 {
		return plainDrop(n.elements[e].Law, q, x)
	})
}

// judge measures every balance; drop evaluates element e's law (without its opening head).
func (n *Net) judge(s *State, a *Answer, sum []float64, drop func(e int, q, x float64) float64) Certificate {
	var c Certificate
	flow, head := leastFlow, 1.0
	for e := range n.elements {
		el := &n.elements[e]
		flow = nanMax(flow, math.Abs(a.Flow[e]))
		head = nanMax(head, math.Abs(a.Head[el.From]-a.Head[el.To]))
	}
	worst := 0.0
	note := func(r float64, to *float64, name string, kind string, i int) {
		if r != r {
			r = math.Inf(1)
		}
		*to = math.Max(*to, r)
		if r > worst {
			worst = r
			c.Worst = name
			if name == "" {
				c.Worst = named(kind, i, "")
			}
		}
	}
	clear(sum)
	for e := range n.elements {
		el, q, x := &n.elements[e], a.Flow[e], s.Opening[e]
		sum[el.From] -= q
		sum[el.To] += q
		if !n.passes(s, int32(e)) {
			note(math.Abs(q)/flow, &c.Mass, el.Name, "element", e)
			continue
		}
		stiff := n.ways[e].stiff(x)
		if stiff && q < 0 {
			note(-q/flow, &c.Way, el.Name, "element", e)
		}
		r := a.Head[el.From] - a.Head[el.To] - el.Opens - drop(e, clip(q, stiff), x)
		if !(stiff && q <= 0 && r < 0) { // a shut one-way part may hold back any head
			note(math.Abs(r)/head, &c.Energy, el.Name, "element", e)
		}
	}
	for p := range n.points {
		if !n.points[p].Held {
			note(math.Abs(sum[p])/flow, &c.Mass, n.points[p].Name, "point", p)
		} else if a.Head[p] != s.Held[p] {
			note(math.Abs(a.Head[p]-s.Held[p])/head, &c.Energy, n.points[p].Name, "point", p)
		}
	}
	return c
}

// plainDrop evaluates the package's laws from their definitions, apart from the methods
// the solver uses. A law from elsewhere is taken at its word.
func plainDrop(l Law, q, x float64) float64 {
	switch l := l.(type) {
	case *Pipe:
		return plainPipe(l.spec, q)
	case *Fixed:
		return plainSquare(0, barHead/(l.kv*l.kv), q)
	case *Valve:
		return plainSquare(0, barHead/math.Pow(l.kv*math.Pow(x, l.n), 2), q)
	case *Main:
		return plainSquare(l.A, l.B, q)
	case *Pump:
		if x == 0 {
			return plainSquare(0, barHead/(l.passage.kv*l.passage.kv), q)
		}
		return plainSquare(x*l.B, l.C, q) - x*x*l.A
	case *Outlet:
		return plainOutlet(l, q, x)
	}
	h, _ := l.Drop(q, x)
	return h
}

// plainSquare is a q + b q |q|, rounded off where b q² is below 0.1 mm.
func plainSquare(a, b, q float64) float64 {
	m := math.Abs(q)
	square := b * m * m
	if square < 1e-4 {
		t := math.Sqrt(square / 1e-4)
		square = 1e-4 * (t - t*t + t*t*t)
	}
	return math.Copysign(a*m+square, q)
}

func plainOutlet(o *Outlet, q, x float64) float64 {
	b := 1 / (o.c * x * o.c * x)
	if o.limit == 0 || q <= o.limit {
		return plainSquare(0, b, q)
	}
	over := q - o.limit
	slope := 2 * b * o.limit
	if t := math.Sqrt(b*o.limit*o.limit) / 1e-2; t < 1 {
		slope = 1e-4 / o.limit * t * (1 - 2*t + 3*t*t)
	}
	// The slope climbs evenly over the bend, then stays: the head is the area under it.
	bend, stiff := 1e-4*o.limit, 1e5/o.limit
	head := plainSquare(0, b, o.limit) + slope*math.Min(over, bend)
	in := math.Min(over, bend) / bend
	return head + (stiff-slope)*bend*in*in/2 + stiff*math.Max(over-bend, 0)
}

// plainPipe is Darcy-Weisbach with two-K fittings, f by bisection of Colebrook-White.
func plainPipe(p PipeSpec, q float64) float64 {
	v := q / (math.Pi * p.Bore * p.Bore / 4)
	re := math.Abs(v) * p.Bore / p.Viscosity
	k1, kinf := 0.0, 0.0
	for _, f := range p.Fittings {
		k := f.Kinf
		if !f.Plain {
			k += f.Kinf * 0.0254 / p.Bore
		}
		k1, kinf = k1+f.Count*f.K1, kinf+f.Count*k
	}
	rel := p.Roughness / p.Bore
	// φ = f Re²; head = φ ν² L/(2 g D³).
	h := plainPhi(re, rel) * p.Viscosity * p.Viscosity * p.Length / (2 * Gravity * math.Pow(p.Bore, 3))
	h += k1*p.Viscosity*math.Abs(v)/(2*Gravity*p.Bore) + kinf*v*v/(2*Gravity)
	return math.Copysign(h, q)
}

// plainPhi is φ = f Re² for a Reynolds number and relative roughness.
func plainPhi(re, rel float64) float64 {
	if re <= 2000 {
		return 64 * re
	}
	if re >= 4000 {
		x := bisectColebrook(re, rel)
		return re * re / (x * x)
	}
	// Hermite between, from the values and slopes at both ends.
	x := bisectColebrook(4000, rel)
	u := rel/3.7 + 2.51*x/4000
	// d(1/√f)/dRe at fixed roughness, from differentiating Colebrook-White.
	k := 2 / math.Ln10 / u
	dx := k * 2.51 * x / (4000 * 4000) / (1 + k*2.51/4000)
	p0, m0 := 64*2000.0, 64*2000.0
	p1 := 4000 * 4000 / (x * x)
	m1 := (2*4000/(x*x) - 2*4000*4000*dx/(x*x*x)) * 2000
	t := (re - 2000) / 2000
	return p0*(1+2*t)*(1-t)*(1-t) + m0*t*(1-t)*(1-t) + p1*t*t*(3-2*t) + m1*t*t*(t-1)
}

// bisectColebrook finds x = 1/√f between 0.5 and 50 by halving to a millionth; in so
// short a bracket the curve is straight to rounding, and a chord gives the rest.
func bisectColebrook(re, rel float64) float64 {
	misfit := func(x float64) float64 { return x + 2*math.Log10(rel/3.7+2.51*x/re) }
	lo, hi := 0.5, 50.0
	for hi-lo > 1e-6 {
		mid := (lo + hi) / 2
		if misfit(mid) < 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	below, above := misfit(lo), misfit(hi)
	return lo - below*(hi-lo)/(above-below)
}

// clip is the flow a law is judged at: a one-way part has none below zero.
func clip(q float64, stiff bool) float64 {
	if stiff && q < 0 {
		return 0
	}
	return q
}
