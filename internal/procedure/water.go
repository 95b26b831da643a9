package procedure

import "tideover/internal/assembly"

// Flush is what is rinsed before the tie-in, through hose ends, and what after it, tap by tap.
func (h *Home) Flush() []List {
	var off, on steps
	off.add(h.stored(), "store", Alone, acts(Handle, "open", h.as(assembly.AsStoreDrain, assembly.AsHeaderDrain)...)...)
	off.add(h.stored() && h.pumped(), "home-end", Alone)
	off.add(h.stored() && !h.pumped(), "home-end-still", Alone)
	off.add(true, "street-end", Alone, h.streetEnd("clean")...)
	off.add(true, "baskets", Alone)
	on.add(true, "heater", Alone)
	on.add(true, "aerators", Alone)
	on.add(true, "drain", Alone)
	on.add(true, "order", Alone)
	on.add(true, "hot", Alone)
	return []List{{"flush.off", off}, {"flush.on", on}}
}

// streetEnd presses water in at the street's end of the new pipe: through the feed with its
// float valve held down, and through every leg that a non-return valve keeps the pump's
// water out of, to the hose at the home's end.
func (h *Home) streetEnd(water string) []Act {
	return with(alone(PressIn, water), acts(Handle, "open", h.as(assembly.AsFeedValve)...), acts(Handle, "down", h.as(assembly.AsFloat)...))
}

// Disinfect is what puts chlorine into all that is new: before the tie-in through hose ends,
// at the tie-in by hand, and after it nothing but rinsing.
func (h *Home) Disinfect() []List {
	pump := h.pumped()
	var s, tie steps
	s.add(true, "tell", Alone)
	s.add(true, "ends", Alone)
	s.add(true, "fill", Alone)
	s.add(true, "pour", Alone, acts(Dose, "", h.low()...)...)
	s.add(pump, "mix", Alone)
	s.add(!pump, "stir", Alone)
	s.add(h.lifted(), "header", Alone)
	s.add(true, "draw", Alone)
	s.add(true, "feed", Alone, h.streetEnd("dosed")...)
	ways := h.legHandles()
	s.add(len(h.legs()) > 0, "legs", Alone, with(ways, acts(SeeWater, "dosed", h.legs()...))...)
	s.add(true, "drains", Alone, acts(SeeWater, "dosed", h.newDrains()...)...)
	s.add(len(ways) > 0, "legs-back", Alone, h.undone(ways, nil)...)
	for _, id := range []string{"hold", "test", "neutralise", "flush", "rinse"} {
		s.add(true, id, Alone)
	}
	for _, id := range []string{"swab-make", "swab", "swab-joint", "last", "sample"} {
		tie.add(true, id, Alone)
	}
	return []List{{"disinfect.step", s}, {"disinfect.tie", tie}}
}

// legs are the non-return valves that the pump's water does not pass on its way to the
// home's end: only water from the street's end does.
func (h *Home) legs() []int {
	var list []int
	for _, i := range h.a.Of(assembly.NonReturn) {
		if r := h.a.Parts[i].Role; r == assembly.MainLeg || r == assembly.BypassBy {
			list = append(list, i)
		}
	}
	return list
}

// legHandles opens what is shut in those legs on an ordinary day: the by-pass, the spool.
func (h *Home) legHandles() []Act {
	var list []Act
	for i := range h.a.Parts {
		p := &h.a.Parts[i]
		if p.Role != assembly.MainLeg && p.Role != assembly.BypassBy {
			continue
		}
		switch {
		case p.Kind == assembly.HandValve && h.p.at[p.Tag] == "shut":
			list = append(list, Act{Handle, i, "open"})
		case p.Kind == assembly.Spool && h.p.at[p.Tag] == "out":
			list = append(list, Act{Handle, i, "in"})
		}
	}
	return list
}

// newDrains are the drains on new pipe that hangs on hoses: each is opened for a moment, so
// that the pocket it ends is dosed too.
func (h *Home) newDrains() []int {
	return h.where(func(i int, p *assembly.Part) bool { return p.Kind == assembly.Drain && p.Role != assembly.Service })
}

