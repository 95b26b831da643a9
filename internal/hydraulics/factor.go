package hydraulics

// The matrix of a Newton step is a weighted Laplacian: links between free points, and
// ties to held ones. It is eliminated without a single subtraction (Grassmann, Taksar &
// Heyman 1985, Oper. Res. 33:1107; for diagonally dominant M-matrices Alfa, Xue & Ye
// 2002, Math. Comp. 71:217): each point is turned from a star into a mesh, and its tie
// shared out among its neighbours. So the factor is accurate to rounding entry by entry,
// even between a wide pipe and a shut non-return valve sixteen decades apart, and a part
// cut off from every held head shows as a pivot of exactly zero.

// matrix holds one numeric elimination.
type matrix struct {
	w    []float64 // link conductances per slot [m²/s]; after factor: kept
	l    []float64 // multipliers per slot
	tie  []float64 // per place: conductance to held points
	inv  []float64 // per place: 1/pivot, 0 where the pivot is zero
	rhs  []float64 // per place: right-hand side, then the solution
	plan *plan
}

func newMatrix(p *plan) *matrix {
	return &matrix{
		w: make([]float64, len(p.to)), l: make([]float64, len(p.to)),
		tie: make([]float64, p.n), inv: make([]float64, p.n), rhs: make([]float64, p.n),
		plan: p,
	}
}

func (m *matrix) clear() {
	clear(m.w)
	clear(m.tie)
	clear(m.rhs)
}

// factor eliminates the places listed, in order; the others have no links.
func (m *matrix) factor(places []int32) {
	p := m.plan
	for _, k := range places {
		lo, hi := p.col[k], p.col[k+1]
		w, to := m.w[lo:hi], p.to[lo:hi]
		d := m.tie[k]
		for _, v := range w {
			d += v
		}
		if d == 0 {
			m.inv[k] = 0
			clear(m.l[lo:hi])
			continue
		}
		inv := 1 / d
		m.inv[k] = inv
		l := m.l[lo:hi]
		pair := p.pair[p.from[k]:p.from[k+1]]
		tie := m.tie[k]
		for a, wa := range w {
			r := wa * inv
			l[a] = r
			m.tie[to[a]] += r * tie
			for b := a + 1; b < len(w); b++ {
				m.w[pair[0]] += r * w[b]
				pair = pair[1:]
			}
		}
	}
}

// solve replaces rhs by the solution. A place with a zero pivot gets zero: its head
// stays where it was.
func (m *matrix) solve(places []int32) {
	p := m.plan
	for _, k := range places {
		y := m.rhs[k]
		for s := p.col[k]; s < p.col[k+1]; s++ {
			m.rhs[p.to[s]] += m.l[s] * y
		}
		m.rhs[k] = y * m.inv[k]
	}
	for i := len(places) - 1; i >= 0; i-- {
		k := places[i]
		x := m.rhs[k]
		for s := p.col[k]; s < p.col[k+1]; s++ {
			x += m.l[s] * m.rhs[p.to[s]]
		}
		m.rhs[k] = x
	}
}
