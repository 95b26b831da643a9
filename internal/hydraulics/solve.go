package hydraulics

import (
	"fmt"
	"math"
)

// How a solve works: unknowns are a flow per element and a head per free point. Newton
// on both (Todini & Pilati 1988) needs one evaluation of each law a step and meets every
// balance of flow to rounding; one-way parts are one strictly increasing law, very stiff
// backwards, never a switch. Elements off every ring are taken out first, exactly, and
// those in series strung together (layout.go). When it has converged, one-way parts with
// water standing against them are taken out too, what that leaves off every ring goes with
// them, and a last step makes the balances exact. Where Newton is lost, the damped form in heads alone (cocontent.go), which
// converges from anywhere because it minimises a convex function, brings it back.

// The tolerances of the solver itself, well inside the certificate's 1e-9.
const (
	energyTol  = 2e-12 // of max(1 m, greatest head difference)
	nearTol    = 1e-3  // the same, where it is clear which one-way parts shut
	shutTol    = 1e-9  // head, relative, against a part from which it is taken out as shut
	massTol    = 1e-11 // of max(1e-5 m³/s, greatest flow)
	floorFlow  = 1e-13 // m³/s: below it nothing flows (quantity.Standing is the table of what stands)
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

	// Quick fills the certificate with what the solver's last step left, by its own laws,
	// instead of the independent judgement of Certify: a little faster, where very many
	// cases are searched and the ones that matter are certified afterwards.
	Quick bool

	// Stays has a warm solve begin without the one-way parts that let nothing through in the answer
	// it starts from, and look at its end whether they still do not: quicker where cases that are
	// much alike follow one another. What was shut and opens costs a few steps more.
	Stays bool

	gone  []bool // shut or off
	mark  []byte // of the shape sought
	vain  int    // shapes sought in vain, less those found
	lay   *layout
	laid  [3]layout // of the circuit as a case leaves it, of what has not shut, of the form in heads
	layer layer
	plain bool  // strings nothing together
	pin   int32 // a point whose head is wanted on the way, or −1

	edges    []edge // the layout's, at the openings of the state
	pipes    []pipes
	squares  []squared
	others   []odd
	friction []float64 // a pipe's last 1/√f
	matrix   *matrix
	head     []float64 // trial heads
	step     []float64 // Newton direction per point
	change   []float64 // per point: how heads change with the setting of a part that regulates
	tilt     float64   // the same of the head the part itself takes
	flow     []float64 // trial flows
	stand    stand

	scale    float64     // the largest head the last step met, at least 1 m
	trimmed  bool        // what surely shuts has been taken out
	cert     Certificate // what the last step left, by the laws solved with
	most     float64     // the largest flow handed out
	rounding float64     // what heads of the size held cannot tell apart [m]
	seeded   bool        // the next step starts elements at rest from their typical flow
	rough    bool        // some pipe's friction is not settled at its flow yet
	steps    int
}

// NewWork returns buffers for solving n.
func (n *Net) NewWork() *Work {
	e, p := len(n.elements), len(n.points)
	return &Work{
		gone: make([]bool, e), mark: make([]byte, 0, 8+e/8), pin: -1,
		friction: make([]float64, e), flow: make([]float64, e),
		head: make([]float64, p), step: make([]float64, p), change: make([]float64, p),
		matrix: newMatrix(p), stand: newStand(n),
	}
}

// Solve finds the steady state of s and puts it into a, whose buffers are reused. It
// allocates nothing, but for what is kept of a layout that is met for the first time. A state that does not fit the circuit is refused, and an answer
// that did not converge says OutOfSteps and comes with an error naming the worst point
// or part; it must not be used. Reducers with a set head of their own are set on the way:
// their openings in s are an answer too, and what stood there before counts for nothing.
func (n *Net) Solve(s *State, a *Answer, w *Work) error {
	if len(n.sets) > 0 {
		return n.together(s, a, w, nil, 0)
	}
	return n.solve(s, a, w)
}

