package circuit

import (
	"errors"
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/demo"
	"tideover/internal/hydraulics"
)

// A slow, plain solver of a home. Its laws are written here again from docs/theory.md and
// the parts' own rows; its unknowns are the flows round rings, its slopes finite
// differences and its linear algebra dense. It shares the joints of the circuit
// and the state of the case with the solver it checks, and nothing else.
type plain struct {
	c     *Circuit
	s     *hydraulics.State
	rings [][]float64 // per ring: +1, −1 or 0 per element
	drive []float64   // per ring: held head it starts from less the one it ends at
	q     []float64
}

const g = 9.80665

// drop is the head element e takes at flow q.
func (p *plain) drop(e int, q float64) float64 {
	part := &p.c.Assembly.Parts[p.c.part[e]]
	oneWay := false
	opens := 0.0
	switch part.Kind {
	case assembly.NonReturn:
		oneWay, opens = true, float64(part.Row.(catalogue.NonReturn).Opens)
	case assembly.Outlet, assembly.Drain, assembly.FloatValve:
		oneWay = true
	case assembly.Pump:
		oneWay = p.s.Opening[e] > 0
	}
	if oneWay && q < 0 { // as good as shut: softer than the law's 1e14, which changes nothing to be seen
		return p.forward(e, part, 0) + opens + 1e12*q
	}
	return p.forward(e, part, q) + opens
}

func (p *plain) forward(e int, part *assembly.Part, q float64) float64 {
	square := func(kv float64) float64 { return 1e5 / (1000 * g) * q * math.Abs(q) / (kv * kv) }
	switch row := part.Row.(type) {
	case catalogue.Pipe:
		return pipe(row, part, float64(p.c.in.Water), q)
	case catalogue.Pump:
		// The curve through three points; at rest its own −C q².
		h0, h1, h2 := float64(row.Shutoff), float64(row.H1), float64(row.H2)
		q1, q2 := float64(row.Q1), float64(row.Q2)
		c := ((h0-h2)/q2 - (h0-h1)/q1) / (q2 - q1)
		b := (h0-h1)/q1 - c*q1
		if p.s.Opening[e] == 0 {
			return c * q * math.Abs(q)
		}
		return -(h0 - b*q - c*q*q)
	case catalogue.Outlet:
		c := float64(row.At3Bar) / math.Sqrt(3e5/(1000*g))
		h := q * math.Abs(q) / (c * c)
		if l := float64(row.Limit); l > 0 && q > l {
			h += 1e5 * (q - l) / l // "another 100 m raise it by a thousandth"
		}
		return h
	case catalogue.NonReturn:
		return square(float64(row.Kv))
	case catalogue.Valve:
		return square(float64(row.Kv))
	case catalogue.Float:
		return square(float64(row.Kv))
	case catalogue.Heater:
		return square(float64(row.Kv))
	}
	return p.main(q)
}

// main is a q + b q² through both readings of the flow test (all the examples' bend upward).
func (p *plain) main(q float64) float64 {
	in := p.c.in
	d1, d2 := float64(in.Static-in.LowRes)/(1000*g), float64(in.Static-in.HighRes)/(1000*g)
	q1, q2 := float64(in.LowFlow), float64(in.HighFlow)
	b := (d2/q2 - d1/q1) / (q2 - q1)
	a := d1/q1 - b*q1
	return a*q + b*q*math.Abs(q)
}

// pipe is Darcy-Weisbach with the two-K fittings.
func pipe(row catalogue.Pipe, part *assembly.Part, celsius, q float64) float64 {
	d, l := float64(row.Bore), float64(part.Length)
	v := 4 * math.Abs(q) / (math.Pi * d * d)
	re := v * d / kinematic(celsius)
	if re == 0 {
		return 0
	}
	head := v * v / (2 * g)
	h := phi(re, float64(row.Roughness)/d) / (re * re) * l / d * head
	for _, f := range part.Fittings {
		h += float64(f.Count) * (f.Row.K1/re + f.Row.Kinf*(1+0.0254/d)) * head
	}
	return math.Copysign(h, q)
}

