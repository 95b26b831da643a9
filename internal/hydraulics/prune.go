package hydraulics

// An element can carry water in a steady state only if it lies on a ring, counting all
// held points as one: everything else is a bridge. Dead ends are found by stripping
// (layout.go); a ring that hangs on the rest by a single way needs a search: depth-first
// (Tarjan 1974, Inf. Process. Lett. 2:160), over strands.

// bridges finds bridges with buffers that last.
type bridges struct {
	is        []bool  // per strand
	seen, low []int32 // per node: order of discovery (0: not yet), lowest reachable
	begin, at []int32 // the strands at each node, compressed
	stack     []visit
}

type visit struct {
	node, by int32 // the node, the strand it was reached by (−1: none)
	next     int32 // index of the next strand to look at
}

func newBridges(points, elements int) bridges {
	return bridges{
		is: make([]bool, elements), seen: make([]int32, points+1), low: make([]int32, points+1),
		begin: make([]int32, points+3), at: make([]int32, 2*elements),
		stack: make([]visit, 0, points+1),
	}
}

// find marks the bridges among the strands and returns how many there are. Node 0 is all
// held points together; a free point is its number and 1.
func (b *bridges) find(points int, strands []strand) int {
	b.join(points, strands)
	clear(b.seen)
	clear(b.is)
	count, found := int32(0), 0
	for root := range b.seen {
		if b.seen[root] == 0 {
			count = b.walk(strands, int32(root), count, &found)
		}
	}
	return found
}

// join lists the strands at each node.
func (b *bridges) join(points int, strands []strand) {
	// begin[v+2] counts first; one place further on, filling moves it to where v+1 begins.
	clear(b.begin)
	for _, t := range strands {
		b.begin[t.i+3]++
		b.begin[t.j+3]++
	}
	for v := range points + 1 {
		b.begin[v+2] += b.begin[v+1]
	}
	for k, t := range strands {
		for _, v := range [2]int32{t.i + 1, t.j + 1} {
			b.at[b.begin[v+1]] = int32(k)
			b.begin[v+1]++
		}
	}
}

// walk searches one component from root, marking its bridges.
func (b *bridges) walk(strands []strand, root, count int32, found *int) int32 {
	enter := func(node, by int32) {
		count++
		b.seen[node], b.low[node] = count, count
		b.stack = append(b.stack, visit{node, by, b.begin[node]})
	}
	enter(root, -1)
	for len(b.stack) > 0 {
		v := &b.stack[len(b.stack)-1]
		if v.next < b.begin[v.node+1] {
			k := b.at[v.next]
			v.next++
			if k == v.by {
				continue
			}
			far := strands[k].i + strands[k].j + 2 - v.node
			switch {
			case far == v.node: // a ring of its own
			case b.seen[far] == 0:
				enter(far, k)
			default:
				b.low[v.node] = min(b.low[v.node], b.seen[far])
			}
			continue
		}
		done := *v
		b.stack = b.stack[:len(b.stack)-1]
		if done.by < 0 {
			continue
		}
		parent := &b.stack[len(b.stack)-1]
		b.low[parent.node] = min(b.low[parent.node], b.low[done.node])
		if b.low[done.node] > b.seen[parent.node] {
			b.is[done.by] = true
			*found++
		}
	}
	return count
}
