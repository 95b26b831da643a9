package hydraulics

import "math"

// The form in heads alone. With every flow written as a function of its head difference,
// the balances at the free points are the gradient of the co-content
//
//	Φ(H) = Σ ∫ q dΔ   over the elements, Δ from 0 to H_from − H_to
//
// (Cherry 1951, Millar 1951; Collins et al. 1978, Manage. Sci. 24:747), which is convex
// because every law is increasing. Newton on it with a step that is never allowed to
// raise Φ converges from any start. Φ itself is not needed: along a step it is a convex
// function of one variable, and its slope, the imbalance times the direction, says
// whether it fell.

// The most steps taken, and the step in heads at which there is nothing left to gain [m].
const (
	descentSteps = 200
	leastStep    = 1e-12
)

// descend minimises the co-content from the heads in a, leaving heads and flows that
// balance closely enough for Newton in both to finish.
func (n *Net) descend(a *Answer, w *Work) bool {
	n.flows(a.Head, a.Flow, w)
	for range descentSteps {
		mass := n.gradient(a, w)
		most := leastFlow
		for e, q := range a.Flow {
			if w.lay.live[e] {
				most = math.Max(most, math.Abs(q))
			}
		}
		if mass <= 1e-10*most+floorFlow {
			return true
		}
		w.steps++
		w.matrix.factor(&w.lay.plan)
		w.matrix.solve(&w.lay.plan, w.matrix.rhs)
		clear(w.step)
		furthest := 0.0
		for _, k := range w.lay.plan.seq {
			w.step[k] = w.matrix.rhs[k]
			furthest = math.Max(furthest, math.Abs(w.matrix.rhs[k]))
		}
		if furthest <= leastStep { // heads can be told apart no finer
			return true
		}
		slope := n.slope(a.Flow, w)
		if !(slope < 0) {
			return false
		}
		if !n.search(a, w, slope) {
			return false
		}
	}
	return false
}

// gradient assembles the matrix and the imbalances at the flows in a, whose laws' slopes
// are in the edges, and returns the largest imbalance.
func (n *Net) gradient(a *Answer, w *Work) float64 {
	for k := range w.edges {
		g := &w.edges[k]
		g.res, g.q = 0, a.Flow[g.e]
	}
	return n.assemble(w)
}

// slope is dΦ/dα along w.step at the given flows.
func (n *Net) slope(flow []float64, w *Work) float64 {
	sum := 0.0
	for k := range w.edges {
		g := &w.edges[k]
		sum += flow[g.e] * (w.step[g.from] - w.step[g.to])
	}
	return sum
}

// search walks along the step to where Φ has surely fallen: at the point tried the slope
// is still downward, or the upward slope there is outweighed by the downward slope at
// its half (Φ' rises along the step, so the two bound the change of Φ from above).
func (n *Net) search(a *Answer, w *Work, slope0 float64) bool {
	alpha := 1.0
	slope := n.try(a, w, alpha)
	for range 60 {
		if slope <= 1e-6*-slope0 {
			n.take(a, w)
			return true
		}
		half := n.try(a, w, alpha/2)
		if half+slope <= 1e-4*slope0 {
			n.try(a, w, alpha)
			n.take(a, w)
			return true
		}
		alpha, slope = alpha/2, half
	}
	return false
}

// try evaluates the slope of Φ at alpha along the step; flows and law slopes are left in
// w.flow and the edges.
func (n *Net) try(a *Answer, w *Work, alpha float64) float64 {
	for p := range w.head {
		w.head[p] = a.Head[p] + alpha*w.step[p]
	}
	copy(w.flow, a.Flow)
	n.flows(w.head, w.flow, w)
	return n.slope(w.flow, w)
}

// take makes the trial the answer.
func (n *Net) take(a *Answer, w *Work) {
	copy(a.Head, w.head)
	copy(a.Flow, w.flow)
}

// flows inverts every live law at the given heads, starting from the flows given.
func (n *Net) flows(head, flow []float64, w *Work) {
	for e := range flow {
		if !w.lay.live[e] {
			flow[e] = 0
		}
	}
	for k := range w.edges {
		g := &w.edges[k]
		flow[g.e], g.dh = n.ways[g.e].flow(head[g.from]-head[g.to], g.x, flow[g.e], &w.friction[g.e])
	}
}

// flow is the inverse law: the flow at head difference d and the law's slope there, by
// Newton kept between brackets, from the flow q first.
func (l *law) flow(d, x, q float64, last *float64) (float64, float64) {
	h0, dh0 := l.at(0, x)
	switch {
	case d == h0:
		return 0, dh0
	case d < h0 && l.stiff(x):
		return (d - h0) / Reverse, Reverse
	}
	lo, hi := 0.0, 0.0
	sign := 1.0
	if d < h0 {
		sign = -1
	}
	q *= sign
	if !(q > 0) || math.IsInf(q, 0) {
		q = math.Min(l.typical, sign*(d-h0)/dh0)
	}
	tol := 1e-15 * math.Max(1, math.Abs(d))
	var dh float64
	for range 200 {
		var h float64
		h, dh = l.atFrom(sign*q, x, last)
		r := sign * (h - d)
		if math.Abs(r) <= tol {
			break
		}
		if r < 0 {
			lo = q
		} else {
			hi = q
		}
		next := q - r/dh
		switch {
		case hi == 0: // no upper bracket yet
			next = math.Min(next, 8*q+1e-9)
		case next <= lo || next >= hi:
			next = (lo + hi) / 2
		}
		if math.Abs(next-q) <= 1e-11*q { // Newton squares what is left, and halving is long over
			q = next
			break
		}
		q = next
	}
	return sign * q, dh
}
