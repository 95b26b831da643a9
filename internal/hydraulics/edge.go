package hydraulics

import (
	"math"
	"slices"
)

// edge is a strand as the inner loops see it: what they ask of the circuit and of the
// state, and what the last evaluation gave, side by side. Its law is the sum of its
// members': pipes of one bore and roughness have one friction factor between them, and
// above the flow at which the last corner is rounded off the squares are one square.
type edge struct {
	q, h, dh float64 // flow, head taken, slope
	res      float64 // head available − head taken
	i, j     int32   // its free points, −1 where held
	slot     int32   // of its conductance
	from, to int32   // its points

	opens   float64 // opening heads
	k1, k2  float64 // fittings on pipes
	a, b, z float64 // the squares together, from z on
	ahead   bool    // a member lets nothing back
	behind  bool    // one lies against the strand and lets nothing along
	x       float64 // opening of the first member
	e       int32   // and its number, for edges of one

	first, last                  int32 // members, in the layout
	pipes, squares, others       int32 // where its pipes, squares and others begin
	pipesTo, squaresTo, othersTo int32
}

// pipes is the pipes of one bore and roughness in a strand.
type pipes struct {
	re, c float64 // Re per flow [s/m³]; head per φ [m], of all together
	phi   float64 // φ at the last evaluation
	f     *friction
	e     int32 // whose remembered friction serves for all: the lowest of them
}

// squared is a member that is a square at its opening.
type squared struct {
	quadratic
	typical float64
	oneWay  bool
	back    bool
}

// odd is a member evaluated by its own law.
type odd struct {
	l    *law
	x    float64 // opening
	e    int32
	back bool
}

// kind tells which laws are added up.
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
		return l.at(x)
	case *Valve:
		kv := l.kv * x
		if l.n == 2 {
			kv *= x
		}
		return quadratic{b: barHead / (kv * kv), z: kv * rounding}
	}
	panic("hydraulics: squareAt: the law must be a square")
}

// load works out the edges of a layout at the openings of a state, unless it has them, and
// starts them at the flows in a.
func (n *Net) load(s *State, a *Answer, w *Work) {
	l := w.lay
	if !l.set(s) {
		n.sum(l, s)
	}
	for k := range l.edges {
		g := &l.edges[k]
		g.q = n.startOf(l.members[g.first:g.last], a)
	}
	w.edges, w.pipes, w.squares, w.others = l.edges, l.pipes, l.squares, l.others
}

// set reports whether the edges are those of a state's openings.
func (l *layout) set(s *State) bool {
	if !l.summed {
		return false
	}
	for k, m := range l.members {
		if l.opening[k] != s.Opening[m.e] {
			return false
		}
	}
	return true
}

// sum adds up the laws of every strand's members.
func (n *Net) sum(l *layout, s *State) {
	l.summed = true
	count := len(l.members)
	l.edges, l.opening = slices.Grow(l.edges[:0], len(l.strands)), slices.Grow(l.opening[:0], count)
	l.pipes, l.squares, l.others = slices.Grow(l.pipes[:0], count/2), slices.Grow(l.squares[:0], count/2), slices.Grow(l.others[:0], count/8)
	for k := range l.strands {
		t := &l.strands[k]
		l.edges = append(l.edges, edge{
			i: t.i, j: t.j, slot: t.slot, from: t.from, to: t.to, first: t.first, last: t.last,
			pipes: int32(len(l.pipes)), squares: int32(len(l.squares)), others: int32(len(l.others)),
		})
		g := &l.edges[k]
		list := l.members[t.first:t.last]
		g.e, g.x = list[0].e, s.Opening[list[0].e]
		for _, m := range list {
			n.member(g, m, s.Opening[m.e], l)
		}
		g.pipesTo, g.squaresTo, g.othersTo = int32(len(l.pipes)), int32(len(l.squares)), int32(len(l.others))
	}
	for _, m := range l.members {
		l.opening = append(l.opening, s.Opening[m.e])
	}
}

