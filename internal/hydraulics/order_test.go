package hydraulics

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// tree is a random tree of parts without pumps, fed from one main through one pump.
func tree(r *rand.Rand, size int) (c *circuit, outlets []int) {
	c = &circuit{points: []Point{{Name: "main", Held: true}, {Name: "delivery"}}}
	h := uniform(r, 15, 60)
	c.elements = []Element{{Name: "pump", From: 0, To: 1, Law: must(NewPumpCurve("pump", h, h*uniform(r, 0, 200), h*decades(r, 1e5, 1e6), 0))}}
	for len(c.elements) < size {
		name := fmt.Sprintf("e%d", len(c.elements))
		from := int32(1 + r.IntN(len(c.points)-1))
		if c.points[from].Held {
			continue
		}
		z := uniform(r, 0, 8)
		to := int32(len(c.points))
		if r.IntN(3) == 0 {
			c.points = append(c.points, Point{Name: name, Z: z, Held: true})
			outlets = append(outlets, len(c.elements))
			c.elements = append(c.elements, Element{Name: name, From: from, To: to, OneWay: true, Law: must(NewOutlet(name, decades(r, 1e-5, 1e-4), 0))})
			continue
		}
		c.points = append(c.points, Point{Name: name, Z: z})
		e := Element{Name: name, From: from, To: to, Law: randomPipe(r)}
		switch r.IntN(4) {
		case 0:
			e.Law = must(NewHandValve(name, decades(r, 1e-4, 3e-3)))
		case 1:
			e = must(NewNonReturn(name, from, to, decades(r, 1e-4, 3e-3), uniform(r, 0, 0.5)))
		}
		c.elements = append(c.elements, e)
	}
	c.state.Held = make([]float64, len(c.points))
	for p := range c.points {
		c.state.Held[p] = c.points[p].Z
	}
	c.state.Held[0] = uniform(r, -2, 20)
	for range c.elements {
		c.state.Off = append(c.state.Off, r.IntN(8) == 0)
		c.state.Opening = append(c.state.Opening, uniform(r, 0.2, 1))
	}
	c.state.Off[0] = false
	return c, outlets
}

func total(a *Answer, outlets []int) float64 {
	sum := 0.0
	for _, e := range outlets {
		sum += a.Flow[e]
	}
	return sum
}

// In a tree with one source, opening anything further never lowers what runs out in
// all, and a stronger pump or a higher main never lowers any outlet. (With rings the
// first is false: Braess 1968.)
func TestOpeningAndPumpingHelpInTrees(t *testing.T) {
	for seed := range uint64(400) {
		r := rand.New(rand.NewPCG(seed, 4))
		c, outlets := tree(r, 3+r.IntN(60))
		n := c.net()
		w, before, after := n.NewWork(), n.NewAnswer(), n.NewAnswer()
		solve := func(a *Answer) {
			if err := n.Solve(&c.state, a, w); err != nil {
				t.Fatalf("seed %d: %v", seed, err)
			}
		}
		solve(before)
		e := 1 + r.IntN(len(c.elements)-1)
		off, x := c.state.Off[e], c.state.Opening[e]
		c.state.Off[e], c.state.Opening[e] = false, 1
		solve(after)
		if b, a := total(before, outlets), total(after, outlets); a < b-1e-9*math.Max(b, leastFlow) {
			t.Errorf("seed %d: opening %s lowers the outflow from %g to %g", seed, c.elements[e].Name, b, a)
		}
		c.state.Off[e], c.state.Opening[e] = off, x
		if r.IntN(2) == 0 {
			c.state.Held[0] += uniform(r, 0, 10)
		} else {
			c.state.Opening[0] += (1 - c.state.Opening[0]) * r.Float64()
		}
		solve(after)
		for _, o := range outlets {
			if after.Flow[o] < before.Flow[o]-1e-9*math.Max(before.Flow[o], leastFlow) {
				t.Errorf("seed %d: a stronger source lowers %s from %g to %g", seed, c.elements[o].Name, before.Flow[o], after.Flow[o])
			}
		}
	}
}

// Where every loss is a pure square, four times the heads make twice the flows.
func TestSquareLawScales(t *testing.T) {
	for seed := range uint64(50) {
		r := rand.New(rand.NewPCG(seed, 5))
		c := random(r, 20+r.IntN(40), true)
		for e := range c.elements {
			c.elements[e].Law = must(NewMainLoss("square", 0, decades(r, 1e6, 1e9)))
			c.elements[e].Opens = 0
		}
		n := c.net()
		a, b, w := n.NewAnswer(), n.NewAnswer(), n.NewWork()
		if err := n.Solve(&c.state, a, w); err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		for p := range c.state.Held {
			c.state.Held[p] *= 4
		}
		if err := n.Solve(&c.state, b, w); err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		most := 0.0
		for _, q := range a.Flow {
			most = math.Max(most, math.Abs(q))
		}
		for e := range a.Flow {
			// Parts that lose less than 0.1 mm are rounded off and do not scale.
			if d := math.Abs(b.Flow[e] - 2*a.Flow[e]); d > 2e-3*most {
				t.Errorf("seed %d: %s flows %g, four times the head gives %g", seed, c.elements[e].Name, a.Flow[e], b.Flow[e])
			}
		}
	}
}

// Where the datum lies must not matter: everything 2000 m higher gives the same flows.
func TestDatumDoesNotMatter(t *testing.T) {
	for seed := range uint64(200) {
		r := rand.New(rand.NewPCG(seed, 9))
		c := random(r, 2+r.IntN(60), true)
		n := c.net()
		a, b := n.NewAnswer(), n.NewAnswer()
		if err := n.Solve(&c.state, a, n.NewWork()); err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		const up = 2000
		for p := range c.points {
			c.points[p].Z += up
			c.state.Held[p] += up
		}
		n = c.net()
		if err := n.Solve(&c.state, b, n.NewWork()); err != nil {
			t.Errorf("seed %d: %v", seed, err)
			continue
		}
		for p := range b.Head {
			b.Head[p] -= up
		}
		compare(t, seed, "higher datum", a, b)
	}
}

// A part turned round, with its law odd, carries the same flow the other way.
func TestDirectionDoesNotMatter(t *testing.T) {
	for seed := range uint64(200) {
		r := rand.New(rand.NewPCG(seed, 10))
		c := random(r, 2+r.IntN(60), true)
		n := c.net()
		a, b := n.NewAnswer(), n.NewAnswer()
		if err := n.Solve(&c.state, a, n.NewWork()); err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		turned := make([]bool, len(c.elements))
		for e := range c.elements {
			el := &c.elements[e]
			if _, pump := el.Law.(*Pump); !el.OneWay && !pump && r.IntN(2) == 0 {
				el.From, el.To, turned[e] = el.To, el.From, true
			}
		}
		n = c.net()
		if err := n.Solve(&c.state, b, n.NewWork()); err != nil {
			t.Errorf("seed %d: %v", seed, err)
			continue
		}
		for e := range b.Flow {
			if turned[e] {
				b.Flow[e] = -b.Flow[e]
			}
		}
		compare(t, seed, "turned round", a, b)
	}
}
