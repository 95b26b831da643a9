package assembly

// flood returns the parts that water from part at can reach through pipes. With a setting,
// valves pass as they stand, without one every valve does, and a spool lies by; with oneWay, a non-return valve and a pump pass from in to
// out alone.
func (a *Assembly) flood(at int, s *Setting, oneWay bool) map[int]bool {
	been := map[int]bool{at: true}
	entered := map[End]bool{}
	var visit func(e End)
	leave := func(i, in int) {
		p := &a.Parts[i]
		for out := range p.Ports {
			if out != in && a.passes(p, in, out, s, oneWay) {
				if o, ok := a.Meets(End{i, out}); ok {
					visit(o)
				}
			}
		}
	}
	visit = func(e End) {
		if entered[e] {
			return
		}
		entered[e] = true
		been[e.Part] = true
		leave(e.Part, e.Port)
	}
	leave(at, -1)
	return been
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
	s := Sides{make([]bool, len(a.Parts)), make([]bool, len(a.Parts))}
	for _, from := range []struct {
		kind Kind
		to   []bool
	}{{Main, s.Main}, {Store, s.Store}} {
		for _, i := range a.Of(from.kind) {
			for at := range a.flood(i, nil, true) {
				from.to[at] = true
			}
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
