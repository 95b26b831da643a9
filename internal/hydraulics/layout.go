package hydraulics

import "slices"

// What a case leaves of the circuit to solve. Elements that can carry no water are taken
// out, and those that follow one another with nothing branching off between are strung
// together: they share one flow, so that they are one law, the sum of theirs, and the
// points between them need no head until the end. This is exact: it is the elimination
// of those points, done before the first step instead of at every one.

// layout is what was left when some elements were gone, with what it means in this circuit.
type layout struct {
	*shape
	own shape // where the album takes no more

	// The strands' laws (edge.go), once they have been added up, at these openings of the
	// members.
	summed  bool
	opening []float64
	edges   []edge
	pipes   []pipes
	squares []squared
	others  []odd

	stood    *standing // how water stands, once it has been asked for
	ownStood standing
}

// shape is a layout without a figure in it: it follows from how the circuit is joined and
// what is gone, and serves for every circuit that is joined so (album.go).
type shape struct {
	plain bool   // nothing strung together
	pin   int32  // a point kept whatever joins there, or −1
	gone  []bool // what it was laid out for

	live    []bool   // per element: it can carry water
	strands []strand // what is solved for
	members []member // their elements, in order
	plan    plan

	stood []*standing // one for each way the pumps have run so far; the album's lock guards it
}

// strand is a string of elements with one flow, from one kept point to another.
type strand struct {
	from, to    int32 // points
	i, j        int32 // the same, −1 where held
	slot        int32 // of the conductance between them; −1 when there is none
	first, last int32 // its members: first to last − 1
}

// member is one element of a strand; it lies along or against its direction.
type member struct {
	e    int32
	back bool
}

func newShape(n *Net) shape {
	e, p := len(n.elements), len(n.points)
	return shape{gone: make([]bool, e), live: make([]bool, e),
		strands: make([]strand, 0, 8+e/4), members: make([]member, 0, e), plan: newPlan(p)}
}

// layer is what laying out needs besides: buffers that last.
type layer struct {
	degree []int32 // per point: live elements at it
	mix    []int32 // their numbers, exclusive-or: of two the one gives the other
	done   []bool  // elements already in a strand
	bridge bridges
	near   [][]int32 // per free point: neighbours not yet eliminated
	place  []int32   // per point: its place in the elimination, or −1
}

func newLayer(n *Net) layer {
	const few = 6 // neighbours: more are rare, and make the list grow
	e, p := len(n.elements), len(n.points)
	y := layer{
		degree: make([]int32, p), mix: make([]int32, p), done: make([]bool, e),
		bridge: newBridges(p, e), near: make([][]int32, p), place: make([]int32, p),
	}
	slab := make([]int32, few*p)
	for i := range y.near {
		y.near[i] = slab[few*i : few*i : few*i+few]
	}
	return y
}

// lay makes l the layout of the circuit without what is gone, unless it is already.
func (n *Net) lay(w *Work, l *layout) {
	w.lay = l
	if l.shape != nil && l.plain == w.plain && l.pin == w.pin && slices.Equal(w.gone, l.gone) {
		return
	}
	l.summed, l.stood = false, nil
	room := false
	if w.vain < giveUp {
		w.mark = w.marked(w.mark[:0])
		if l.shape, room = n.album.find(w.mark); l.shape != nil {
			w.vain--
			return
		}
		w.vain++
	}
	if !room {
		n.shape(w, &l.own)
		l.shape = &l.own
		return
	}
	made := new(shape)
	n.shape(w, made)
	l.shape = n.album.keep(w.mark, made)
}

// shape works a shape out.
func (n *Net) shape(w *Work, l *shape) {
	if l.live == nil {
		*l = newShape(n)
	}
	if w.layer.degree == nil {
		w.layer = newLayer(n)
	}
	copy(l.gone, w.gone)
	l.plain, l.pin = w.plain, w.pin
	n.strip(l, &w.layer)
	n.string(l, &w.layer)
	if tree := n.plan(l, &w.layer); !tree {
		n.cut(l, &w.layer.bridge)
	}
}

// strip finds the elements that are not gone and do not lead to a dead end.
func (n *Net) strip(l *shape, y *layer) {
	clear(y.degree)
	clear(y.mix)
	for e, gone := range l.gone {
		if l.live[e] = !gone; gone {
			continue
		}
		for _, p := range n.ends[e] {
			y.degree[p]++
			y.mix[p] ^= int32(e)
		}
	}
	for p := range n.points {
		for p := int32(p); y.degree[p] == 1 && !n.held[p]; {
			e := y.mix[p]
			l.live[e], y.degree[p] = false, 0
			p = n.across(e, p)
			y.degree[p]--
			y.mix[p] ^= e
		}
	}
}

// across is the point at the other end of an element.
func (n *Net) across(e, p int32) int32 { return n.ends[e][0] + n.ends[e][1] - p }

// string lists the strands. A ring that nothing else joins starts anywhere on it.
func (n *Net) string(l *shape, y *layer) {
	l.strands, l.members = l.strands[:0], l.members[:0]
	clear(y.done)
	kept := func(p int32) bool { return n.held[p] || y.degree[p] != 2 || p == l.pin || l.plain }
	left := 0
	for e, live := range l.live {
		if !live || y.done[e] {
			continue
		}
		switch ends := n.ends[e]; {
		case kept(ends[0]):
			n.follow(l, y, int32(e), ends[0], kept)
		case kept(ends[1]):
			n.follow(l, y, int32(e), ends[1], kept)
		default:
			left++
		}
	}
	if left == 0 {
		return
	}
	for e, live := range l.live {
		if live && !y.done[e] {
			n.follow(l, y, int32(e), n.ends[e][0], kept)
		}
	}
}

// follow strings the elements from start, by e first, to the next point that is kept.
func (n *Net) follow(l *shape, y *layer, e, start int32, kept func(int32) bool) {
	t := strand{from: start, first: int32(len(l.members))}
	for p := start; ; {
		l.members = append(l.members, member{e, n.ends[e][0] != p})
		y.done[e] = true
		if p = n.across(e, p); p == start || kept(p) {
			t.to = p
			break
		}
		e ^= y.mix[p]
	}
	t.last = int32(len(l.members))
	n.turn(l, &t)
	t.i, t.j = n.free(t.from), n.free(t.to)
	l.strands = append(l.strands, t)
}

// free is the point, or −1 where its head is held.
func (n *Net) free(p int32) int32 {
	if n.held[p] {
		return -1
	}
	return p
}

// turn makes a strand run the way its first one-way part does.
func (n *Net) turn(l *shape, t *strand) {
	list := l.members[t.first:t.last]
	for _, m := range list {
		if way := &n.ways[m.e]; way.oneWay || way.pump != nil {
			if m.back {
				slices.Reverse(list)
				for i := range list {
					list[i].back = !list[i].back
				}
				t.from, t.to = t.to, t.from
			}
			return
		}
	}
}

// cut takes out strands that are no part of a ring, counting all held points as one: what
// flowed over such a bridge would have nowhere to come from or go to.
func (n *Net) cut(l *shape, b *bridges) {
	if b.find(len(n.points), l.strands) == 0 {
		return
	}
	left := l.strands[:0]
	for k, t := range l.strands {
		if !b.is[k] {
			left = append(left, t)
			continue
		}
		for _, m := range l.members[t.first:t.last] {
			l.live[m.e] = false
		}
	}
	l.strands = left
}
