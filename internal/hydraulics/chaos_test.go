package hydraulics

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// circuit is a random circuit with a state.
type circuit struct {
	points   []Point
	elements []Element
	state    State
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

func uniform(r *rand.Rand, lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }

// decades draws evenly over the logarithm.
func decades(r *rand.Rand, lo, hi float64) float64 {
	return lo * math.Exp(r.Float64()*math.Log(hi/lo))
}

func randomPipe(r *rand.Rand) Law {
	return must(NewPipe("pipe", PipeSpec{
		Bore: decades(r, 0.008, 0.06), Length: decades(r, 0.05, 150),
		Roughness: decades(r, 1e-6, 2e-4), Viscosity: uniform(r, 0.6e-6, 1.5e-6),
		Fittings: []Loss{{K1: 800, Kinf: 0.4, Count: float64(r.IntN(6))}, {Kinf: 0.5, Count: 1, Plain: true}},
	}))
}

// randomElement draws a part between two points; one in a few is one-way.
func randomElement(r *rand.Rand, name string, from, to int32) Element {
	e := Element{Name: name, From: from, To: to}
	switch k := r.IntN(20); {
	case k < 11:
		e.Law = randomPipe(r)
	case k < 13:
		e.Law = must(NewHandValve(name, decades(r, 1e-4, 5e-3)))
	case k < 14:
		e.Law = must(NewFixed(name, decades(r, 1e-4, 5e-3)))
	case k < 17:
		e = must(NewNonReturn(name, from, to, decades(r, 1e-4, 5e-3), []float64{0, 0.2, 0.5}[r.IntN(3)]))
	case k < 18:
		h := uniform(r, 15, 60)
		q := uniform(r, 3e-4, 1e-3)
		e.Law = must(NewPump(name, h, q, 0.75*h, 1.8*q, h*(1-0.25*1.8*uniform(r, 1.001, 1.799)), []float64{0, 1e-3}[r.IntN(2)]))
		e.OneWay = r.IntN(2) == 0
	case k < 19:
		e.Law = must(NewFloatValve(name, decades(r, 5e-5, 1e-3)))
		e.OneWay = true
	default:
		e.Law = must(NewMainLoss(name, uniform(r, 0, 5000), uniform(r, 1e6, 1e8)))
	}
	return e
}

// random makes a circuit of about size elements: a tree with rings across it, outlets,
// sources, and some parts off.
func random(r *rand.Rand, size int, rings bool) *circuit {
	c := &circuit{}
	add := func(held bool, head float64) int32 {
		p := int32(len(c.points))
		z := uniform(r, -2, 12)
		c.points = append(c.points, Point{Name: fmt.Sprintf("p%d", p), Z: z, Held: held})
		if head == 0 {
			head = z
		}
		c.state.Held = append(c.state.Held, head)
		return p
	}
	join := func(e Element) {
		c.elements = append(c.elements, e)
		x := 1.0
		if r.IntN(5) == 0 {
			x = r.Float64()
		}
		if r.IntN(25) == 0 {
			x = 0
		}
		c.state.Opening = append(c.state.Opening, x)
		c.state.Off = append(c.state.Off, r.IntN(12) == 0)
	}
	add(true, uniform(r, -5, 60))
	for len(c.elements) < size {
		name := fmt.Sprintf("e%d", len(c.elements))
		from := int32(r.IntN(len(c.points)))
		switch k := r.IntN(10); {
		case k < 2:
			law := must(NewOutlet(name, decades(r, 1e-5, 1e-4), []float64{0, 1.2e-4}[r.IntN(2)]))
			join(Element{Name: name, From: from, To: add(true, 0), Law: law, OneWay: true})
		case k < 3:
			join(randomElement(r, name, add(true, uniform(r, -5, 50)), from))
		case k < 5 && rings && len(c.points) > 2:
			to := int32(r.IntN(len(c.points)))
			if to != from {
				join(randomElement(r, name, from, to))
			}
		default:
			to := add(false, 0)
			if r.IntN(2) == 0 {
				from, to = to, from
			}
			join(randomElement(r, name, from, to))
		}
	}
	return c
}

// extremes replaces pipes and valves by ones from the ends of what is accepted.
func (c *circuit) extremes(r *rand.Rand) {
	for e := range c.elements {
		switch c.elements[e].Law.(type) {
		case *Pipe:
			bore := decades(r, 1e-3, 2)
			c.elements[e].Law = must(NewPipe("pipe", PipeSpec{Bore: bore, Length: decades(r, 1e-3, 1e5),
				Roughness: bore * uniform(r, 0, 0.05), Viscosity: decades(r, 1e-7, 1e-4),
				Fittings: []Loss{{K1: decades(r, 1, 3000), Kinf: decades(r, 0.01, 50), Count: 1}}}))
		case *Valve:
			c.elements[e].Law = must(NewHandValve("valve", decades(r, 1e-9, 10)))
		}
	}
}

// Of circuits with sizes no home has, most must still be solved, and none may be given a
// wrong answer: what does not certify says so.
func TestExtremeSizes(t *testing.T) {
	solved := 0
	const seeds = 400
	for seed := range uint64(seeds) {
		r := rand.New(rand.NewPCG(seed, 6))
		c := random(r, 2+r.IntN(199), true)
		c.extremes(r)
		n := c.net()
		a := n.NewAnswer()
		err := n.Solve(&c.state, a, n.NewWork())
		ok := a.Status == Converged || a.Status == Still
		if ok != (err == nil) {
			t.Errorf("seed %d: status %d with %v", seed, a.Status, err)
		}
		if ok {
			solved++
			if cert := Certify(n, &c.state, a); !cert.OK() {
				t.Errorf("seed %d: certificate %+v", seed, cert)
			}
			continue
		}
		t.Logf("seed %d, %d elements: %v", seed, len(c.elements), err)
	}
	if solved < seeds*98/100 {
		t.Errorf("%d of %d solved", solved, seeds)
	}
}

func (c *circuit) net() *Net { return must(NewNet(c.points, c.elements)) }

// chaosSeeds is how many random circuits each property is tried on.
const chaosSeeds = 2500

func TestRandomCircuitsAreCertifiedAndUnique(t *testing.T) {
	steps, worst, fell := 0, 0, 0
	for seed := range uint64(chaosSeeds) {
		r := rand.New(rand.NewPCG(seed, 1))
		c := random(r, 2+r.IntN(119), seed%3 != 0)
		n := c.net()
		w, a := n.NewWork(), n.NewAnswer()
		if err := n.Solve(&c.state, a, w); err != nil {
			t.Errorf("seed %d (%d elements): %v", seed, len(c.elements), err)
			continue
		}
		steps += a.Iterations
		worst = max(worst, a.Iterations)
		if a.Iterations > mixedSteps {
			fell++
		}
		if cert := Certify(n, &c.state, a); !cert.OK() {
			t.Errorf("seed %d: certificate %+v", seed, cert)
		}
		sameFromElsewhere(t, seed, c, n, a, r)
		sameInAnyOrder(t, seed, c, a, r)
	}
	t.Logf("mean %.1f steps, worst %d, %d needed the heads-only form", float64(steps)/chaosSeeds, worst, fell)
}

// sameFromElsewhere solves from a spoilt start and by the heads-only form.
func sameFromElsewhere(t *testing.T, seed uint64, c *circuit, n *Net, a *Answer, r *rand.Rand) {
	t.Helper()
	w, b := n.NewWork(), n.NewAnswer()
	b.Status, w.Warm = Converged, true
	for e := range b.Flow {
		b.Flow[e] = uniform(r, -1e-3, 1e-3)
	}
	for p := range b.Head {
		b.Head[p] = uniform(r, -50, 100)
	}
	if err := n.Solve(&c.state, b, w); err != nil {
		t.Errorf("seed %d from a spoilt start: %v", seed, err)
		return
	}
	compare(t, seed, "spoilt start", a, b)
	if err := n.solveByHeads(&c.state, b, w); err != nil {
		t.Errorf("seed %d heads only: %v", seed, err)
		return
	}
	compare(t, seed, "heads only", a, b)
}

// solveByHeads is Solve with the fallback first.
func (n *Net) solveByHeads(s *State, a *Answer, w *Work) error {
	w.steps = 0
	ok := n.recover(s, a, w)
	a.Iterations = w.steps
	n.finish(s, a, w)
	return n.verdict(s, a, w, ok)
}

func sameInAnyOrder(t *testing.T, seed uint64, c *circuit, a *Answer, r *rand.Rand) {
	t.Helper()
	perm := r.Perm(len(c.elements))
	d := &circuit{points: c.points, state: State{Held: c.state.Held}}
	for _, e := range perm {
		d.elements = append(d.elements, c.elements[e])
		d.state.Opening = append(d.state.Opening, c.state.Opening[e])
		d.state.Off = append(d.state.Off, c.state.Off[e])
	}
	n := d.net()
	b := n.NewAnswer()
	if err := n.Solve(&d.state, b, n.NewWork()); err != nil {
		t.Errorf("seed %d in another order: %v", seed, err)
		return
	}
	back := n.NewAnswer()
	copy(back.Head, b.Head)
	copy(back.Low, b.Low)
	copy(back.High, b.High)
	for i, e := range perm {
		back.Flow[e] = b.Flow[i]
	}
	compare(t, seed, "another order", a, back)
}

func compare(t *testing.T, seed uint64, how string, a, b *Answer) {
	t.Helper()
	most := leastFlow
	for _, q := range a.Flow {
		most = math.Max(most, math.Abs(q))
	}
	for e := range a.Flow {
		if d := math.Abs(a.Flow[e] - b.Flow[e]); !(d <= 1e-7*most) {
			t.Errorf("seed %d, %s: flow %d = %g, was %g", seed, how, e, b.Flow[e], a.Flow[e])
			return
		}
	}
	for p := range a.Head {
		if a.Low[p] == a.High[p] && !(math.Abs(a.Head[p]-b.Head[p]) <= 1e-6) {
			t.Errorf("seed %d, %s: head %d = %g, was %g", seed, how, p, b.Head[p], a.Head[p])
			return
		}
	}
}
