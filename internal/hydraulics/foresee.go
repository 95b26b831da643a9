package hydraulics

import (
	"math"
	"slices"
)

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
	k, o := w.edgeOf(n, r.Element)
	if o == nil || !slices.Contains(w.lay.plan.seq, r.Point) {
		return math.NaN()
	}
	w.lay.summed = false // for the part is moved below
	for range seedAfter {
		g := &w.edges[k]
		o.x = law.setting(u)
		n.evaluate(a, w)
		n.assemble(w)
		w.matrix.factor(&w.lay.plan)
		w.matrix.solve(&w.lay.plan, w.matrix.rhs)
		change, head := w.tilted(g, o, law, u), a.Head[r.Point]+w.matrix.rhs[r.Point]
		du := (r.Head - head) / change[r.Point]
		if u += du; !(u > 0 && u < 1) {
			break
		}
		for _, p := range w.lay.plan.seq {
			w.matrix.rhs[p] += du * change[p]
		}
		g.res -= du * w.tilt
		n.advance(a, w, false)
		if math.Abs(du*change[r.Point]) <= foresight {
			n.hand(a, w)
			return u
		}
	}
	a.Status = NotSolved // what is left there is nothing to start from
	return math.NaN()
}

// edgeOf is the edge that an element which regulates is part of, and the element in it;
// nil when it carries no water.
func (w *Work) edgeOf(n *Net, element int32) (int, *odd) {
	for k := range w.edges {
		g := &w.edges[k]
		for i := g.others; i < g.othersTo; i++ {
			if w.others[i].e == element {
				return k, &w.others[i]
			}
		}
	}
	return -1, nil
}

// tilted works out how heads change with the setting of the part o in edge g, per unit of
// u, and leaves in w.tilt how the head that the part takes does. The matrix is that of the
// last step.
func (w *Work) tilted(g *edge, o *odd, law regulating, u float64) []float64 {
	const small = 1e-6 // of u: a guess needs no better slope
	now, _ := o.at(g.q)
	less := *o
	less.x = law.setting(u * (1 - small))
	h, _ := less.at(g.q)
	w.tilt = (now - h) / (u * small)
	clear(w.change)
	if g.i >= 0 {
		w.change[g.i] = w.tilt / g.dh
	}
	if g.j >= 0 {
		w.change[g.j] = -w.tilt / g.dh
	}
	w.matrix.solve(&w.lay.plan, w.change)
	return w.change
}
