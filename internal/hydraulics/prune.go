package hydraulics

// An element can carry water in a steady state only if it lies on a ring, counting all
// held points as one: everything else is a bridge, and what flows over a bridge would
// have nowhere to come from or go to. Bridges are found exactly, by one depth-first
// search (Tarjan 1974, Inf. Process. Lett. 2:160), and taken out of the equations; heads
// are handed across them afterwards.

// pruner finds bridges with buffers that last.
type pruner struct {
	seen, low []int32 // per merged node: order of discovery (0: not yet), lowest reachable
	stack     []visit
}

type visit struct {
	node, by int32 // the node, the element it was reached by (−1: none)
	next     int32 // index of the next element to look at
}

func newPruner(n *Net) *pruner {
	nodes := len(n.at) + 1
	return &pruner{seen: make([]int32, nodes), low: make([]int32, nodes), stack: make([]visit, 0, nodes)}
}

// live sets live[e] for every element that is not gone and lies on a ring.
func (p *pruner) live(n *Net, gone, live []bool) {
	clear(p.seen)
	for e := range live {
		live[e] = !gone[e]
	}
	count := int32(0)
	for root := range p.seen {
		if p.seen[root] == 0 {
			count = p.walk(n, int32(root), count, gone, live)
		}
	}
}

// walk searches one component from root, clearing live on its bridges.
func (p *pruner) walk(n *Net, root, count int32, gone, live []bool) int32 {
	enter := func(node, by int32) {
		count++
		p.seen[node], p.low[node] = count, count
		p.stack = append(p.stack, visit{node, by, n.merged[node]})
	}
	enter(root, -1)
	for len(p.stack) > 0 {
		v := &p.stack[len(p.stack)-1]
		if v.next < n.merged[v.node+1] {
			e := n.mergedTo[v.next]
			v.next++
			if gone[e] || e == v.by {
				continue
			}
			far := n.across(e, v.node)
			switch {
			case far == v.node: // both ends held: a ring of its own
			case p.seen[far] == 0:
				enter(far, e)
			default:
				p.low[v.node] = min(p.low[v.node], p.seen[far])
			}
			continue
		}
		done := *v
		p.stack = p.stack[:len(p.stack)-1]
		if done.by < 0 {
			continue
		}
		parent := &p.stack[len(p.stack)-1]
		p.low[parent.node] = min(p.low[parent.node], p.low[done.node])
		if p.low[done.node] > p.seen[parent.node] {
			live[done.by] = false
		}
	}
	return count
}

// across is the merged node at the other end of element e.
func (n *Net) across(e, node int32) int32 {
	f, t := n.row[n.elements[e].From]+1, n.row[n.elements[e].To]+1
	if f == node {
		return t
	}
	return f
}
