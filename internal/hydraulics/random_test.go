package hydraulics

import (
	"fmt"
	"math"
	"math/rand/v2"
)

// circuit is a random circuit with a state.
type circuit struct {
	points   []Point
	elements []Element
	state    State
	extreme  bool // of sizes no home has
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
	c.extreme = true
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

func (c *circuit) net() *Net { return must(NewNet(c.points, c.elements)) }
