package hydraulics

import "math"

// Certify judges an answer from the circuit, the state and the answer alone, with its
// own evaluation of every law of this package: the friction factor by bisection instead
// of the solver's, every other relation written out anew. It shares no buffer, no matrix
// and no classification with Solve. Residuals are relative as Certificate says.
func Certify(n *Net, s *State, a *Answer) Certificate {
	if n.checkState(s) != nil || len(a.Flow) != len(n.elements) || len(a.Head) != len(n.points) {
		return Certificate{Mass: math.Inf(1), Energy: math.Inf(1), Way: math.Inf(1), Worst: "answer of another circuit"}
	}
	c := n.certify(s, a, make([]float64, len(n.points)))
	c.Held = n.misheld(s, a)
	return c
}

// misheld is how far the worst reducer with a set head of its own is off what it holds [m]:
// part open it stands at that head, fully open not above it, shut not below it.
func (n *Net) misheld(s *State, a *Answer) float64 {
	worst := 0.0
	for _, e := range n.sets {
		el := &n.elements[e]
		law, x := el.Law.(*Reducer), s.Opening[e]
		if !n.passes(s, e) {
			continue
		}
		over := a.Head[el.To] - (law.set - law.fall*math.Max(a.Flow[e], 0))
		switch {
		case x >= 1:
			over = math.Max(over, 0)
		case x <= 0:
			over = math.Max(-over, 0)
		}
		if worst = math.Max(worst, math.Abs(over)); over != over {
			return math.Inf(1)
		}
	}
	return worst
}

func (n *Net) certify(s *State, a *Answer, sum []float64) Certificate {
	return n.judge(s, a, sum, func(e int, q, x float64) float64 {
		el := &n.elements[e]
		if p, is := el.Law.(*Pipe); is {
			return plainPipe(&p.spec, q, math.Abs(a.Head[el.From]-a.Head[el.To]-el.Opens))
		}
		return plainDrop(el.Law, q, x)
	})
}

// judge measures every balance; drop evaluates element e's law (without its opening head).
func (n *Net) judge(s *State, a *Answer, sum []float64, drop func(e int, q, x float64) float64) Certificate {
	flow, head := leastFlow, 1.0
	for e := range n.elements {
		el := &n.elements[e]
		flow = max(flow, math.Abs(a.Flow[e]))
		head = max(head, math.Abs(a.Head[el.From]-a.Head[el.To]))
	}
	v := tally{net: n, mass: -1, energy: -1, way: -1}
	clear(sum)
	for e := range n.elements {
		el, q, x := &n.elements[e], a.Flow[e], s.Opening[e]
		sum[el.From] -= q
		sum[el.To] += q
		if !n.passes(s, int32(e)) {
			v.note(&v.mass, math.Abs(q)/flow, int32(e))
			continue
		}
		stiff := n.ways[e].stiff(x)
		if stiff && q < 0 {
			v.note(&v.way, -q/flow, int32(e))
		}
		r := a.Head[el.From] - a.Head[el.To] - el.Opens - drop(e, clip(q, stiff), x)
		if !(stiff && q <= 0 && r < 0) { // a shut one-way part may hold back any head
			v.note(&v.energy, math.Abs(r)/head, int32(e))
		}
	}
	for p := range n.points {
		if !n.points[p].Held {
			v.note(&v.mass, math.Abs(sum[p])/flow, ^int32(p))
		} else if a.Head[p] != s.Held[p] {
			v.note(&v.energy, math.Abs(a.Head[p]-s.Held[p])/head, ^int32(p))
		}
	}
	return v.certificate()
}

// tally gathers the largest residuals and where the worst of all is: an element, or ^ a
// point.
type tally struct {
	net               *Net
	mass, energy, way float64 // −1 while there is none
	worst             float64
	at                int32
}

// note keeps a residual if it is the largest of its kind; one that is not a number counts
// as infinite.
func (v *tally) note(largest *float64, r float64, at int32) {
	if r <= *largest {
		return
	}
	if r != r {
		r = math.Inf(1)
	}
	*largest = r
	if r > v.worst {
		v.worst, v.at = r, at
	}
}

func (v *tally) certificate() Certificate {
	c := Certificate{Mass: math.Max(v.mass, 0), Energy: math.Max(v.energy, 0), Way: math.Max(v.way, 0)}
	if v.worst == 0 {
		return c
	}
	if v.at >= 0 {
		c.Worst = v.net.elements[v.at].Name
		if c.Worst == "" {
			c.Worst = named("element", int(v.at), "")
		}
		return c
	}
	c.Worst = v.net.points[^v.at].Name
	if c.Worst == "" {
		c.Worst = named("point", int(^v.at), "")
	}
	return c
}

