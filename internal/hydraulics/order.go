package hydraulics

// plan is the elimination of a circuit's free points, compiled: which slots of the work
// array each point's remaining links sit in, and which slot each pair of them adds to.
type plan struct {
	n    int
	col  []int32 // start of place k's links in to; len n+1
	to   []int32 // the later place each link leads to; a link's index is its slot
	pair []int32 // slots that pairs of place k's links add to, in order (a < b)
	from []int32 // start of place k's pairs in pair; len n+1
	// slot of each element's conductance: ≥ 0 a link, −1 to one held point only, −2 none.
	slot []int32
}

// order finds an elimination order by minimum degree (ties to the lower index, so the
// order depends on the circuit alone) and compiles the plan.
func (n *Net) order() {
	near := n.neighbours()
	n.row = make([]int32, len(n.points))
	n.at = nil
	todo := 0
	for i, p := range n.points {
		n.row[i] = -1
		if !p.Held {
			todo++
		}
	}
	var cols [][]int32
	for ; todo > 0; todo-- {
		k := least(near, n.points, n.row)
		n.row[k] = int32(len(n.at))
		n.at = append(n.at, k)
		col := near[k].sorted()
		for _, a := range col {
			near[a].remove(k)
			for _, b := range col {
				if a != b {
					near[a].add(b)
				}
			}
		}
		cols = append(cols, col)
	}
	n.compile(cols)
}

// neighbours lists, per point, the free points it shares an element with.
func (n *Net) neighbours() []set {
	near := make([]set, len(n.points))
	for _, e := range n.elements {
		if !n.points[e.From].Held && !n.points[e.To].Held {
			near[e.From].add(e.To)
			near[e.To].add(e.From)
		}
	}
	return near
}

// least is the free point not yet ordered with the fewest neighbours left.
func least(near []set, points []Point, row []int32) int32 {
	best := int32(-1)
	for i := range points {
		if points[i].Held || row[i] >= 0 {
			continue
		}
		if best < 0 || len(near[i]) < len(near[best]) {
			best = int32(i)
		}
	}
	return best
}

// compile turns the columns (points) into slots (places).
func (n *Net) compile(cols [][]int32) {
	p := plan{n: len(cols), col: make([]int32, 1, len(cols)+1), from: make([]int32, 1, len(cols)+1)}
	slots := map[[2]int32]int32{} // only looked up, never ranged over
	for k, col := range cols {
		for i, pt := range col {
			col[i] = n.row[pt]
		}
		insertionSort(col)
		for _, j := range col {
			slots[[2]int32{int32(k), j}] = int32(len(p.to))
			p.to = append(p.to, j)
		}
		p.col = append(p.col, int32(len(p.to)))
	}
	for k := range cols {
		col := p.to[p.col[k]:p.col[k+1]]
		for a := range col {
			for b := a + 1; b < len(col); b++ {
				p.pair = append(p.pair, slots[[2]int32{col[a], col[b]}])
			}
		}
		p.from = append(p.from, int32(len(p.pair)))
	}
	for _, e := range n.elements {
		i, j := n.row[e.From], n.row[e.To]
		switch {
		case i < 0 && j < 0:
			p.slot = append(p.slot, -2)
		case i < 0 || j < 0:
			p.slot = append(p.slot, -1)
		default:
			p.slot = append(p.slot, slots[[2]int32{min(i, j), max(i, j)}])
		}
	}
	n.plan = p
}

// join lists the elements at each point, and at each point with the held ones merged.
func (n *Net) join() {
	own := func(p int32) int32 { return p }
	n.link, n.linkTo = incidence(n.elements, len(n.points), own)
	n.merged, n.mergedTo = incidence(n.elements, len(n.at)+1, func(p int32) int32 { return n.row[p] + 1 })
}

// incidence lists, compressed, the elements at each node.
func incidence(elements []Element, nodes int, node func(int32) int32) (begin, list []int32) {
	begin = make([]int32, nodes+1)
	for _, e := range elements {
		begin[node(e.From)+1]++
		begin[node(e.To)+1]++
	}
	for i := range nodes {
		begin[i+1] += begin[i]
	}
	list = make([]int32, 2*len(elements))
	next := append([]int32(nil), begin...)
	for i, e := range elements {
		for _, p := range [2]int32{node(e.From), node(e.To)} {
			list[next[p]] = int32(i)
			next[p]++
		}
	}
	return begin, list
}

// set is a small set of points, unordered.
type set []int32

func (s *set) add(p int32) {
	for _, q := range *s {
		if q == p {
			return
		}
	}
	*s = append(*s, p)
}

func (s *set) remove(p int32) {
	for i, q := range *s {
		if q == p {
			(*s)[i] = (*s)[len(*s)-1]
			*s = (*s)[:len(*s)-1]
			return
		}
	}
}

func (s set) sorted() []int32 {
	c := append([]int32(nil), s...)
	insertionSort(c)
	return c
}

func insertionSort(c []int32) {
	for i := 1; i < len(c); i++ {
		for j := i; j > 0 && c[j] < c[j-1]; j-- {
			c[j], c[j-1] = c[j-1], c[j]
		}
	}
}
