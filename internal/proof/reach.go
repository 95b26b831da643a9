package proof

import (
	"math"
)

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
	if o.plainly != nil {
		return o.plainly.upstream(point, goal, asked)
	}
	if o.s.points[point].held && goal < 0 {
		return o.source(-1, point, asked) & asked
	}
	w := o.w
	w.floods++
	w.flooded[point] = w.floods
	w.upward = append(w.upward[:0], point)
	var set Source
	elements := o.s.in.Circuit.Net.Elements()
	for i := 0; i < len(w.upward); i++ {
		v := w.upward[i]
		for _, e := range o.s.in.Circuit.Touching(v) {
			el := &elements[e]
			u := el.From + el.To - v
			if w.flooded[u] == w.floods && !(o.s.rules[e].pump && asked&Pumped != 0) {
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
	if !forwards && rule.oneWay || held.held && u != goal && !rule.pump && !o.wanted(e, u, asked) {
		return 0
	}
	if rule.pump && !forwards && o.runs(e) || !o.on(e) {
		return 0
	}
	var set Source
	if rule.pump && asked&Pumped != 0 && o.runs(e) {
		set = Pumped
	}
	if u == goal {
		return 1
	}
	if held.held {
		return set | o.source(e, u, asked)&asked
	}
	if o.w.flooded[u] != o.w.floods {
		o.w.flooded[u] = o.w.floods
		o.w.upward = append(o.w.upward, u)
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
		if asked&Street != 0 && o.world(vMain, 1<<Good|1<<Weak|1<<High) {
			return Street
		}
	case held.upper:
		if asked&Stored != 0 && !o.world(vHeader, 1<<Empty) {
			return Stored
		}
	case held.surface:
		if asked&Stored != 0 && !o.world(vStore, 1<<Empty) {
			return Stored
		}
	case e < 0: // a mouth asked about itself
	case o.s.rules[e].wet:
		return Foreign
	case o.s.rules[e].nature == airs:
		return Air
	}
	return 0
}

// most returns the greatest head that can press on a point, −Inf for none: the highest of
// the sources upstream, and what the pump adds at no flow where it stands between. No head
// of the steady state is above it: along every part but the running pump the head falls
// the way the water goes, so that a point without a higher neighbour upstream is held.
func (o *oracle) most(point int32) float64 {
	if o.plainly != nil {
		return o.plainly.most(point)
	}
	if n, known := o.recall(); known {
		return n.low
	}
	top, lifted := o.topOf(point)
	c := o.s.in.Circuit
	for k, pump := range c.Pumps() {
		if lifted>>k&1 == 0 {
			continue
		}
		if from, _ := o.topOf(c.PointOf(pump, 0)); !math.IsInf(from, -1) {
			top = math.Max(top, from+c.PumpLaw().ShutOff(1))
		}
	}
	o.note(note{low: top})
	return top
}

// topOf is the greatest head of the sources upstream of a point without going through the
// running pump; lifted tells, as bits, to which pumps' outlets the way leads.
func (o *oracle) topOf(point int32) (top float64, lifted uint8) {
	w := o.w
	w.floods++
	w.flooded[point] = w.floods
	w.upward = append(w.upward[:0], point)
	top = math.Inf(-1)
	if o.s.points[point].held {
		return o.headHeld(point), 0
	}
	elements := o.s.in.Circuit.Net.Elements()
	for i := 0; i < len(w.upward); i++ {
		v := w.upward[i]
		for _, e := range o.s.in.Circuit.Touching(v) {
			u, rule := elements[e].From+elements[e].To-v, &o.s.rules[e]
			if w.flooded[u] == w.floods || u == elements[e].To && rule.oneWay {
				continue
			}
			running := rule.pump && o.runs(e)
			if running && u == elements[e].To || !o.on(e) {
				continue
			}
			switch {
			case running:
				lifted |= 1 << rule.which
			case o.s.points[u].held:
				top = math.Max(top, o.headHeld(u))
			default:
				w.flooded[u] = w.floods
				w.upward = append(w.upward, u)
			}
		}
	}
	return top, lifted
}

// runsOut reports whether water at a point can run out into the air somewhere: it goes
// downstream along everything that passes, as far as the first open mouth.
func (o *oracle) runsOut(point int32) bool {
	if o.plainly != nil {
		return o.plainly.runsOut(point)
	}
	if n, known := o.recall(); known {
		return n.set != 0
	}
	var set Source
	if o.downstream(point) {
		set = 1
	}
	o.note(note{set: set})
	return set != 0
}

func (o *oracle) downstream(point int32) bool {
	w := o.w
	w.floods++
	w.flooded[point] = w.floods
	w.upward = append(w.upward[:0], point)
	elements := o.s.in.Circuit.Net.Elements()
	for i := 0; i < len(w.upward); i++ {
		v := w.upward[i]
		for _, e := range o.s.in.Circuit.Touching(v) {
			u, rule := elements[e].From+elements[e].To-v, &o.s.rules[e]
			held := &o.s.points[u]
			if w.flooded[u] == w.floods || u == elements[e].From && rule.oneWay || held.street || held.surface {
				continue
			}
			if u == elements[e].From && rule.pump && o.runs(e) || !o.on(e) {
				continue
			}
			if held.held {
				return true
			}
			w.flooded[u] = w.floods
			w.upward = append(w.upward, u)
		}
	}
	return false
}

// headHeld is the head of a held point.
func (o *oracle) headHeld(p int32) float64 {
	switch held := &o.s.points[p]; {
	case held.street:
		h, _ := o.mainHead()
		return h
	case held.upper:
		return o.upper()
	case held.surface:
		return o.level()
	}
	return o.s.in.Circuit.Net.Points()[p].Z
}