// BadWater is how a store that is full of bad water is made good, with the home joined: it
// is shut off from the street, emptied, cleaned, and only then dosed, out to every tap.
func (h *Home) BadWater() List {
	var s steps
	s.add(true, "tell", Alone)
	s.add(true, "apart", Alone, h.turned(h.p.at, h.apart())...)
	s.add(h.pumped(), "off", Alone, alone(Switch, "off")...)
	s.add(true, "empty", Alone, acts(Handle, "open", h.as(assembly.AsStoreDrain)...)...)
	s.add(true, "brush", Alone)
	s.add(true, "refill", Alone, with(acts(Handle, "shut", h.as(assembly.AsStoreDrain)...), acts(HoseIn, "clean", h.low()...))...)
	s.add(h.pumped(), "prime", Alone, with(acts(Prime, "", h.a.Of(assembly.Pump)...), alone(Switch, "on"))...)
	s.add(true, "heater", Alone)
	s.add(true, "dose", Alone, acts(Dose, "", h.low()...)...)
	s.add(h.lifted(), "header", Alone)
	s.add(true, "draw", Alone, acts(SeeWater, "dosed", h.storeTaps()...)...)
	for _, id := range []string{"hold", "drain", "rinse", "feed", "things", "back"} {
		s.add(true, id, Alone)
	}
	return List{"bad-water", s}
}

// apart is the standing of the handles in which nothing of the store's gets near the street
// and nothing of the main's near the store: the setting for a notice where it does that,
// else the feed shut, else the home shut off from the street.
func (h *Home) apart() map[string]string {
	var ways []map[string]string
	if at := h.setting("boil-notice"); at != nil {
		ways = append(ways, at)
	}
	for _, purposes := range [][]assembly.Purpose{{assembly.AsFeedValve}, {assembly.AsServiceStop}, {assembly.AsMeterStop}} {
		at := map[string]string{}
		for _, i := range h.as(purposes...) {
			at[h.a.Parts[i].Tag] = "shut"
		}
		ways = append(ways, at)
	}
	for _, at := range ways {
		if h.parts(at) {
			return at
		}
	}
	return ways[len(ways)-1]
}

// parts reports whether some handles keep the main from the stores it fills.
func (h *Home) parts(at map[string]string) bool {
	main := h.p.laid(at).reach(h.p.ports(assembly.Main), forward)
	for _, i := range h.a.Of(assembly.FloatValve) {
		if h.a.Fills(i) != h.a.Header() && touches(h.a, main, i) {
			return false
		}
	}
	return true
}

// storeTaps are the outlets that the store's water gets to while it is kept apart.
func (h *Home) storeTaps() []int {
	been := h.p.laid(h.apart()).reach(h.p.ports(assembly.Store), forward)
	var list []int
	for _, i := range h.a.Of(assembly.Outlet) {
		if touches(h.a, been, i) {
			list = append(list, i)
		}
	}
	return list
}

// unreached are the new parts that no dosed water gets to before the tie-in, from the store
// or from the street end, but for those that are cut into the old pipe.
func (h *Home) unreached() []int {
	p := h.p
	for _, a := range h.legHandles() {
		p = p.with([]Turn{{a.Part, a.To}})
	}
	from := p.ports(assembly.Store)
	for i := range h.a.Parts {
		for n := range h.a.Parts[i].Ports {
			m := p.mate[p.first[i]+n]
			if n == 0 && m.Part >= 0 && h.a.Parts[m.Part].Role == assembly.Service && h.a.Parts[i].Role != assembly.Service {
				from = append(from, assembly.End{Part: i, Port: 0})
			}
		}
	}
	for _, i := range h.as(assembly.AsFeedValve, assembly.AsStoreValve) {
		p = p.with([]Turn{{i, "open"}})
	}
	been := p.reach(from, forward)
	return h.where(func(i int, part *assembly.Part) bool {
		return part.Role != assembly.Service && part.Kind != assembly.Store && !touches(h.a, been, i)
	})
}