// solve finds the steady state with every setting as it stands in s.
func (n *Net) solve(s *State, a *Answer, w *Work) error {
	if err := n.checkState(s); err != nil {
		a.Status = NotSolved
		return err
	}
	warm := w.Warm && (a.Status == Converged || a.Status == Still) && len(a.Flow) == len(n.elements)
	n.fit(a)
	n.whole(s, w)
	w.steps = 0
	if warm && w.Stays && n.stay(s, a, w) {
		n.begin(s, a, w, warm)
		if n.judged(s, a, w, n.settle(s, a, w)) && n.stayed(s, a, w) {
			return n.verdict(a, w)
		}
		n.whole(s, w)
	}
	n.begin(s, a, w, warm)
	// Where rounding keeps the last step from its own aim, and where it aimed wrong, the
	// certificate decides.
	if !n.judged(s, a, w, n.settle(s, a, w)) && !n.judged(s, a, w, n.recover(s, a, w)) {
		for again := 0; again < 8 && n.reopen(s, a, w); again++ {
			ok := n.newton(s, a, w, mixedSteps)
			n.hand(a, w)
			if n.judged(s, a, w, ok) {
				break
			}
		}
	}
	return n.verdict(a, w)
}

// whole lays out all that a state lets pass.
func (n *Net) whole(s *State, w *Work) {
	for e := range n.ways {
		w.gone[e] = s.Off[e] || n.ways[e].closed(s.Opening[e])
	}
	w.plain = false
	n.lay(w, &w.laid[0])
}

// stayed reports whether no part that was taken out has water standing against it that would open
// it. Heads and flows that leave them all shut are the steady state, for there is only one.
func (n *Net) stayed(s *State, a *Answer, w *Work) bool {
	for e := range n.ways {
		if ends := n.ends[e]; w.gone[e] && a.Head[ends[0]]-a.Head[ends[1]]-n.ways[e].rest(s.Opening[e]) > shutTol*w.scale && n.passes(s, int32(e)) {
			return false
		}
	}
	return true
}

// stay takes out the one-way parts that carried nothing in a though they were there to; it
// reports whether there were any.
func (n *Net) stay(s *State, a *Answer, w *Work) bool {
	any := false
	for e, live := range w.lay.live {
		if live && a.Flow[e] == 0 && n.ways[e].stiff(s.Opening[e]) {
			w.gone[e], any = true, true
		}
	}
	if any {
		n.lay(w, &w.laid[1])
	}
	return any
}

// judged gives still water its heads and has the answer judged: by the certificate, or, when
// it may be Quick and Newton met its own aim, by what Newton left. It reports whether the
// answer passes.
func (n *Net) judged(s *State, a *Answer, w *Work, ok bool) bool {
	n.finish(s, a, w)
	n.witness(s, a, w, ok)
	return a.Cert.OK()
}

// witness fills the certificate.
func (n *Net) witness(s *State, a *Answer, w *Work, ok bool) {
	if a.Cert = w.cert; !w.Quick || !ok {
		a.Cert = n.certify(s, a, w.step)
	}
}

// reopen puts back one-way parts that were taken out as shut while heads were still far off,
// and that the heads found would open; it reports whether there were any. Then what is left
// is laid out anew, to go on from the heads and flows there are.
func (n *Net) reopen(s *State, a *Answer, w *Work) bool {
	any := false
	for e := range n.ways {
		ends := n.ends[e]
		open := a.Head[ends[0]]-a.Head[ends[1]]-n.ways[e].rest(s.Opening[e]) > shutTol*w.scale
		if w.gone[e] && open && n.passes(s, int32(e)) {
			w.gone[e], any = false, true
		}
	}
	if any {
		w.trimmed = true
		n.lay(w, &w.laid[1])
		n.rework(s, a, w)
	}
	return any
}

// settle runs Newton, takes out the one-way parts that shut, and runs what is left.
func (n *Net) settle(s *State, a *Answer, w *Work) bool {
	ok := n.newton(s, a, w, mixedSteps) && (!n.shut(s, a, w, shutTol) || n.newton(s, a, w, 8))
	n.hand(a, w)
	return ok
}

// recover solves in heads alone, from nothing, element by element, and lets Newton in both
// finish on the circuit as the heads leave it: with the one-way parts that stand against
// their flow out.
func (n *Net) recover(s *State, a *Answer, w *Work) bool {
	n.solo(s, a, w)
	n.descend(a, w) // where it stalls, it stalls at the bottom: Newton says whether it did
	for k := range w.edges {
		w.edges[k].q = a.Flow[w.edges[k].e]
	}
	n.shut(s, a, w, shutTol)
	return n.settle(s, a, w)
}

