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
	w, l []float64 // per slot: link conductances [m²/s], kept; multipliers
	tie  []float64 // per point: conductance to held points
	inv  []float64 // per point: 1/pivot, 0 where the pivot is zero
	rhs  []float64 // per point: right-hand side, then the solution
}

func newMatrix(points int) *matrix {
	return &matrix{
		w: make([]float64, 0, points), l: make([]float64, 0, points),
		tie: make([]float64, points), inv: make([]float64, points), rhs: make([]float64, points),
	}
}

// clear empties the matrix for a plan; inv is cleared with it, to add up imbalances in.
func (m *matrix) clear(p *plan) {
	if cap(m.w) < len(p.to) {
		m.w, m.l = make([]float64, len(p.to)), make([]float64, len(p.to))
	}
	m.w, m.l = m.w[:len(p.to)], m.l[:len(p.to)]
	clear(m.w)
	for _, k := range p.seq {
		m.tie[k], m.inv[k], m.rhs[k] = 0, 0, 0
	}
}

// factor eliminates the points in order.
func (m *matrix) factor(p *plan) {
	for i, k := range p.seq {
		lo, hi := p.col[i], p.col[i+1]
		w, to := m.w[lo:hi], p.to[lo:hi]
		d := m.tie[k]
		for _, v := range w {
			d += v
		}
		l := m.l[lo:hi]
		if d == 0 {
			m.inv[k] = 0
			clear(l)
			continue
		}
		inv := 1 / d
		m.inv[k] = inv
		pair := p.pair[p.from[i]:p.from[i+1]]
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

// solve replaces rhs by the solution. A point with a zero pivot gets zero: its head
// stays where it was.
func (m *matrix) solve(p *plan, rhs []float64) {
	for i, k := range p.seq {
		y := rhs[k]
		for s := p.col[i]; s < p.col[i+1]; s++ {
			rhs[p.to[s]] += m.l[s] * y
		}
		rhs[k] = y * m.inv[k]
	}
	for i := len(p.seq) - 1; i >= 0; i-- {
		k := p.seq[i]
		x := rhs[k]
		for s := p.col[i]; s < p.col[i+1]; s++ {
			x += m.l[s] * rhs[p.to[s]]
		}
		rhs[k] = x
	}
}
