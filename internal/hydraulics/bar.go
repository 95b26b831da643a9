package hydraulics

// A ring can lie between one-way parts that all point into it, as behind two pumps side by
// side with nothing drawn: each could bring water and nothing takes it away. It is no dead
// end and no bridge, so it is solved for, and what flows is nothing; but what stands in it
// is trapped, and its head an interval like that of any other trap. Whether water can come
// and go is a matter of the whole group that such parts surround, not of a point: two
// points of a ring each see the other give and take.

// bar marks the live elements that one-way parts keep from ever carrying water. Steady flow
// runs in circles, counting all held points as one. So a strand carries some only within a
// strongly connected component of the ways water is let, and only where something drives
// it: the component holds a held head, or a pump that runs.
func (n *Net) bar(s *State, w *Work, t *standing) {
	if t.barred == nil {
		t.barred = make([]bool, len(n.elements))
	}
	if w.layer.degree == nil {
		w.layer = newLayer(n)
	}
	clear(t.barred)
	l, c := w.lay, &w.stand.circles
	c.find(n, s, l, &w.layer.bridge)
	t.still = t.still[:0]
	for _, strand := range l.strands {
		if i := c.of[strand.i+1]; i == c.of[strand.j+1] && c.driven[i] {
			if along, against := n.oneWays(s, l, strand); along || against {
				continue
			}
		}
		for _, m := range l.members[strand.first:strand.last] {
			t.barred[m.e] = true
			t.still = append(t.still, m.e)
		}
	}
}

// oneWays reports which ways a strand lets water in a state: one-way parts and pumps that run
// let it one way.
func (n *Net) oneWays(s *State, l *layout, t strand) (along, against bool) {
	along, against = true, true
	for _, m := range l.members[t.first:t.last] {
		if n.ways[m.e].stiff(s.Opening[m.e]) {
			along = along && !m.back
			against = against && m.back
		}
	}
	return along, against
}

// drives reports whether a strand holds something that adds head: a pump that runs.
func (n *Net) drives(s *State, l *layout, t strand) bool {
	for _, m := range l.members[t.first:t.last] {
		if n.ways[m.e].adds && s.Opening[m.e] > 0 {
			return true
		}
	}
	return false
}

// circles finds strongly connected components (Tarjan 1972, SIAM J. Comput. 1:146) of the
// ways a layout lets water, with buffers that last. Node 0 is all held points together; a
// free point is its number and 1.
type circles struct {
	of     []int32 // per node: its component, from 1; 0 while it has none
	driven []bool  // per component: it holds a held head or a pump that runs
	seen   []int32 // per node: order of discovery (0: not yet)
	low    []int32 // per node: the lowest it reaches
	open   []int32 // nodes found that have no component yet
	stack  []visit
}

func newCircles(points int) circles {
	return circles{
		of: make([]int32, points+1), driven: make([]bool, points+2),
		seen: make([]int32, points+1), low: make([]int32, points+1),
	}
}

func (c *circles) find(n *Net, s *State, l *layout, b *bridges) {
	b.join(len(n.points), l.strands)
	clear(c.of)
	clear(c.seen)
	clear(c.driven)
	found, count := int32(0), int32(0)
	for root := range c.of {
		if c.seen[root] == 0 {
			found, count = c.walk(n, s, l, b, int32(root), found, count)
		}
	}
	c.driven[c.of[0]] = true
	for _, t := range l.strands {
		if i := c.of[t.i+1]; i == c.of[t.j+1] && n.drives(s, l, t) {
			c.driven[i] = true
		}
	}
}

// walk searches all that root leads to and numbers its components.
func (c *circles) walk(n *Net, s *State, l *layout, b *bridges, root, found, count int32) (int32, int32) {
	enter := func(node int32) {
		count++
		c.seen[node], c.low[node] = count, count
		c.open = append(c.open, node)
		c.stack = append(c.stack, visit{node: node, next: b.begin[node]})
	}
	enter(root)
	for len(c.stack) > 0 {
		v := &c.stack[len(c.stack)-1]
		if v.next < b.begin[v.node+1] {
			t, node := l.strands[b.at[v.next]], v.node
			v.next++
			along, against := n.oneWays(s, l, t)
			for _, way := range [2]struct {
				let      bool
				from, to int32
			}{{along, t.i + 1, t.j + 1}, {against, t.j + 1, t.i + 1}} {
				switch {
				case !way.let || way.from != node:
				case c.seen[way.to] == 0:
					enter(way.to)
				case c.of[way.to] == 0:
					c.low[way.from] = min(c.low[way.from], c.seen[way.to])
				}
			}
			continue
		}
		node := v.node
		c.stack = c.stack[:len(c.stack)-1]
		if len(c.stack) > 0 {
			parent := c.stack[len(c.stack)-1].node
			c.low[parent] = min(c.low[parent], c.low[node])
		}
		if c.low[node] != c.seen[node] {
			continue
		}
		found++
		for done := false; !done; {
			last := c.open[len(c.open)-1]
			c.open = c.open[:len(c.open)-1]
			c.of[last], done = found, last == node
		}
	}
	return found, count
}
