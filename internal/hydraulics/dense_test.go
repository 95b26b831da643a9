package hydraulics

import (
	"testing"

	"gonum.org/v1/gonum/mat"
)

// The same Newton with its linear system solved by a dense Cholesky factorisation: what a
// general-purpose library makes of it. Only the elimination differs, so its steps are the
// same and its times can be held against the sparse ones in one run.
type dense struct {
	a    *mat.SymDense
	f    mat.Cholesky
	b, x *mat.VecDense
}

// solve solves the assembled step of w; it reports whether the matrix was definite.
func (d *dense) solve(n *Net, w *Work) bool {
	m, size := w.matrix, len(w.lay.plan.seq)
	if size == 0 {
		return true
	}
	local := make([]int, len(n.points))
	for i, k := range w.lay.plan.seq {
		local[k] = i
	}
	d.a, d.b, d.x = mat.NewSymDense(size, nil), mat.NewVecDense(size, nil), mat.NewVecDense(size, nil)
	for i, k := range w.lay.plan.seq {
		d.a.SetSym(i, i, d.a.At(i, i)+m.tie[k])
		d.b.SetVec(i, m.rhs[k])
	}
	for e := range w.edges {
		g := &w.edges[e]
		if g.slot < 0 {
			continue
		}
		i, j, c := local[g.i], local[g.j], 1/g.dh
		d.a.SetSym(i, i, d.a.At(i, i)+c)
		d.a.SetSym(j, j, d.a.At(j, j)+c)
		d.a.SetSym(i, j, d.a.At(i, j)-c)
	}
	if !d.f.Factorize(d.a) || d.f.SolveVecTo(d.x, d.b) != nil {
		return false
	}
	for i, k := range w.lay.plan.seq {
		m.rhs[k] = d.x.AtVec(i)
	}
	return true
}

// solveDense takes the steps of newton with the dense factorisation. A circuit with a part
// nearly cut off is not definite to a dense elimination; it is then given up.
func (n *Net) solveDense(s *State, a *Answer, w *Work) (bool, int) {
	for e := range n.ways {
		w.gone[e] = !n.passes(s, int32(e))
	}
	n.lay(w, &w.laid[0])
	n.begin(s, a, w, false)
	var d dense
	for it := range mixedSteps {
		energy, scale, most := n.evaluate(a, w)
		mass := n.assemble(w)
		if !w.seeded && energy <= 1e-9*scale && mass <= 1e-9*max(leastFlow, most) {
			n.hand(a, w)
			return true, it
		}
		w.seeded = false
		if !d.solve(n, w) {
			return false, it
		}
		n.advance(a, w, it >= seedAfter)
	}
	return false, mixedSteps
}

// The dense form finds the same flows where it gets through.
func TestDenseAgrees(t *testing.T) {
	n, p := newHome()
	w, v, a, b := n.NewWork(), n.NewWork(), n.NewAnswer(), n.NewAnswer()
	through := 0
	for i, s := range proofCases(n, p, 200) {
		if err := n.Solve(s, a, w); err != nil {
			t.Fatal(err)
		}
		if ok, _ := n.solveDense(s, b, v); !ok {
			continue
		}
		through++
		for e := range a.Flow {
			if d := a.Flow[e] - b.Flow[e]; d > 1e-9 || d < -1e-9 {
				t.Errorf("case %d: %s flows %g, dense %g", i, n.elements[e].Name, a.Flow[e], b.Flow[e])
			}
		}
	}
	if through < 100 {
		t.Errorf("dense got through %d of 200", through)
	}
	t.Logf("dense got through %d of 200", through)
}
