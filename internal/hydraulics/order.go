package hydraulics

// plan is the elimination of a layout's free points: their order, which slots of the work
// array each point's remaining links sit in, and which slot each pair of them adds to.
type plan struct {
	seq  []int32 // the points, in the order they are eliminated
	col  []int32 // start of the k-th point's links in to; one more than points
	to   []int32 // the later point each link leads to; a link's index is its slot
	from []int32 // start of the k-th point's pairs in pair; one more than points
	pair []int32 // slots that pairs of its links add to, in order (a < b)
}

func newPlan(points int) plan {
	return plan{
		seq: make([]int32, 0, points), col: make([]int32, 0, points+1), from: make([]int32, 0, points+1),
		to: make([]int32, 0, points), pair: make([]int32, 0, points),
	}
}

// plan finds an elimination order by minimum degree and the slots, and reports whether
// the free points hang together as trees, with single links: nothing can then be a bridge
// any more, for each branch's end has been left by stripping because a held point joins it.
func (n *Net) plan(l *shape, y *layer) (tree bool) {
	p := &l.plan
	p.seq, p.col, p.to = p.seq[:0], append(p.col[:0], 0), p.to[:0]
	tree = n.neighbours(l, y)
	n.leaves(p, y)
	if n.core(p, y) {
		tree = false
	}
	p.pairs(y)
	for k := range l.strands {
		t := &l.strands[k]
		t.slot = -1
		if t.i >= 0 && t.j >= 0 && t.i != t.j {
			t.slot = p.slot(y, t.i, t.j)
		}
	}
	return tree
}

// neighbours lists, per free point, those it shares a strand with. It reports whether
// none are joined twice or to themselves.
func (n *Net) neighbours(l *shape, y *layer) bool {
	for i := range y.near {
		y.near[i], y.place[i] = y.near[i][:0], -1
	}
	single := true
	for k := range l.strands {
		t := &l.strands[k]
		if t.i >= 0 {
			y.place[t.i] = 0
		}
		if t.j >= 0 {
			y.place[t.j] = 0
		}
		if t.i >= 0 && t.j >= 0 {
			if t.i == t.j || !add(&y.near[t.i], t.j) {
				single = false
				continue
			}
			add(&y.near[t.j], t.i)
		}
	}
	// place is −1 for points that nothing touches, and until eliminated len(seq) at least.
	for i := range y.place {
		if y.place[i] == 0 {
			y.place[i] = waiting
		}
	}
	return single
}

// waiting is the place of a point not yet eliminated.
const waiting = 1 << 30

// leaves eliminates points with one neighbour or none, and what that makes one.
func (n *Net) leaves(p *plan, y *layer) {
	for i := range y.near {
		for v := int32(i); y.place[v] == waiting && len(y.near[v]) <= 1; {
			col := y.near[v]
			p.take(y, v)
			if len(col) == 0 {
				break
			}
			v = col[0]
		}
	}
}

// core eliminates the rest, the point with the fewest neighbours first, ties to the lower
// number; it reports whether there was any.
func (n *Net) core(p *plan, y *layer) (any bool) {
	for {
		best := int32(-1)
		for i := range y.near {
			if y.place[i] == waiting && (best < 0 || len(y.near[i]) < len(y.near[best])) {
				best = int32(i)
			}
		}
		if best < 0 {
			return any
		}
		any = true
		p.take(y, best)
	}
}

// take eliminates point v: its neighbours become neighbours of one another.
func (p *plan) take(y *layer, v int32) {
	y.place[v] = int32(len(p.seq))
	p.seq = append(p.seq, v)
	for _, a := range y.near[v] {
		remove(&y.near[a], v)
		for _, b := range y.near[v] {
			if a != b {
				add(&y.near[a], b)
			}
		}
	}
	p.to = append(p.to, y.near[v]...)
	p.col = append(p.col, int32(len(p.to)))
}

// pairs finds the slots that each point's elimination adds to.
func (p *plan) pairs(y *layer) {
	p.from, p.pair = append(p.from[:0], 0), p.pair[:0]
	for k := range p.seq {
		col := p.to[p.col[k]:p.col[k+1]]
		for a := range col {
			for b := a + 1; b < len(col); b++ {
				p.pair = append(p.pair, p.slot(y, col[a], col[b]))
			}
		}
		p.from = append(p.from, int32(len(p.pair)))
	}
}

// slot is where the link between two points is kept: with the one eliminated first.
func (p *plan) slot(y *layer, a, b int32) int32 {
	if y.place[b] < y.place[a] {
		a, b = b, a
	}
	k := y.place[a]
	for s := p.col[k]; s < p.col[k+1]; s++ {
		if p.to[s] == b {
			return s
		}
	}
	panic("hydraulics: slot: every link must be in the plan")
}

// add puts v into a small set, and reports whether it was new.
func add(set *[]int32, v int32) bool {
	for _, q := range *set {
		if q == v {
			return false
		}
	}
	*set = append(*set, v)
	return true
}

func remove(set *[]int32, v int32) {
	for i, q := range *set {
		if q == v {
			last := len(*set) - 1
			(*set)[i] = (*set)[last]
			*set = (*set)[:last]
			return
		}
	}
}

// join lists the elements at each point.
func (n *Net) join() {
	n.link = make([]int32, len(n.points)+1)
	for _, e := range n.elements {
		n.link[e.From+1]++
		n.link[e.To+1]++
	}
	for i := range n.points {
		n.link[i+1] += n.link[i]
	}
	n.linkTo = make([]int32, 2*len(n.elements))
	next := append([]int32(nil), n.link...)
	for i, e := range n.elements {
		for _, p := range [2]int32{e.From, e.To} {
			n.linkTo[next[p]] = int32(i)
			next[p]++
		}
	}
}
