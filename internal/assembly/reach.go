package assembly

// flood marks the parts that water from part at can reach through pipes. With a setting,
// valves pass as they stand, without one every valve does, and a spool lies by; with
// oneWay, a non-return valve and a pump pass from in to out alone.
func (a *Assembly) flood(at int, s *Setting, oneWay bool) (been []bool) {
	return a.floodOver(a.mates(), at, s, oneWay)
}

// floodOver is flood over a table of joins.
func (a *Assembly) floodOver(m mates, at int, s *Setting, oneWay bool) (been []bool) {
	been = make([]bool, len(a.Parts))
	entered := make([]bool, len(m.mate))
	visit := []End{{at, -1}}
	for len(visit) > 0 {
		e := visit[len(visit)-1]
		visit = visit[:len(visit)-1]
		been[e.Part] = true
		p := &a.Parts[e.Part]
		for out := range p.Ports {
			k := m.first[e.Part] + out
			if o := m.mate[k]; out != e.Port && o.Part >= 0 && a.passes(p, e.Port, out, s, oneWay) {
				if to := m.first[o.Part] + o.Port; !entered[to] {
					entered[to] = true
					visit = append(visit, o)
				}
			}
		}
	}
	return been
}

// mates is what every port is joined to, looked up once where a walk asks for all.
type mates struct {
	first []int // per part: the place of its first port in mate
	mate  []End // Part −1 where open
}

func (a *Assembly) mates() mates {
	m := mates{first: make([]int, len(a.Parts))}
	n := 0
	for i := range a.Parts {
		m.first[i] = n
		n += len(a.Parts[i].Ports)
	}
	m.mate = make([]End, n)
	for k := range m.mate {
		m.mate[k].Part = -1
	}
	for _, j := range a.Joins {
		for _, e := range [2][2]End{{j.A, j.B}, {j.B, j.A}} {
			if to := &m.mate[m.first[e[0].Part]+e[0].Port]; to.Part < 0 {
				*to = e[1]
			}
		}
	}
	return m
}

func (a *Assembly) passes(p *Part, in, out int, s *Setting, oneWay bool) bool {
	switch {
	case in < 0:
		return true
	case p.Kind == NonReturn || p.Kind == Pump:
		return !oneWay || in < out
	case p.Kind == Store, p.Kind == FloatValve, p.Kind == Spool && s == nil:
		return false
	case s == nil || p.Ways == nil:
		return true
	}
	for _, w := range p.Ways {
		if w.Position == s.Positions[p.Tag] && (w.A == in && w.B == out || w.A == out && w.B == in) {
			return true
		}
	}
	return false
}

// Sides says which water can ever get to an outlet with every valve open: the main's, the
// store's or both. Where it is never both, no pipe joins the two.
type Sides struct{ Main, Store []bool } // per part

// Sides works out what the main and the stores can reach.
func (a *Assembly) Sides() Sides {
	if a.sides.Main != nil {
		return a.sides
	}
	s := Sides{make([]bool, len(a.Parts)), make([]bool, len(a.Parts))}
	m := a.mates()
	for _, from := range []struct {
		kind Kind
		to   []bool
	}{{Main, s.Main}, {Store, s.Store}} {
		for _, i := range a.Of(from.kind) {
			mark(from.to, a.floodOver(m, i, nil, true))
		}
	}
	return s
}

// meets reports whether pipes, valves open or shut, lead from a part of one kind to a part
// of another.
func (a *Assembly) meets(from, to Kind) bool {
	for _, i := range a.Of(from) {
		been := a.flood(i, nil, false)
		for _, k := range a.Of(to) {
			if been[k] {
				return true
			}
		}
	}
	return false
}
