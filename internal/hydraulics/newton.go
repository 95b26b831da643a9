package hydraulics

import "math"

// newton takes mixed Newton steps until every balance is met. Once it is near, one-way
// parts with much head against them are taken out, so that the last steps are for what
// is left; what was worked out for that stands.
func (n *Net) newton(s *State, a *Answer, w *Work, limit int) bool {
	for it := 0; ; it++ {
		energy, scale, most := n.evaluate(a, w)
		if w.scale = scale; !w.trimmed && !w.seeded && energy <= nearTol*scale {
			w.trimmed = true
			if n.shut(s, a, w, nearTol) {
				energy, scale, most = n.evaluate(a, w)
			}
		}
		mass := n.assemble(w)
		if math.IsNaN(energy) || math.IsNaN(mass) {
			return false
		}
		if !w.seeded && !w.rough && energy <= energyTol*scale+w.rounding && mass <= massTol*max(leastFlow, most) {
			w.cert = Certificate{Mass: mass / max(leastFlow, most), Energy: energy / scale}
			return true
		}
		if it == limit {
			return false
		}
		w.steps++
		w.seeded = false
		w.matrix.factor(&w.lay.plan)
		w.matrix.solve(&w.lay.plan, w.matrix.rhs)
		n.advance(a, w, it >= seedAfter)
	}
}

// evaluate works out every edge's law at its flow, and its energy residual. It returns the
// largest residual, the largest head (at least 1 m) and the largest flow; a residual that
// is no number if any is none.
//
// In a seeded step an element at rest is put on the chord to its typical flow instead of
// its tangent: a pipe at rest is so much easier to flow through than one that runs that
// the tangent would send Newton far past the answer.
func (n *Net) evaluate(a *Answer, w *Work) (energy, scale, most float64) {
	scale = 1
	sum := 0.0
	w.rough = false
	for k := range w.edges {
		g := &w.edges[k]
		h, dh, head, rough := w.at(g, g.q)
		w.rough = w.rough || rough
		if w.seeded && g.q >= 0 && g.q < floorFlow {
			dh = n.chord(w, g)
		}
		r := a.Head[g.from] - a.Head[g.to] - h
		g.h, g.dh, g.res = h, dh, r
		r = math.Abs(r)
		sum += r
		if r > energy {
			energy = r
		}
		if head > scale {
			scale = head
		}
		if q := math.Abs(g.q); q > most {
			most = q
		}
	}
	if sum != sum {
		energy = sum
	}
	return energy, scale, most
}

// assemble builds the step's matrix and right-hand side and returns the largest
// imbalance of flow at a free point.
func (n *Net) assemble(w *Work) float64 {
	m, seq := w.matrix, w.lay.plan.seq
	m.clear(&w.lay.plan)
	mass := m.inv // borrowed: factor writes it anew
	for k := range w.edges {
		l := &w.edges[k]
		i, j := l.i, l.j
		g := 1 / l.dh
		f := g * l.res
		if i >= 0 {
			mass[i] -= l.q
			m.rhs[i] -= f
		}
		if j >= 0 {
			mass[j] += l.q
			m.rhs[j] += f
		}
		switch {
		case l.slot >= 0:
			m.w[l.slot] += g
		case i == j: // both held, or a ring of its own: no head to solve for
		case i >= 0:
			m.tie[i] += g
		default:
			m.tie[j] += g
		}
	}
	worst, sum := 0.0, 0.0
	for _, k := range seq {
		m.rhs[k] += mass[k]
		v := math.Abs(mass[k])
		sum += v
		if v > worst {
			worst = v
		}
	}
	if sum != sum {
		return sum
	}
	return worst
}

// advance moves heads and flows by the step solved for. A one-way part that the step
// opens is put where its law wants it at the new heads: from its stiff side the tangent
// opens it by next to nothing, and the tangent there would then throw it far too wide.
func (n *Net) advance(a *Answer, w *Work, seed bool) {
	for _, k := range w.lay.plan.seq {
		a.Head[k] += w.matrix.rhs[k]
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
		if seed && g.q < 0 && q > 0 && g.dh >= Reverse {
			q = w.through(g, a.Head[g.from]-a.Head[g.to])
		}
		g.q = q
	}
}