// phi is f Re²: laminar to 2000, Colebrook-White from 4000, a cubic between.
func phi(re, relative float64) float64 {
	turbulent := func(re float64) float64 {
		x := 8.0
		for range 60 { // the equation put into itself until it stands
			x = -2 * math.Log10(relative/3.7+2.51*x/re)
		}
		return re * re / (x * x)
	}
	switch {
	case re <= 2000:
		return 64 * re
	case re >= 4000:
		return turbulent(re)
	}
	t := (re - 2000) / 2000
	slope := (turbulent(4000.5) - turbulent(3999.5)) * 2000
	p0, m0, p1 := 64*2000.0, 64*2000.0, turbulent(4000)
	return p0 + t*m0 + t*t*(3*(p1-p0)-2*m0-slope) + t*t*t*(m0+slope-2*(p1-p0))
}

// kinematic is the viscosity of water [m²/s] by interpolation in a table (IAPWS 2008).
func kinematic(celsius float64) float64 {
	t := []float64{5, 10, 15, 20, 25, 30}
	nu := []float64{1.5183, 1.3063, 1.1386, 1.0034, 0.8926, 0.8007}
	for i := 1; i < len(t); i++ {
		if celsius <= t[i] {
			u := (celsius - t[i-1]) / (t[i] - t[i-1])
			return 1e-6 * math.Exp((1-u)*math.Log(nu[i-1])+u*math.Log(nu[i]))
		}
	}
	return math.NaN()
}

// newPlain grows a tree from the held points; each element left over closes a ring.
func newPlain(c *Circuit, s *hydraulics.State) *plain {
	p := &plain{c: c, s: s, q: make([]float64, len(c.part))}
	points, elements := c.Net.Points(), c.Net.Elements()
	path, root := make([][]float64, len(points)), make([]float64, len(points))
	for i := range points {
		if points[i].Held {
			path[i], root[i] = make([]float64, len(elements)), s.Held[i]
		}
	}
	used := append([]bool(nil), s.Off...)
	for again := true; again; {
		again = false
		for e, el := range elements {
			if used[e] || (path[el.From] == nil) == (path[el.To] == nil) {
				continue
			}
			u, v, sign := el.From, el.To, 1.0
			if path[u] == nil {
				u, v, sign = v, u, -1
			}
			path[v], root[v] = append([]float64(nil), path[u]...), root[u]
			path[v][e] = sign
			used[e], again = true, true
		}
	}
	for e, el := range elements {
		if used[e] || path[el.From] == nil {
			continue
		}
		ring := make([]float64, len(elements))
		for i := range ring {
			ring[i] = path[el.From][i] - path[el.To][i]
		}
		ring[e]++
		p.rings, p.drive = append(p.rings, ring), append(p.drive, root[el.From]-root[el.To])
	}
	return p
}

// misfit is, per ring, the head taken round it at flows q less what drives it.
func (p *plain) misfit(q []float64) []float64 {
	h := make([]float64, len(q))
	for e := range q {
		if !p.s.Off[e] {
			h[e] = p.drop(e, q[e])
		}
	}
	list := make([]float64, len(p.rings))
	for k, ring := range p.rings {
		list[k] = -p.drive[k]
		for e, c := range ring {
			list[k] += c * h[e]
		}
	}
	return list
}

