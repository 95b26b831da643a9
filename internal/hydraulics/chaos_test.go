package hydraulics

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// anySize is 2 to 200 elements; three in four circuits are no larger than 30, where a
// fault shows as well and costs less.
func anySize(r *rand.Rand) int {
	if r.IntN(4) == 0 {
		return int(decades(r, 2, 201))
	}
	return 2 + r.IntN(29)
}

// anyCircuit is one of any size, two in three with rings; one in ten has pipes and valves
// of sizes no home has.
func anyCircuit(r *rand.Rand) *circuit {
	c := random(r, anySize(r), r.IntN(3) > 0)
	if r.IntN(10) == 0 {
		c.extremes(r)
	}
	return c
}

func TestRandomCircuitsAreCertifiedAndUnique(t *testing.T) {
	campaign(t, "certified", 1, *seeds, anyCircuit, certifiedAndUnique)
}

// certifiedAndUnique: solved, certified, and the same from a flat start, from a spoilt
// one, by the form in heads alone, and with the elements in another order.
func certifiedAndUnique(c *circuit, r *rand.Rand) error {
	n := c.net()
	w, a, b := n.NewWork(), n.NewAnswer(), n.NewAnswer()
	if err := n.Solve(&c.state, a, w); err != nil {
		return err
	}
	if cert := Certify(n, &c.state, a); !cert.OK() {
		return fmt.Errorf("certificate %+v", cert)
	}
	b.Status, w.Warm = Converged, true
	for e := range b.Flow {
		b.Flow[e] = uniform(r, -1e-3, 1e-3)
	}
	for p := range b.Head {
		b.Head[p] = uniform(r, -50, 100)
	}
	if err := c.agrees(a, b, n.Solve(&c.state, b, w)); err != nil {
		return fmt.Errorf("from a spoilt start: %w", err)
	}
	if err := c.agrees(a, b, n.solveByHeads(&c.state, b, w)); err != nil {
		return fmt.Errorf("by heads alone: %w", err)
	}
	if err := sameInAnyOrder(c, a, r); err != nil {
		return fmt.Errorf("in another order: %w", err)
	}
	return nil
}

// agrees holds another way's answer b against a. Among sizes no home has, a part may
// resist by 1e13 s/m², and balances of flow good to 1e-14 m³/s do not determine the heads
// beside it; or so little that balances of head good to 1e-9 do not determine its flow.
// There each flow must be the same, or make the same head, as far as a certificate sees.
func (c *circuit) agrees(a, b *Answer, err error) error {
	switch {
	case err != nil:
		return err
	case !c.extreme:
		return same(a, b)
	}
	most, head := largest(a)
	for e := range a.Flow {
		p, q, x := a.Flow[e], b.Flow[e], c.state.Opening[e]
		if math.Abs(p-q) <= 1e-7*most {
			continue
		}
		h, _ := c.elements[e].Law.Drop(p, x)
		g, _ := c.elements[e].Law.Drop(q, x)
		if !(math.Abs(h-g) <= 2e-9*head) {
			return fmt.Errorf("flow %d = %g, was %g", e, q, p)
		}
	}
	return nil
}

// largest is the largest flow (1e-5 m³/s at least) and head (1 m at least) of an answer.
func largest(a *Answer) (flow, head float64) {
	flow, head = leastFlow, 1
	for _, q := range a.Flow {
		flow = math.Max(flow, math.Abs(q))
	}
	for _, h := range a.Head {
		head = math.Max(head, math.Abs(h))
	}
	return flow, head
}

// solveByHeads is Solve with the fallback first.
func (n *Net) solveByHeads(s *State, a *Answer, w *Work) error {
	w.steps = 0
	n.judged(s, a, w, n.recover(s, a, w))
	return n.verdict(a, w)
}