// startOf is the flow a strand starts from: of those its members had, if they differ, the
// least.
func (n *Net) startOf(list []member, a *Answer) float64 {
	best := math.Inf(1)
	for _, m := range list {
		q := a.Flow[m.e]
		if m.back {
			q = -q
		}
		if math.Abs(q) < math.Abs(best) {
			best = q
		}
	}
	return best
}

// member adds one member's law to an edge.
func (n *Net) member(g *edge, m member, x float64, y *layout) {
	l := &n.ways[m.e]
	if l.stiff(x) {
		g.behind = g.behind || m.back
		g.ahead = g.ahead || !m.back
	}
	switch l.kind {
	case piped:
		y.addPipe(g, l.pipe, m.e)
	case square:
		q := l.square
		if x != 1 {
			q = squareAt(l.drop, x)
		}
		g.a, g.b, g.z = g.a+q.a, g.b+q.b, math.Max(g.z, q.z)
		if m.back {
			g.opens -= l.opens
		} else {
			g.opens += l.opens
		}
		y.squares = append(y.squares, squared{q, l.usual(x), l.oneWay, m.back})
	default:
		y.others = append(y.others, odd{l, x, m.e, m.back})
	}
}

// addPipe joins a pipe to those of its bore and roughness.
func (y *layout) addPipe(g *edge, p *Pipe, e int32) {
	g.k1, g.k2 = g.k1+p.k1, g.k2+p.k2
	for k := int(g.pipes); k < len(y.pipes); k++ {
		if t := &y.pipes[k]; t.re == p.re && t.f.r == p.f.r {
			t.c += p.c
			t.e = min(t.e, e)
			return
		}
	}
	y.pipes = append(y.pipes, pipes{re: p.re, c: p.c, f: &p.f, e: e})
}

// at evaluates an edge's law at flow q. most is the largest head of any of its members
// that can work against the rest; rough reports that some friction is not settled yet.
func (w *Work) at(g *edge, q float64) (h, dh, most float64, rough bool) {
	m := math.Abs(q)
	h, dh = m*(g.k1+m*g.k2), g.k1+2*m*g.k2
	for k := g.pipes; k < g.pipesTo; k++ {
		p := &w.pipes[k]
		re := m * p.re
		var phi, slope float64
		if re < turbulentStart {
			phi, slope = p.f.at(re, nil)
		} else {
			var r bool
			phi, slope, r = p.f.near(re, &w.friction[p.e])
			rough = rough || r
		}
		p.phi = phi
		h += p.c * phi
		dh += p.c * slope * p.re
	}
	if m >= g.z && !(q < 0 && g.ahead) && !(q > 0 && g.behind) {
		h += m * (g.a + m*g.b)
		dh += g.a + 2*m*g.b
	} else {
		for k := g.squares; k < g.squaresTo; k++ {
			hk, dk := w.squares[k].at(m, q < 0)
			h += hk
			dh += dk
		}
	}
	h = math.Copysign(h, q) + g.opens
	for k := g.others; k < g.othersTo; k++ {
		ho, do := w.others[k].at(q)
		h += ho
		dh += do
		most = max(most, math.Abs(ho))
	}
	return h, dh, max(most, math.Abs(h)), rough
}

// at is the head a square takes of a flow of size m, without its opening head.
func (t *squared) at(m float64, negative bool) (h, dh float64) {
	if t.oneWay && m != 0 && negative != t.back {
		return Reverse * m, Reverse
	}
	return t.drop(m)
}

// at is the head the member takes along the strand at the strand's flow.
func (o *odd) at(q float64) (h, dh float64) {
	if o.back {
		h, dh = o.l.at(-q, o.x)
		return -h, dh
	}
	return o.l.at(q, o.x)
}

// usual is the typical flow at opening x.
func (l *law) usual(x float64) float64 {
	if x > 0 && x < 1 && l.closer != nil {
		return l.typical * x
	}
	return l.typical
}

