package proof

import "tideover/internal/circuit"

// reaches returns which of the sources asked for press on a point. It goes upstream from
// the point along everything that passes towards it and stops at water held in the open.
func (o *oracle) reaches(point int32, asked Source) Source {
	if n, known := o.recall(); known {
		return n.set
	}
	set := o.upstream(point, -1, asked)
	o.note(note{set: set})
	return set
}

// joined reports whether water at one point can get to another.
func (o *oracle) joined(from, to int32) bool {
	if n, known := o.recall(); known {
		return n.set != 0
	}
	var set Source
	if from == to || o.upstream(to, from, 0) != 0 {
		set = 1
	}
	o.note(note{set: set})
	return set != 0
}

// upstream collects the sources asked for; with a goal, a point, it returns whether that is
// met on the way, as 1.
func (o *oracle) upstream(point, goal int32, asked Source) Source {
	w := o.w
	w.stamp++
	w.mark[point] = w.stamp
	w.queue = append(w.queue[:0], point)
	var set Source
	elements := o.s.in.Circuit.Net.Elements()
	for i := 0; i < len(w.queue); i++ {
		v := w.queue[i]
		for _, e := range o.s.in.Circuit.Touching(v) {
			el := &elements[e]
			u := el.From + el.To - v
			if w.mark[u] == w.stamp && !(o.s.rules[e].pump && asked&Pumped != 0) {
				continue
			}
			set |= o.along(e, u, u == el.From, goal, asked)
			if goal >= 0 && set != 0 || goal < 0 && set&asked == asked {
				return set
			}
		}
	}
	return set
}

// along goes upstream through one element to its far point u.
func (o *oracle) along(e, u int32, forwards bool, goal int32, asked Source) Source {
	rule, held := &o.s.rules[e], &o.s.points[u]
	if !forwards && rule.oneWay || held.held && u != goal && !o.wanted(e, u, asked) {
		return 0
	}
	if rule.pump && !forwards && o.pumping() != circuit.Standing || !o.on(e) {
		return 0
	}
	var set Source
	if rule.pump && asked&Pumped != 0 && o.pumping() != circuit.Standing {
		set = Pumped
	}
	if u == goal {
		return 1
	}
	if held.held {
		return set | o.source(e, u, asked)
	}
	if o.w.mark[u] != o.w.stamp {
		o.w.mark[u] = o.w.stamp
		o.w.queue = append(o.w.queue, u)
	}
	return set
}

// wanted tells, without a question, whether a held point could be a source asked for.
func (o *oracle) wanted(e, u int32, asked Source) bool {
	switch held := &o.s.points[u]; {
	case held.street:
		return asked&Street != 0
	case held.surface:
		return asked&Stored != 0
	case o.s.rules[e].wet:
		return asked&Foreign != 0
	case o.s.rules[e].nature == airs:
		return asked&Air != 0
	}
	return false
}

// source names what a held point is, while it is there.
func (o *oracle) source(e, u int32, asked Source) Source {
	switch held := &o.s.points[u]; {
	case held.street:
		if o.world(vMain, 1<<Good|1<<Weak|1<<High) {
			return Street
		}
	case held.surface:
		if !o.world(vStore, 1<<Empty) {
			return Stored
		}
	case o.s.rules[e].wet:
		return Foreign
	case o.s.rules[e].nature == airs:
		return Air
	}
	return 0
}
