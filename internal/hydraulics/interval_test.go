package hydraulics

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// standsFrom works out, from the circuit, the state and the flows alone, between which
// heads each point can stand. It shares nothing with the solver: where an element carries
// water, or nothing holds it shut, its law joins its two ends; a one-way part at rest only
// keeps its outlet no lower than what presses on it. Longest and shortest ways from the
// held heads (Bellman 1958, Q. Appl. Math. 16:87) give lowest and highest.
func standsFrom(n *Net, s *State, flow []float64) (low, high []float64) {
	low, high = make([]float64, len(n.points)), make([]float64, len(n.points))
	for p := range n.points {
		low[p], high[p] = math.Inf(-1), math.Inf(1)
		if n.points[p].Held {
			low[p], high[p] = s.Held[p], s.Held[p]
		}
	}
	for changed, round := true, 0; changed && round <= len(n.points); round++ {
		changed = false
		lift := func(p int32, v float64) {
			if !n.points[p].Held && v > low[p]+1e-12 {
				low[p], changed = v, true
			}
		}
		lower := func(p int32, v float64) {
			if !n.points[p].Held && v < high[p]-1e-12 {
				high[p], changed = v, true
			}
		}
		for e := range n.elements {
			el, x, q := &n.elements[e], s.Opening[e], flow[e]
			c, closes := el.Law.(Closer)
			if s.Off[e] || closes && c.Closes(x) {
				continue
			}
			pump, is := el.Law.(*Pump)
			oneWay := el.OneWay || is && pump != nil && x > 0
			if oneWay && q <= floorFlow {
				h := plainDrop(el.Law, 0, x) + el.Opens
				lift(el.To, low[el.From]-h)
				lower(el.From, high[el.To]+h)
				continue
			}
			h := plainDrop(el.Law, q, x) + el.Opens
			lift(el.To, low[el.From]-h)
			lift(el.From, low[el.To]+h)
			lower(el.To, high[el.From]-h)
			lower(el.From, high[el.To]+h)
		}
	}
	return low, high
}

// intervals compares an answer just solved with standsFrom.
func intervals(n *Net, s *State, a *Answer) error {
	low, high := standsFrom(n, s, a.Flow)
	scale := 1.0
	for p := range n.points {
		if n.points[p].Held {
			scale = math.Max(scale, math.Abs(s.Held[p]))
		}
	}
	same := func(got, want float64) bool { return got == want || math.Abs(got-want) <= 1e-7*scale }
	for p := range n.points {
		if math.IsInf(low[p], -1) && math.IsInf(high[p], 1) && math.IsInf(a.Low[p], -1) && math.IsInf(a.High[p], 1) {
			continue
		}
		if !same(a.Low[p], low[p]) || !same(a.High[p], high[p]) {
			return fmt.Errorf("%s stands %.10g to %.10g, by the flows alone %.10g to %.10g", named("point", p, n.points[p].Name), a.Low[p], a.High[p], low[p], high[p])
		}
	}
	return nil
}

// grouped draws a circuit of groups: rings of pipes and trees, each joined to sources, to
// other groups and to taps by one-way parts, by pumps with checks side by side and by
// pipes, with heads that often balance.
func grouped(r *rand.Rand) *circuit {
	c := &circuit{}
	add := func(held bool, head float64) int32 {
		c.points = append(c.points, Point{Name: fmt.Sprintf("p%d", len(c.points)), Z: uniform(r, 0, 3), Held: held})
		c.state.Held = append(c.state.Held, head)
		return int32(len(c.points) - 1)
	}
	join := func(e Element, x float64) {
		c.elements = append(c.elements, e)
		c.state.Opening, c.state.Off = append(c.state.Opening, x), append(c.state.Off, false)
	}
	name := func() string { return fmt.Sprintf("e%d", len(c.elements)) }
	pipe := func(from, to int32) { join(Element{Name: name(), From: from, To: to, Law: randomPipe(r)}, 1) }
	check := func(from, to int32) { join(must(NewNonReturn(name(), from, to, 1e-3, 0.2)), 1) }
	var sources, inner []int32
	for range 1 + r.IntN(3) {
		sources = append(sources, add(true, []float64{20, 20, 25, 5}[r.IntN(4)]))
	}
	for range 1 + r.IntN(4) {
		var ring []int32
		for range 1 + r.IntN(4) {
			ring = append(ring, add(false, 0))
		}
		for i := range ring {
			if i > 0 {
				pipe(ring[i-1], ring[i])
			}
		}
		if len(ring) > 2 && r.IntN(4) > 0 {
			pipe(ring[len(ring)-1], ring[0])
		}
		pick := func() int32 { return ring[r.IntN(len(ring))] }
		for range 1 + r.IntN(3) {
			from := sources[r.IntN(len(sources))]
			if len(inner) > 0 && r.IntN(3) == 0 {
				from = inner[r.IntN(len(inner))]
			}
			switch r.IntN(6) {
			case 0:
				pipe(from, pick())
			case 1, 2: // pumps side by side, each behind its check
				law := must(NewPumpCurve("pump", 20, 0, 2e7, 0))
				speed := []float64{1, 0.7}[r.IntN(2)]
				to := pick()
				for range 1 + r.IntN(2) {
					mid := add(false, 0)
					join(Element{Name: name(), From: from, To: mid, Law: law}, speed)
					check(mid, to)
				}
			case 3: // out of the group
				check(pick(), from)
			default:
				check(from, pick())
			}
		}
		inner = append(inner, ring...)
	}
	for range r.IntN(3) {
		from := inner[r.IntN(len(inner))]
		mouth := add(true, 2)
		join(Element{Name: name(), From: from, To: mouth, OneWay: true, Law: must(NewOutlet("tap", 3e-5, 0))}, 1)
	}
	return c
}

// TestIntervalsByTheFlowsAlone: on random circuits with rings, pumps side by side and
// checks in balance, the interval of every point is what the flows alone allow.
func TestIntervalsByTheFlowsAlone(t *testing.T) {
	campaign(t, "intervals", 23, *seeds/2, grouped, func(c *circuit, _ *rand.Rand) error {
		n := c.net()
		a, w := n.NewAnswer(), n.NewWork()
		if err := n.Solve(&c.state, a, w); err != nil {
			return err
		}
		return intervals(n, &c.state, a)
	})
}

// TestIntervalsOfAnyCircuit holds the same on the circuits of all the other campaigns.
func TestIntervalsOfAnyCircuit(t *testing.T) {
	campaign(t, "any-intervals", 29, *seeds/2, anyCircuit, func(c *circuit, _ *rand.Rand) error {
		n := c.net()
		a, w := n.NewAnswer(), n.NewWork()
		if err := n.Solve(&c.state, a, w); err != nil {
			return err
		}
		return intervals(n, &c.state, a)
	})
}
