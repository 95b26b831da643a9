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

// In a tree with one source, opening anything further never lowers what runs out in all.
// (With rings this is false: Braess 1968.)
func TestOpeningHelpsInTrees(t *testing.T) {
	campaign(t, "opening-in-trees", 4, *seeds, anyTree, func(c *circuit, r *rand.Rand) error {
		return nolower(c, func() string {
			e := 1 + r.IntN(len(c.elements)-1)
			c.state.Off[e], c.state.Opening[e] = false, 1
			return "opening " + c.elements[e].Name
		}, func(before, after *Answer, outlets []int) bool {
			b := total(before, outlets)
			return total(after, outlets) < b-1e-9*math.Max(b, leastFlow)
		})
	})
}

// A stronger pump or a higher main never lowers any outlet of a tree.
func TestPumpingHelpsInTrees(t *testing.T) {
	campaign(t, "stronger-in-trees", 5, *seeds, anyTree, func(c *circuit, r *rand.Rand) error {
		return nolower(c, func() string {
			if r.IntN(2) == 0 {
				c.state.Held[0] += uniform(r, 0, 10)
				return "a higher main"
			}
			p := c.elements[0].Law.(*Pump)
			k := uniform(r, 1, 1.5)
			c.elements[0].Law = must(NewPumpCurve("pump", p.A*k, p.B, p.C, 0))
			return "a stronger pump"
		}, func(before, after *Answer, outlets []int) bool {
			for _, o := range outlets {
				if after.Flow[o] < before.Flow[o]-1e-9*math.Max(before.Flow[o], leastFlow) {
					return true
				}
			}
			return false
		})
	})
}

func anyTree(r *rand.Rand) *circuit {
	c, _ := tree(r, 1+anySize(r))
	return c
}

// nolower solves before and after a change and objects when it lowered what it must not.
func nolower(c *circuit, change func() string, lowered func(before, after *Answer, outlets []int) bool) error {
	n := c.net()
	w, before, after := n.NewWork(), n.NewAnswer(), n.NewAnswer()
	w.Quick = true
	if err := n.Solve(&c.state, before, w); err != nil {
		return err
	}
	what := change()
	if n.elements[0].Law != c.elements[0].Law {
		n = c.net()
		w = n.NewWork()
	}
	if err := n.Solve(&c.state, after, w); err != nil {
		return fmt.Errorf("%s: %w", what, err)
	}
	var outlets []int
	for e := range c.elements {
		if _, is := c.elements[e].Law.(*Outlet); is {
			outlets = append(outlets, e)
		}
	}
	if lowered(before, after, outlets) {
		return fmt.Errorf("%s lowers an outflow", what)
	}
	return nil
}

// Where every loss is a pure square, four times the heads make twice the flows.
func TestSquareLawScales(t *testing.T) {
	campaign(t, "scaling", 6, *seeds, func(r *rand.Rand) *circuit {
		c := random(r, anySize(r), true)
		for e := range c.elements {
			c.elements[e].Law = must(NewMainLoss("square", 0, decades(r, 1e6, 1e9)))
			c.elements[e].Opens = 0
		}
		return c
	}, func(c *circuit, _ *rand.Rand) error {
		return scales(c, func() bool {
			for p := range c.state.Held {
				c.state.Held[p] *= 4
			}
			return false
		}, func(q float64, _ int) float64 { return 2 * q }, 2e-3) // what loses below 0.1 mm is rounded off
	})
}

// Where the datum lies must not matter: everything 2000 m higher gives the same flows.
func TestDatumDoesNotMatter(t *testing.T) {
	campaign(t, "datum", 9, *seeds/4, anyCircuit, func(c *circuit, _ *rand.Rand) error {
		return scales(c, func() bool {
			for p := range c.points {
				c.points[p].Z += 2000
				c.state.Held[p] += 2000
			}
			return true
		}, func(q float64, _ int) float64 { return q }, 1e-7)
	})
}

// A part turned round, with its law odd, carries the same flow the other way.
func TestDirectionDoesNotMatter(t *testing.T) {
	campaign(t, "direction", 10, *seeds/4, anyCircuit, func(c *circuit, r *rand.Rand) error {
		turned := make([]bool, len(c.elements))
		return scales(c, func() bool {
			for e := range c.elements {
				el := &c.elements[e]
				if _, pump := el.Law.(*Pump); !el.OneWay && !pump && r.IntN(2) == 0 {
					el.From, el.To, turned[e] = el.To, el.From, true
				}
			}
			return true
		}, func(q float64, e int) float64 {
			if turned[e] {
				return -q
			}
			return q
		}, 1e-7)
	})
}

// scales solves before and after a change and holds every flow against what it must then be.
func scales(c *circuit, change func() (rebuild bool), must func(q float64, e int) float64, tol float64) error {
	n := c.net()
	w, a, b := n.NewWork(), n.NewAnswer(), n.NewAnswer()
	w.Quick = true
	if err := n.Solve(&c.state, a, w); err != nil {
		return err
	}
	if change() {
		n = c.net()
		w = n.NewWork()
	}
	if err := n.Solve(&c.state, b, w); err != nil {
		return fmt.Errorf("changed: %w", err)
	}
	most := 1e-4
	for _, q := range a.Flow {
		most = math.Max(most, math.Abs(q))
	}
	for e, q := range a.Flow {
		if d := math.Abs(b.Flow[e] - must(q, e)); !(d <= tol*most) {
			return fmt.Errorf("%s flows %g, then %g", c.elements[e].Name, q, b.Flow[e])
		}
	}
	return nil
}
