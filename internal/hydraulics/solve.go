package hydraulics

import (
	"fmt"
	"math"
	"slices"
)

// How a solve works: unknowns are a flow per element and a head per free point. Newton
// on both (Todini & Pilati 1988) needs one evaluation of each law a step and meets every
// balance of flow to rounding; one-way parts are one strictly increasing law, very stiff
// backwards, never a switch. Elements off every ring are taken out first, exactly. When
// it has converged, one-way parts with water standing against them are taken out too,
// what that leaves off every ring goes with them, and a last step makes the balances
// exact. Where Newton is lost, the damped form in heads alone (cocontent.go), which
// converges from anywhere because it minimises a convex function, brings it back.

// The tolerances of the solver itself, well inside the certificate's 1e-9.
const (
	energyTol  = 2e-12 // of max(1 m, greatest head difference)
	nearTol    = 1e-3  // the same, where it is clear which one-way parts shut
	shutTol    = 1e-4  // head, relative, against a part from which it is taken out as shut
	massTol    = 1e-11 // of max(1e-5 m³/s, greatest flow)
	floorFlow  = 1e-13 // m³/s: below it nothing flows
	leastFlow  = 1e-5  // m³/s: what flows are measured against at least
	mixedSteps = 40
	seedAfter  = 8
)

// Work is one goroutine's buffers for a Net. A solve without Warm owes nothing to earlier
// ones, to the last bit. With Warm it starts from the answer passed in and from the
// friction factors remembered, and its last bits may depend on both: in a home by less
// than 1e-11 of the largest flow, anywhere by less than a certificate sees (both tested).
type Work struct {
	// Warm starts the next solves from the answer passed in, when it holds a converged
	// answer of this Net, instead of from nothing.
	Warm bool

	// Quick fills the certificate with the laws the solver used instead of the
	// independent ones of Certify: a little faster, where very many cases are searched and
	// the ones that matter are certified afterwards.
	Quick bool

	gone, live   []bool  // shut or off; able to carry water
	edges        []edge  // the live elements
	places       []int32 // the free points they touch, in elimination order
	touched      []bool
	h            []float64 // per element: head it takes at w.flow
	friction     []float64 // a pipe's last 1/√f
	matrix       *matrix
	pruner       *pruner
	head         []float64 // trial heads
	step         []float64 // Newton direction per point
	change       []float64 // per place: how heads change with the setting of a part that regulates
	tilt         float64   // the same of the head the part itself takes
	flow         []float64 // trial flows; the flows w.h was worked out at
	first, after rings     // of the circuit as a case leaves it, and of what has not shut
	stand        stand

	scale    float64 // the largest head the last step met, at least 1 m
	trimmed  bool    // what surely shuts has been taken out
	rounding float64 // what heads of the size held cannot tell apart [m]
	seeded   bool    // the next step starts elements at rest from their typical flow
	rough    bool    // some pipe's friction is not settled at its flow yet
	steps    int
}

// NewWork returns buffers for solving n.
func (n *Net) NewWork() *Work {
	e, p := len(n.elements), len(n.points)
	return &Work{
		gone: make([]bool, e), live: make([]bool, e),
		edges: make([]edge, 0, e), places: make([]int32, 0, p), touched: make([]bool, len(n.at)),
		first: newRings(e), after: newRings(e),
		h: make([]float64, e), friction: make([]float64, e),
		flow: make([]float64, e), head: make([]float64, p), step: make([]float64, p),
		change: make([]float64, len(n.at)),
		matrix: newMatrix(&n.plan), pruner: newPruner(n), stand: newStand(n),
	}
}

// Solve finds the steady state of s and puts it into a, whose buffers are reused. It
// allocates nothing. A state that does not fit the circuit is refused, and an answer
// that did not converge says OutOfSteps and comes with an error naming the worst point
// or part; it must not be used.
func (n *Net) Solve(s *State, a *Answer, w *Work) error {
	if err := n.checkState(s); err != nil {
		a.Status = NotSolved
		return err
	}
	warm := w.Warm && (a.Status == Converged || a.Status == Still) && len(a.Flow) == len(n.elements)
	n.fit(a)
	for e := range n.ways {
		w.gone[e] = s.Off[e] || n.ways[e].closed(s.Opening[e])
	}
	n.prune(s, w)
	w.steps = 0
	n.begin(s, a, w, warm)
	ok := n.settle(a, w)
	if !ok {
		ok = n.recover(s, a, w)
	}
	a.Iterations = w.steps
	n.finish(s, a, w)
	return n.verdict(s, a, w, ok)
}

// settle runs Newton, takes out the one-way parts that shut, and runs what is left.
func (n *Net) settle(a *Answer, w *Work) bool {
	return n.newton(a, w, mixedSteps) && (!n.shut(a, w, shutTol) || n.newton(a, w, 8))
}

// recover solves in heads alone, from nothing, and lets Newton in both finish on the
// circuit as the heads leave it: with the one-way parts that stand against their flow out.
func (n *Net) recover(s *State, a *Answer, w *Work) bool {
	for e := range n.ways {
		w.gone[e] = !n.passes(s, int32(e))
	}
	n.prune(s, w)
	n.begin(s, a, w, false)
	w.seeded = false
	n.descend(a, w) // where it stalls, it stalls at the bottom: Newton says whether it did
	n.shut(a, w, shutTol)
	return n.settle(a, w)
}

