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
	s.add(len(h.legs()) > 0, "legs", Alone, acts(SeeWater, "dosed", h.legs()...)...)
	s.add(true, "drains", Alone, acts(SeeWater, "dosed", h.newDrains()...)...)
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
// and nothing of the main's near the store: the setting for a notice where there is one,
// else the feed shut.
func (h *Home) apart() map[string]string {
	if at := h.setting("boil-notice"); at != nil {
		return at
	}
	at := map[string]string{}
	for _, i := range h.as(assembly.AsFeedValve) {
		at[h.a.Parts[i].Tag] = "shut"
	}
	return at
}

// storeTaps are the outlets that the store's water gets to.
func (h *Home) storeTaps() []int {
	sides := h.a.Sides()
	var list []int
	for _, i := range h.a.Of(assembly.Outlet) {
		if sides.Store[i] {
			list = append(list, i)
		}
	}
	return list
}