// solo lays the circuit out with nothing strung together, at rest.
func (n *Net) solo(s *State, a *Answer, w *Work) {
	for e := range n.ways {
		w.gone[e] = !n.passes(s, int32(e))
	}
	w.plain = true
	n.lay(w, &w.laid[2])
	n.begin(s, a, w, false)
	w.seeded = false
}

// begin sets the heads and flows a solve starts from.
func (n *Net) begin(s *State, a *Answer, w *Work, warm bool) {
	w.seeded, w.trimmed = true, false
	var sum, most float64
	for _, p := range n.fixed {
		h := s.Held[p]
		a.Head[p] = h
		sum += h
		most = max(most, math.Abs(h))
	}
	w.rounding = 1e-14 * most
	if !warm { // nothing of earlier solves may be left, not even a last bit
		clear(a.Flow)
		copy(w.friction, n.smooth)
		mean := sum / float64(len(n.fixed))
		for p, held := range n.held {
			if !held {
				a.Head[p] = mean
			}
		}
		n.load(s, a, w)
		return
	}
	n.rework(s, a, w)
	for k := range w.edges {
		// Shut so far: where it still is, start it on its stiff side.
		if g := &w.edges[k]; g.q == 0 && g.ahead {
			h0, _, _, _ := w.at(g, 0)
			if d := a.Head[g.from] - a.Head[g.to] - h0; d <= 0 {
				g.q = math.Min(d, -0.01) / Reverse
			}
		}
	}
}

// rework loads a layout with the flows in a; what it leaves out carries none.
func (n *Net) rework(s *State, a *Answer, w *Work) {
	for e, live := range w.lay.live {
		if !live {
			a.Flow[e] = 0
		}
	}
	n.load(s, a, w)
}

// shut takes out the one-way parts with water standing against them by more than margin
// (of the largest head), and what that leaves off every ring; it reports whether there
// were any.
func (n *Net) shut(s *State, a *Answer, w *Work, margin float64) bool {
	any := false
	for k := range w.edges {
		g := &w.edges[k]
		back := g.q > 0
		if math.Abs(g.q)*Reverse <= margin*w.scale || back && !g.behind || !back && !g.ahead {
			continue
		}
		for _, m := range w.lay.members[g.first:g.last] {
			if m.back == back && n.ways[m.e].stiff(s.Opening[m.e]) {
				w.gone[m.e], any = true, true
			}
		}
	}
	if !any {
		return false
	}
	for k := range w.edges {
		g := &w.edges[k]
		for _, m := range w.lay.members[g.first:g.last] {
			a.Flow[m.e] = g.q
			if m.back {
				a.Flow[m.e] = -g.q
			}
		}
	}
	n.lay(w, &w.laid[1])
	n.rework(s, a, w)
	return true
}

// finish silences an answer in which nothing flows and gives still water its heads.
func (n *Net) finish(s *State, a *Answer, w *Work) {
	if w.most < floorFlow && !w.pressed() {
		clear(a.Flow)
		w.most = 0
	}
	n.place(s, a, w)
}

// pressed reports whether an edge that lets water both ways, or the way it is pressed,
// takes more head than water at rest would: then what flows through it, however little,
// is no rounding. So it is where the only way is a valve open by next to nothing.
func (w *Work) pressed() bool {
	for k := range w.edges {
		g := &w.edges[k]
		rest, _, _, _ := w.at(g, 0)
		if d := g.h - rest; math.Abs(d) > shutTol*w.scale && !(d < 0 && g.ahead) && !(d > 0 && g.behind) {
			return true
		}
	}
	return false
}

// verdict writes the status and, when the answer failed, the error.
func (n *Net) verdict(a *Answer, w *Work) error {
	a.Iterations = w.steps
	if !a.Cert.OK() {
		a.Status = OutOfSteps
		return fmt.Errorf("hydraulics: no steady state found in %d steps: balance of %s is out by %.3g (flow), %.3g (head)",
			a.Iterations, a.Cert.Worst, a.Cert.Mass, a.Cert.Energy)
	}
	a.Status = Still
	if w.most > 0 {
		a.Status = Converged
	}
	return nil
}