func sameInAnyOrder(c *circuit, a *Answer, r *rand.Rand) error {
	perm := r.Perm(len(c.elements))
	d := &circuit{points: c.points, state: State{Held: c.state.Held}}
	for _, e := range perm {
		d.elements = append(d.elements, c.elements[e])
		d.state.Opening = append(d.state.Opening, c.state.Opening[e])
		d.state.Off = append(d.state.Off, c.state.Off[e])
	}
	n := d.net()
	b := n.NewAnswer()
	err := n.Solve(&d.state, b, n.NewWork())
	back := n.NewAnswer()
	copy(back.Head, b.Head)
	copy(back.Low, b.Low)
	copy(back.High, b.High)
	for i, e := range perm {
		back.Flow[e] = b.Flow[i]
	}
	return c.agrees(a, back, err)
}

// same holds two answers of one circuit against each other: flows to 1e-7 of the largest,
// determined heads to 1e-6 m or what the certificate's own 1e-9 leaves open.
func same(a, b *Answer) error {
	most, head := largest(a)
	for e := range a.Flow {
		if d := math.Abs(a.Flow[e] - b.Flow[e]); !(d <= 1e-7*most) {
			return fmt.Errorf("flow %d = %g, was %g", e, b.Flow[e], a.Flow[e])
		}
	}
	for p := range a.Head {
		if a.Low[p] == a.High[p] && !(math.Abs(a.Head[p]-b.Head[p]) <= 1e-6*math.Max(1, head/100)) {
			return fmt.Errorf("head %d = %g, was %g", p, b.Head[p], a.Head[p])
		}
	}
	return nil
}

// The content Σ∫h dq − Σ held head × flow is what a steady state makes least. Opening a
// part lowers every law it has, so the least can only fall, whatever the flows do.
func TestContentNeverRisesWhenAPartOpens(t *testing.T) {
	campaign(t, "content", 3, *seeds, func(r *rand.Rand) *circuit { return random(r, anySize(r), true) },
		func(c *circuit, r *rand.Rand) error {
			n := c.net()
			w, a := n.NewWork(), n.NewAnswer()
			w.Quick = true
			if err := n.Solve(&c.state, a, w); err != nil {
				return err
			}
			before, size := content(n, &c.state, a)
			e := r.IntN(len(c.elements))
			if p, is := c.elements[e].Law.(*Pump); is && p.passage != nil {
				return nil // standing it lets water back, running it does not: neither law is the lower
			}
			c.state.Off[e] = false
			c.state.Opening[e] += (1 - c.state.Opening[e]) * r.Float64()
			if err := n.Solve(&c.state, a, w); err != nil {
				return err
			}
			after, more := content(n, &c.state, a)
			if after > before+1e-6*(size+more)+1e-12 {
				return fmt.Errorf("opening %s raises the content from %g to %g m⁴/s", c.elements[e].Name, before, after)
			}
			return nil
		})
}

// content is the content of an answer [m⁴/s] and the sum of its terms' sizes. A law is
// integrated by Gauss-Legendre's eight points over stretches that double, which follow
// every corner the laws here have.
func content(n *Net, s *State, a *Answer) (sum, size float64) {
	add := func(v float64) { sum += v; size += math.Abs(v) }
	for e, q := range a.Flow {
		if q == 0 {
			continue
		}
		el := &n.elements[e]
		if n.points[el.From].Held {
			add(-s.Held[el.From] * q)
		}
		if n.points[el.To].Held {
			add(s.Held[el.To] * q)
		}
		whole := 0.0
		friction := 0.0
		law := func(q float64) float64 { h, _ := n.ways[e].atFrom(q, s.Opening[e], &friction); return h }
		for lo, hi := 0.0, q/4; ; lo, hi = hi, 2*hi {
			whole += gauss8(law, lo, hi)
			if hi == q {
				break
			}
		}
		add(whole)
	}
	return sum, size
}

// gauss8 integrates f from lo to hi. Source: Abramowitz & Stegun 1964, table 25.4.
func gauss8(f func(float64) float64, lo, hi float64) float64 {
	x := [4]float64{0.183434642495650, 0.525532409916329, 0.796666477413627, 0.960289856497536}
	c := [4]float64{0.362683783378362, 0.313706645877887, 0.222381034453374, 0.101228536290376}
	mid, half := (lo+hi)/2, (hi-lo)/2
	sum := 0.0
	for i := range x {
		sum += c[i] * (f(mid-half*x[i]) + f(mid+half*x[i]))
	}
	return half * sum
}

