package hydraulics

import "math"

// newton takes mixed Newton steps until every balance is met. Once it is near, one-way
// parts with much head against them are taken out, so that the last steps are for what
// is left; what was worked out for that stands.
func (n *Net) newton(a *Answer, w *Work, limit int) bool {
	for it := 0; ; it++ {
		energy, scale, most := n.evaluate(a, w)
		if w.scale = scale; !w.trimmed && !w.seeded && energy <= nearTol*scale {
			w.trimmed = true
			n.shut(a, w, nearTol)
		}
		mass := n.assemble(a, w)
		if math.IsNaN(energy) || math.IsNaN(mass) {
			return false
		}
		if !w.seeded && !w.rough && energy <= energyTol*scale+w.rounding && mass <= massTol*math.Max(leastFlow, most) {
			return true
		}
		if it == limit {
			return false
		}
		w.steps++
		w.seeded = false
		w.matrix.factor(w.places)
		w.matrix.solve(w.places)
		n.advance(a, w, it >= seedAfter)
	}
}

// evaluate works out every live element's law at its flow, and its energy residual. It
// returns the largest residual, the largest head (at least 1 m) and the largest flow.
//
// In a seeded step an element at rest is put on the chord to its typical flow instead of
// its tangent: a pipe at rest is so much easier to flow through than one that runs that
// the tangent would send Newton far past the answer.
func (n *Net) evaluate(a *Answer, w *Work) (energy, scale, most float64) {
	scale = 1
	w.rough = false
	for k := range w.edges {
		g := &w.edges[k]
		q := a.Flow[g.e]
		h, dh, rough := g.at(q, &w.friction[g.e])
		w.rough = w.rough || rough
		if w.seeded && q >= 0 && q < floorFlow {
			dh = g.chord(h)
		}
		r := a.Head[g.from] - a.Head[g.to] - h
		g.q, g.h, g.dh, g.res = q, h, dh, r
		energy = nanMax(energy, math.Abs(r))
		scale = nanMax(scale, math.Abs(h))
		most = nanMax(most, math.Abs(q))
	}
	return energy, scale, most
}

// nanMax is the larger of two, or NaN once either is.
func nanMax(a, b float64) float64 {
	return max(a, b)
}

// assemble builds the step's matrix and right-hand side and returns the largest
// imbalance of flow at a free point.
func (n *Net) assemble(a *Answer, w *Work) float64 {
	m := w.matrix
	m.clear()
	mass := m.inv // borrowed: factor writes it anew
	clear(mass)
	for k := range w.edges {
		l := &w.edges[k]
		i, j, q := l.i, l.j, a.Flow[l.e]
		g := 1 / l.dh
		f := g * l.res
		if i >= 0 {
			mass[i] -= q
			m.rhs[i] -= f
		}
		if j >= 0 {
			mass[j] += q
			m.rhs[j] += f
		}
		switch {
		case i >= 0 && j >= 0:
			m.w[l.slot] += g
		case i >= 0:
			m.tie[i] += g
		case j >= 0:
			m.tie[j] += g
		}
	}
	worst := 0.0
	for _, k := range w.places {
		m.rhs[k] += mass[k]
		worst = nanMax(worst, math.Abs(mass[k]))
	}
	return worst
}

// advance moves heads and flows by the step solved for. A one-way part that the step
// opens is put where its law wants it at the new heads: from its stiff side the tangent
// opens it by next to nothing, and the tangent there would then throw it far too wide.
func (n *Net) advance(a *Answer, w *Work, seed bool) {
	for _, k := range w.places {
		a.Head[n.at[k]] += w.matrix.rhs[k]
	}
	for k := range w.edges {
		g := &w.edges[k]
		d := g.res
		if g.i >= 0 {
			d += w.matrix.rhs[g.i]
		}
		if g.j >= 0 {
			d -= w.matrix.rhs[g.j]
		}
		q := g.q + d/g.dh
		if seed && g.q < 0 && q > 0 && g.dh == Reverse {
			q, _ = g.l.flow(a.Head[g.from]-a.Head[g.to], g.x, 0, &w.friction[g.e])
		}
		a.Flow[g.e] = q
	}
}