// prune finds which elements can carry water, unless nothing changed since last time, and
// lists them.
func (n *Net) prune(s *State, w *Work) {
	n.ring(w, &w.first)
	w.edges = w.edges[:0]
	for e, live := range w.live {
		if live {
			w.edges = append(w.edges, n.edge(s, int32(e)))
		}
	}
	n.touch(w)
}

// rings is which elements were found live when some were gone.
type rings struct {
	gone, live []bool
	known      bool
}

func newRings(elements int) rings {
	return rings{gone: make([]bool, elements), live: make([]bool, elements)}
}

// ring finds the live elements, unless those gone are as they were the last time.
func (n *Net) ring(w *Work, last *rings) {
	if last.known && slices.Equal(w.gone, last.gone) {
		copy(w.live, last.live)
		return
	}
	w.pruner.live(n, w.gone, w.live)
	copy(last.gone, w.gone)
	copy(last.live, w.live)
	last.known = true
}

func (n *Net) edge(s *State, e int32) edge {
	el, l := &n.elements[e], &n.ways[e]
	g := edge{l: l, x: s.Opening[e], e: e, from: el.From, to: el.To,
		i: n.row[el.From], j: n.row[el.To], slot: n.plan.slot[e]}
	if l.kind == square {
		g.square = squareAt(el.Law, g.x)
	}
	return g
}

// touch lists the places that live elements touch, in elimination order.
func (n *Net) touch(w *Work) {
	clear(w.touched)
	for k := range w.edges {
		if g := &w.edges[k]; g.i >= 0 {
			w.touched[g.i] = true
		}
		if g := &w.edges[k]; g.j >= 0 {
			w.touched[g.j] = true
		}
	}
	w.places = w.places[:0]
	for k, yes := range w.touched {
		if yes {
			w.places = append(w.places, int32(k))
		}
	}
}

// begin sets the heads and flows a solve starts from.
func (n *Net) begin(s *State, a *Answer, w *Work, warm bool) {
	w.seeded, w.trimmed = true, false
	var sum, count, most float64
	for i, p := range n.points {
		if p.Held {
			a.Head[i] = s.Held[i]
			sum += s.Held[i]
			most = math.Max(most, math.Abs(s.Held[i]))
			count++
		}
	}
	w.rounding = 1e-14 * most
	if !warm { // nothing of earlier solves may be left, not even a last bit
		clear(a.Flow)
		copy(w.friction, n.smooth)
		for i, p := range n.points {
			if !p.Held {
				a.Head[i] = sum / count
			}
		}
		return
	}
	for e := range a.Flow {
		l := &n.ways[e]
		switch {
		case !w.live[e]:
			a.Flow[e] = 0
		case a.Flow[e] == 0 && l.stiff(s.Opening[e]):
			// Shut so far: where it still is, start it on its stiff side.
			h0, _ := l.at(0, s.Opening[e])
			el := &n.elements[e]
			if d := a.Head[el.From] - a.Head[el.To] - h0; d <= 0 {
				a.Flow[e] = math.Min(d, -0.01) / Reverse
			}
		}
	}
}

// shut takes out the one-way parts with water standing against them by more than margin
// (of the largest head), and what that leaves off every ring; it reports whether there
// were any.
func (n *Net) shut(a *Answer, w *Work, margin float64) bool {
	any := false
	for k := range w.edges {
		g := &w.edges[k]
		if q := a.Flow[g.e]; q < 0 && -q*Reverse > margin*w.scale && g.l.stiff(g.x) {
			w.gone[g.e], any = true, true
		}
	}
	if !any {
		return false
	}
	n.ring(w, &w.after) // some of those that were live stay so, with what was worked out for them
	left := w.edges[:0]
	for _, g := range w.edges {
		if w.live[g.e] {
			left = append(left, g)
		} else {
			a.Flow[g.e] = 0
		}
	}
	w.edges = left
	n.touch(w)
	return true
}

// finish silences an answer in which nothing flows and gives still water its heads. A
// one-way part with next to no head against it has not been taken out; the 1e-16 m³/s
// that it passes backwards are nothing, and are given as nothing.
func (n *Net) finish(s *State, a *Answer, w *Work) {
	most := 0.0
	for e := range a.Flow {
		if !w.live[e] || a.Flow[e] < 0 && n.ways[e].stiff(s.Opening[e]) {
			a.Flow[e] = 0
		}
		most = math.Max(most, math.Abs(a.Flow[e]))
	}
	if most < floorFlow {
		clear(a.Flow)
	}
	n.place(s, a, w)
}

// verdict writes the status, the residuals and, when it failed, the error.
func (n *Net) verdict(s *State, a *Answer, w *Work, ok bool) error {
	if w.Quick {
		a.Cert = n.residuals(s, a, w)
	} else {
		a.Cert = n.certify(s, a, w.step)
	}
	if !ok || !a.Cert.OK() {
		a.Status = OutOfSteps
		return fmt.Errorf("hydraulics: no steady state found in %d steps: balance of %s is out by %.3g (flow), %.3g (head)",
			a.Iterations, a.Cert.Worst, a.Cert.Mass, a.Cert.Energy)
	}
	a.Status = Still
	for _, q := range a.Flow {
		if q != 0 {
			a.Status = Converged
			break
		}
	}
	return nil
}
