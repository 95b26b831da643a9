package hydraulics

import "math"

// foresight is how near the head foreseen is brought to the one asked [m], well inside
// holdTol.
const foresight = 1e-9

// foresee guesses the setting at which a regulating part gives its head: Newton on flows,
// heads and the setting together, on the circuit as the last solve left it, what had shut
// staying shut. The extra unknown costs one more substitution a step: beside the step of
// a solve, the one that a change of the setting alone would make is worked out, and the
// two are weighed so that the head asked is met (a bordered system; Keller 1977).
//
// It starts from the answer in a, solved at setting u, and leaves flows and heads there to
// start from. A guess it is: what opens or shuts on the way it does not see, so the caller
// solves at the setting. It gives NaN when it finds none inside (0, 1).
func (n *Net) foresee(a *Answer, w *Work, r Regulator, law regulating, u float64) float64 {
	k, place := w.edgeOf(r.Element), n.row[r.Point]
	if k < 0 || !w.touched[place] {
		return math.NaN()
	}
	for range seedAfter {
		g := &w.edges[k]
		g.x = law.setting(u)
		n.evaluate(a, w)
		n.assemble(a, w)
		w.matrix.factor(w.places)
		w.matrix.solve(w.places)
		change, head := n.tilt(w, k, law, u), a.Head[r.Point]+w.matrix.rhs[place]
		du := (r.Head - head) / change[place]
		if u += du; !(u > 0 && u < 1) {
			break
		}
		for _, p := range w.places {
			w.matrix.rhs[p] += du * change[p]
		}
		g.res -= du * w.tilt
		n.advance(a, w, false)
		if math.Abs(du*change[place]) <= foresight {
			return u
		}
	}
	a.Status = NotSolved // what is left there is nothing to start from
	return math.NaN()
}

// edgeOf is the index of a live element; −1 when it carries no water.
func (w *Work) edgeOf(element int32) int {
	for k := range w.edges {
		if w.edges[k].e == element {
			return k
		}
	}
	return -1
}

// tilt works out how heads change with the setting of edge k, per unit of u, and leaves
// in w.tilt how the head that the part takes does. The matrix is that of the last step.
func (n *Net) tilt(w *Work, k int, law regulating, u float64) []float64 {
	const small = 1e-6 // of u: a guess needs no better slope
	g, change := &w.edges[k], w.change
	h, _ := g.l.at(g.q, law.setting(u*(1-small)))
	w.tilt = (g.h - h) / (u * small)
	step := w.matrix.rhs
	clear(change)
	if g.i >= 0 {
		change[g.i] = w.tilt / g.dh
	}
	if g.j >= 0 {
		change[g.j] = -w.tilt / g.dh
	}
	w.matrix.rhs = change
	w.matrix.solve(w.places)
	w.matrix.rhs = step
	return change
}