// Whatever was solved before with the same buffers, a cold answer is the same to the last
// bit; started from another answer it is the same to 1e-12 of its largest figures.
func TestAnswersOweNothingToEarlierOnes(t *testing.T) {
	campaign(t, "history", 8, *seeds/4, anyCircuit, func(c *circuit, r *rand.Rand) error {
		n := c.net()
		first, w := n.NewAnswer(), n.NewWork()
		if err := n.Solve(&c.state, first, n.NewWork()); err != nil {
			return err
		}
		other := State{Held: append([]float64(nil), c.state.Held...), Opening: append([]float64(nil), c.state.Opening...), Off: append([]bool(nil), c.state.Off...)}
		e := r.IntN(len(c.elements))
		other.Off[e] = !other.Off[e]
		other.Held[0] += uniform(r, -5, 5)
		a := n.NewAnswer()
		if err := n.Solve(&other, a, w); err != nil {
			return err
		}
		warm, stays := copied(a), copied(a)
		if err := n.Solve(&c.state, a, w); err != nil {
			return err
		}
		if err := bits(first, a); err != nil {
			return err
		}
		w.Warm = true
		if err := n.Solve(&c.state, warm, w); err != nil {
			return err
		}
		if err := c.agrees(first, warm, nil); err != nil {
			return err
		}
		w.Stays = true
		if err := n.Solve(&c.state, stays, w); err != nil {
			return err
		}
		return c.agrees(first, stays, nil)
	})
}

func copied(a *Answer) *Answer {
	b := *a
	for _, f := range []*[]float64{&b.Flow, &b.Head, &b.Low, &b.High} {
		*f = append([]float64(nil), *f...)
	}
	return &b
}

// bits holds two answers against each other to the last bit.
func bits(a, b *Answer) error {
	for k, f := range [][2][]float64{{a.Flow, b.Flow}, {a.Head, b.Head}, {a.Low, b.Low}, {a.High, b.High}} {
		for i := range f[0] {
			if f[0][i] != f[1][i] {
				return fmt.Errorf("list %d, place %d: %v, was %v", k, i, f[1][i], f[0][i])
			}
		}
	}
	if a.Status != b.Status || a.Iterations != b.Iterations || a.Cert != b.Cert {
		return fmt.Errorf("status, steps or certificate differ: %v %d, %v %d", a.Status, a.Iterations, b.Status, b.Iterations)
	}
	return nil
}

// In a home the answers of a chain of cases are those of cold solves to 1e-11 of the
// largest flow: what the solver's tolerance leaves. So they are where each begins with what was
// shut left out, by the solver's own word.
func TestChainedAnswersOfAHome(t *testing.T) {
	n, p := newHome()
	cold, warm, stays := n.NewWork(), n.NewWork(), n.NewWork()
	warm.Warm = true
	stays.Warm, stays.Stays, stays.Quick = true, true, true
	a, b, c := n.NewAnswer(), n.NewAnswer(), n.NewAnswer()
	for i, s := range p.chain(n, 1000) {
		if err := n.Solve(s, a, cold); err != nil {
			t.Fatal(err)
		}
		if err := n.Solve(s, b, warm); err != nil {
			t.Fatal(err)
		}
		if err := n.Solve(s, c, stays); err != nil {
			t.Fatal(err)
		}
		most := leastFlow
		for _, q := range a.Flow {
			most = math.Max(most, math.Abs(q))
		}
		for e := range a.Flow {
			if d := math.Abs(a.Flow[e] - b.Flow[e]); d > 1e-11*most {
				t.Errorf("case %d: %s flows %v, chained %v", i, n.elements[e].Name, a.Flow[e], b.Flow[e])
			}
			if d := math.Abs(a.Flow[e] - c.Flow[e]); d > 1e-11*most {
				t.Errorf("case %d: %s flows %v, what was shut left out %v", i, n.elements[e].Name, a.Flow[e], c.Flow[e])
			}
		}
	}
}