// plainDrop evaluates the package's laws from their definitions, apart from the methods
// the solver uses. Of a law it does not know it says nothing, so that an answer with one
// never passes (NewNet refuses it before).
func plainDrop(l Law, q, x float64) float64 {
	switch l := l.(type) {
	case *Pipe:
		return plainPipe(&l.spec, q, 0)
	case *Fixed:
		return plainSquare(0, barHead/(l.kv*l.kv), q)
	case *Valve:
		kv := l.kv * x
		if l.n == 2 {
			kv *= x
		}
		return plainSquare(0, barHead/(kv*kv), q)
	case *Main:
		return plainSquare(l.A+(1-x)*l.Crowd, l.B, q)
	case *Pump:
		if x == 0 {
			return plainSquare(0, barHead/(l.passage.kv*l.passage.kv), q)
		}
		return plainSquare(x*l.B, l.C, q) - x*x*l.A
	case *Outlet:
		return plainWall(1/(l.c*x*l.c*x), l.limit, q)
	case *Limiter:
		return plainWall(barHead/(l.kv*l.kv), l.limit, q)
	case *Reducer:
		return plainSquare(0, barHead/(l.kv*l.kv), q) + 300*(1-x)
	case *Heater:
		return plainSquare(0, barHead/(l.kv*l.kv), q)
	case *Relief:
		return plainRelief(l, q)
	case *Lift:
		return q*10 - x*l.top
	}
	return math.NaN()
}

// certified reports whether plainDrop knows a law.
func certified(l Law) bool { return !math.IsNaN(plainDrop(l, leastFlow, 1)) }

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

// plainWall is b q² to the limit, where there is one, and a wall beyond it.
func plainWall(b, limit, q float64) float64 {
	if limit == 0 || q <= limit {
		return plainSquare(0, b, q)
	}
	over := q - limit
	slope := 2 * b * limit
	if t := math.Sqrt(b*limit*limit) / 1e-2; t < 1 {
		slope = 1e-4 / limit * t * (1 - 2*t + 3*t*t)
	}
	// The slope climbs evenly over the bend, then stays: the head is the area under it.
	bend, stiff := 1e-4*limit, 1e5/limit
	head := plainSquare(0, b, limit) + slope*math.Min(over, bend)
	in := math.Min(over, bend) / bend
	return head + (stiff-slope)*bend*in*in/2 + stiff*math.Max(over-bend, 0)
}

// plainRelief is the head over the set head: the square law once fully open, backward
// from there the area under a slope that falls evenly to what lifting needs.
func plainRelief(r *Relief, q float64) float64 {
	total := r.set + r.band
	full := r.kv * math.Sqrt(total/barHead)
	if q >= full {
		return barHead*q*q/(r.kv*r.kv) - r.set
	}
	bend := full * r.band / (2 * total)
	end := 2 * total / full
	lifting := (r.band - end*bend/2) / (full - bend/2)
	if q <= full-bend {
		return lifting * q
	}
	left := full - q
	return r.band - left*(end-(end-lifting)*left/bend/2)
}

// plainPipe is Darcy-Weisbach with two-K fittings, f by bisection of Colebrook-White.
// claim is the head the pipe is said to take, or 0: it only says where to look first.
func plainPipe(p *PipeSpec, q, claim float64) float64 {
	if q == 0 {
		return 0
	}
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
	fittings := k1*p.Viscosity*math.Abs(v)/(2*Gravity*p.Bore) + kinf*v*v/(2*Gravity)
	// φ = f Re²; head = φ ν² L/(2 g D³).
	scale := p.Viscosity * p.Viscosity * p.Length / (2 * Gravity * p.Bore * p.Bore * p.Bore)
	phi := plainPhi(re, p.Roughness/p.Bore, (claim-fittings)/scale)
	return math.Copysign(phi*scale+fittings, q)
}

// plainPhi is φ = f Re² for a Reynolds number and relative roughness; claim is what it is
// said to be.
func plainPhi(re, rel, claim float64) float64 {
	if re <= 2000 {
		return 64 * re
	}
	if re >= 4000 {
		x := bisectColebrook(re, rel, re/math.Sqrt(math.Max(claim, 0)))
		return re * re / (x * x)
	}
	// Hermite between, from the values and slopes at both ends.
	x := bisectColebrook(4000, rel, 0)
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

// bisectColebrook finds x = 1/√f by halving a bracket and then a chord. Where it is claimed
// to be it looks first: the misfit climbs by 1 at least for 1 of x, so that the root lies
// no farther from a claim than the claim's misfit; within a millionth, the tangent through
// it is straight to rounding. Otherwise 0.5 to 50 is halved to a millionth.
func bisectColebrook(re, rel, claim float64) float64 {
	r, b := rel/3.7, 2.51/re
	misfit := func(x float64) float64 { return x + 2/math.Ln10*math.Log(r+b*x) }
	if claim > 0.5 && claim < 50 {
		if m := misfit(claim); math.Abs(m) <= 1e-6*claim {
			return claim - m/(1+2/math.Ln10*b/(r+b*claim))
		}
	}
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
