package hydraulics

// A ring can lie between one-way parts that all point into it, as behind two pumps side by
// side with nothing drawn: each could bring water and nothing takes it away. It is no dead
// end and no bridge, so it is solved for, and what flows is nothing; but what stands in it
// is trapped, and its head an interval like that of any other trap.

// bar marks the live elements that one-way parts keep from ever carrying water: those of a
// strand with one-way parts both ways, and at a free point that strands can only bring
// water to, or only take it from, all of them; and so on.
func (n *Net) bar(w *Work, t *standing) {
	if t.barred == nil {
		t.barred = make([]bool, len(n.elements))
	}
	if w.stand.in == nil {
		w.stand.in, w.stand.out = make([]int32, len(n.points)), make([]int32, len(n.points))
	}
	clear(t.barred)
	l, barred, still := w.lay, t.barred, t.still[:0]
	in, out := w.stand.in, w.stand.out
	for again := true; again; {
		again = false
		clear(in)
		clear(out)
		for _, t := range l.strands {
			along, against := n.oneWays(l, barred, t)
			if along {
				out[t.from]++
				in[t.to]++
			}
			if against {
				in[t.from]++
				out[t.to]++
			}
		}
		for _, t := range l.strands {
			if barred[l.members[t.first].e] {
				continue
			}
			along, against := n.oneWays(l, barred, t)
			shut := func(p int32) bool { return !n.held[p] && (in[p] == 0 || out[p] == 0) }
			if !along && !against || shut(t.from) || shut(t.to) {
				for _, m := range l.members[t.first:t.last] {
					barred[m.e] = true
					still = append(still, m.e)
				}
				again = true
			}
		}
	}
	t.still = still
}

// oneWays reports which ways a strand lets water; none once it is barred.
func (n *Net) oneWays(l *layout, barred []bool, t strand) (along, against bool) {
	if barred[l.members[t.first].e] {
		return false, false
	}
	along, against = true, true
	for _, m := range l.members[t.first:t.last] {
		if n.ways[m.e].oneWay {
			along = along && !m.back
			against = against && m.back
		}
	}
	return along, against
}