// chord is the slope from rest to typical flows: the sum of the members' own.
func (n *Net) chord(w *Work, g *edge) float64 {
	sum := 0.0
	for _, m := range w.lay.members[g.first:g.last] {
		if l := &n.ways[m.e]; l.kind == piped {
			sum += l.chord
		}
	}
	for k := g.squares; k < g.squaresTo; k++ {
		t := &w.squares[k]
		sum += t.chord(t.typical)
	}
	for k := g.others; k < g.othersTo; k++ {
		sum += w.others[k].chord()
	}
	return sum
}

func (o *odd) chord() float64 {
	t := o.l.usual(o.x)
	rest, _ := o.l.at(0, o.x)
	far, _ := o.l.at(t, o.x)
	return (far - rest) / t
}

// through is the flow ahead at which an edge takes the head d, by Newton kept between
// brackets; 0 where d opens nothing.
func (w *Work) through(g *edge, d float64) float64 {
	rest, slope, _, _ := w.at(g, 0)
	if !(d > rest) {
		return 0
	}
	q, lo, hi := math.Min((d-rest)/slope, start), 0.0, math.Inf(1)
	for range 60 {
		h, dh, _, _ := w.at(g, q)
		if math.Abs(h-d) <= 1e-9*math.Abs(d) {
			break
		}
		if h < d {
			lo = q
		} else {
			hi = q
		}
		q -= (h - d) / dh
		q = math.Min(q, 8*lo+start)
		if !(q > lo && q < hi) {
			q = (lo + hi) / 2
		}
	}
	return q
}

// hand gives every member the flow of its strand and the points between the members their
// heads, from the last evaluation. The 1e-16 m³/s that a one-way part with next to no head
// against it passes backwards are nothing, and are given as nothing.
func (n *Net) hand(a *Answer, w *Work) {
	w.most = 0
	for k := range w.edges {
		g := &w.edges[k]
		shut := g.q < 0 && g.ahead || g.q > 0 && g.behind
		if !shut {
			w.most = max(w.most, math.Abs(g.q))
		}
		head, p := a.Head[g.from], g.from
		pipe := w.pipes[g.pipes:g.pipesTo]
		squares, others := w.squares[g.squares:g.squaresTo], w.others[g.others:g.othersTo]
		for _, m := range w.lay.members[g.first:g.last] {
			l := &n.ways[m.e]
			h, x := 0.0, 0.0 // taken along the strand; opening, where it says whether water can come back
			switch l.kind {
			case piped:
				h = l.pipe.shares(g.q, pipe)
			case square:
				h, _ = squares[0].at(math.Abs(g.q), g.q < 0)
				h = math.Copysign(h, g.q)
				if m.back {
					h -= l.opens
				} else {
					h += l.opens
				}
				squares = squares[1:]
			default:
				h, _ = others[0].at(g.q)
				x, others = others[0].x, others[1:]
			}
			switch {
			case shut && m.back == (g.q > 0) && l.stiff(x):
				a.Flow[m.e] = 0
			case m.back:
				a.Flow[m.e] = -g.q
			default:
				a.Flow[m.e] = g.q
			}
			head -= h
			if p = n.across(m.e, p); p != g.to {
				a.Head[p] = head
			}
		}
	}
}

// shares is what one of the pipes takes.
func (p *Pipe) shares(q float64, list []pipes) float64 {
	m := math.Abs(q)
	for k := range list {
		if t := &list[k]; t.re == p.re && t.f.r == p.f.r {
			return math.Copysign(p.c*t.phi+m*(p.k1+m*p.k2), q)
		}
	}
	panic("hydraulics: shares: a strand's pipe must be among its pipes")
}

// near is φ and dφ/dRe with 1/√f brought on from *last by one step of Halley: third order,
// so that while Newton closes in on the flows the friction keeps ahead of it with one
// logarithm a step. rough reports a step of more than a hundred thousandth: what is left
// is then not below 1e-14, and the flows may not be called solved. Where *last is nothing
// or far off, the friction is solved to the end. For Re from turbulentStart.
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