// solve takes Newton's direction, from slopes by finite differences and a dense solve, and
// walks along it to where the misfits no longer push on, by halving.
func (p *plain) solve() bool {
	if len(p.rings) == 0 {
		return true
	}
	for range 300 {
		m := p.misfit(p.q)
		if worst := mat.Norm(mat.NewVecDense(len(m), m), math.Inf(1)); worst < 1e-9 {
			return true
		}
		h := mat.NewSymDense(len(m), nil)
		for e, q := range p.q {
			if p.s.Off[e] {
				continue
			}
			d := 1e-6*math.Abs(q) + 1e-12
			slope := (p.drop(e, q+d) - p.drop(e, q-d)) / (2 * d)
			for i := range m {
				for k := i; k < len(m); k++ {
					h.SetSym(i, k, h.At(i, k)+p.rings[i][e]*slope*p.rings[k][e])
				}
			}
		}
		var y mat.VecDense
		if err := y.SolveVec(h, mat.NewVecDense(len(m), m)); err != nil && !errors.As(err, new(mat.Condition)) {
			return false
		}
		p.walk(y.RawVector().Data)
	}
	return false
}

// walk goes along −y to where the content stops falling, or all the way.
func (p *plain) walk(y []float64) {
	trial := make([]float64, len(p.q))
	rising := func(t float64) bool {
		copy(trial, p.q)
		for k, ring := range p.rings {
			for e, c := range ring {
				trial[e] -= t * y[k] * c
			}
		}
		sum := 0.0
		for k, v := range p.misfit(trial) {
			sum -= v * y[k]
		}
		return sum > 0
	}
	lo, hi := 0.0, 1.0
	if rising(1) {
		for range 45 {
			if mid := (lo + hi) / 2; rising(mid) {
				hi = mid
			} else {
				lo = mid
			}
		}
		rising(hi)
	}
	copy(p.q, trial)
}

// Every arrangement of the example homes, on the main and on the store, with one tap open
// and with two, and while the store fills: the same flows by both solvers.
func TestArrangementsAgainstPlainSolver(t *testing.T) {
	held := 0
	for _, name := range []string{"kestrel-rise", "juniper-flat"} {
		example := demo.Job(t, name)
		rows, profile := demo.Rows(t, example.Profile)
		for _, arrangement := range assembly.Arrangements() {
			j := *example
			j.Choices.Arrangement = arrangement
			j.Choices.HeaderLevel.V = j.Home.Level.V + 9
			a, err := assembly.Build(&j, rows, profile)
			if err != nil {
				t.Fatalf("%s as %s: %v", name, arrangement, err)
			}
			c := build(t, a, Read(&j))
			held += againstPlain(t, name+" as "+arrangement, c)
		}
	}
	if held < 100 {
		t.Errorf("only %d flows compared", held)
	}
	t.Logf("%d flows compared", held)
}

// againstPlain compares the flows of a home's cases and counts those that are not still.
func againstPlain(t *testing.T, name string, c *Circuit) (held int) {
	t.Helper()
	for setting := range c.Assembly.Settings {
		for _, taps := range [][]int{{0}, {1, 2}} {
			for _, pump := range []Pumping{Standing, Running} {
				k := Case{Setting: setting, Main: c.in.Static, Level: 1.2, Pump: pump, Filling: pump == Standing, Header: 0.4, Lifting: pump == Running, Open: make([]bool, len(c.Outlets))}
				for _, n := range taps {
					k.Open[n%len(c.Outlets)] = true
				}
				s := c.NewSolver()
				solve(t, s, k)
				p := newPlain(c, s.State)
				if !p.solve() {
					t.Errorf("%s, setting %d: the plain solver does not settle", name, setting)
					continue
				}
				for e, q := range s.Answer.Flow {
					// The law is rounded off where it takes less than 0.1 mm; flows side by side
					// may differ by what that makes.
					d, h := math.Abs(q-p.q[e]), 0.0
					if !s.State.Off[e] {
						h = math.Abs(p.drop(e, q) - p.drop(e, p.q[e]))
					}
					if d > 2e-4*math.Abs(q)+1e-9 && h > 1e-4 {
						t.Errorf("%s, setting %s, taps %v, pump %d: %s flows %.6g, plainly %.6g", name, c.Assembly.Settings[setting].Name, taps, pump, c.Assembly.Parts[c.part[e]].Tag, q, p.q[e])
					} else if q != 0 {
						held++
					}
				}
			}
		}
	}
	return held
}
