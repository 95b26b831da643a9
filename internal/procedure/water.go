package procedure

import (
	"maps"

	"tideover/internal/assembly"
	"tideover/internal/quantity"
)

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

// eased turns handles with the hand pump at rest, so that nobody opens a pipe that it presses
// on, and presses again. Before a spool goes in or out what is shut in there is let off.
func (h *Home) eased(turns []Act, water string) []Act {
	if len(turns) == 0 {
		return nil
	}
	var open, zero, shut []Act
	for _, a := range turns {
		if h.a.Parts[a.Part].Kind != assembly.Spool {
			continue
		}
		for n := range h.a.Parts[a.Part].Ports {
			if m := h.lowest(h.p.reach([]assembly.End{{Part: a.Part, Port: n}}, way{wall: a.Part, leaks: -1})); m >= 0 {
				open, shut = append(open, Act{Handle, m, "open"}), append(shut, Act{Handle, m, "shut"})
			}
		}
		zero = append(zero, Act{SeeZero, a.Part, ""})
	}
	return with(alone(PressIn, "off"), open, zero, turns, shut, alone(PressIn, water))
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
	s.add(h.lifted(), "header", Alone, h.topped("dosed")...)
	s.add(true, "draw", Alone)
	s.add(len(h.pumps()) > 1, "pumps", Alone, h.eachPump()...)
	feed := acts(Handle, "shut", h.as(assembly.AsFeedValve)...)
	s.add(true, "feed", Alone, with(h.power("off"), h.streetEnd("dosed"), acts(SeeWater, "dosed", h.as(assembly.AsFloat)...), acts(Handle, "free", h.as(assembly.AsFloat)...))...)
	ways := with(h.undone(h.homeEnd(), nil), feed, h.legHandles())
	open := len(h.legHandles())+len(h.homeEnd()) > 0
	s.add(len(h.legs()) == 0 && open, "ways", Alone, h.eased(ways, "dosed")...)
	s.add(len(h.legs()) > 0, "legs", Alone, with(h.eased(ways, "dosed"), acts(SeeWater, "dosed", h.legs()...))...)
	s.add(true, "drains", Alone, with(h.power("on"), acts(SeeWater, "dosed", h.newDrains()...))...)
	s.add(len(h.legs()) > 0 || open, "legs-back", Alone, with(h.power("off"), h.eased(h.undone(with(h.legHandles(), feed), nil), "dosed"), alone(PressIn, "off"))...)
	for _, id := range []string{"hold", "test", "neutralise"} {
		s.add(true, id, Alone)
	}
	drains := h.as(assembly.AsStoreDrain)
	s.add(true, "flush", Alone, with(h.power("off"), acts(Handle, "open", drains...), acts(Empty, by(drains), h.low()...), acts(Handle, "shut", drains...))...)
	s.add(true, "rinse", Alone, with(acts(HoseIn, "clean", h.low()...), h.inletWay(), acts(Prime, "", h.a.Of(assembly.Pump)...), h.power("on"), h.topped("clean"))...)
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

// legHandles opens what is shut in new pipe on an ordinary day: the by-pass, the spool, a
// valve beside another.
func (h *Home) legHandles() []Act {
	var list []Act
	for i := range h.a.Parts {
		p := &h.a.Parts[i]
		if p.Kept || p.Role == assembly.Service {
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

// power turns the pump's isolator; nothing where there is no pump.
func (h *Home) power(to string) []Act {
	if !h.pumped() {
		return nil
	}
	return alone(Switch, to)
}

// topped fills a header tank by its pump, its float valve held down until the water is there.
func (h *Home) topped(water string) []Act {
	f := h.headerFloat()
	if f < 0 {
		return nil
	}
	return with(acts(Handle, "down", f), []Act{{SeeWater, f, water}}, acts(Handle, "free", f))
}

// pumps are the pumps that have valves of their own, so that each can carry the home alone.
func (h *Home) pumps() []int {
	var list []int
	for _, i := range h.a.Of(assembly.Pump) {
		if h.outlet(i) >= 0 {
			list = append(list, i)
		}
	}
	return list
}

// outlet is a pump's own outlet valve, behind its non-return valve; −1: none.
func (h *Home) outlet(pump int) int {
	e := assembly.End{Part: pump, Port: 1}
	for range h.a.Parts {
		m := h.p.mate[h.p.first[e.Part]+e.Port]
		if m.Part < 0 {
			return -1
		}
		switch p := &h.a.Parts[m.Part]; {
		case p.Purpose == assembly.AsPumpOutletValve:
			return m.Part
		case p.Kind == assembly.Tee && p.Purpose != assembly.AsPumpJoinTee, p.Kind == assembly.NonReturn, p.Kind == assembly.Run:
			e = assembly.End{Part: m.Part, Port: 1 - min(m.Port, 1)}
		default:
			return -1
		}
	}
	return -1
}

// eachPump lets dosed water through each of several pumps in turn: the outlet valves of the
// others are shut meanwhile.
func (h *Home) eachPump() []Act {
	var list []Act
	pumps := h.pumps()
	for _, i := range pumps {
		var others []Act
		for _, k := range pumps {
			if k != i {
				others = append(others, Act{Handle, h.outlet(k), "shut"})
			}
		}
		list = with(list, others, []Act{{SeeWater, h.outlet(i), "dosed"}}, h.undone(others, nil))
	}
	return list
}

// BadWater is how a store that is full of bad water is made good, with the home joined: it
// is shut off from the street, emptied, cleaned, and only then dosed, out to every tap.
func (h *Home) BadWater() List {
	var s steps
	pumps, drains, apart := h.a.Of(assembly.Pump), h.as(assembly.AsStoreDrain), h.turned(h.p.at, h.apart())
	off, on := h.power("off"), []Act(nil)
	if h.pumped() {
		on = with(acts(Prime, "", pumps...), alone(Switch, "on"))
	}
	emptied := with(off, acts(Handle, "open", drains...), acts(Empty, by(drains), h.low()...))
	filled := with(acts(Handle, "shut", drains...), acts(HoseIn, "clean", h.low()...))
	s.add(true, "tell", Alone)
	s.add(true, "apart", Alone, apart...)
	s.add(true, "heater", Alone, alone(Heat, "off")...)
	s.add(h.pumped(), "off", Alone, off...)
	s.add(len(drains) > 0, "empty", Alone, emptied...)
	s.add(len(drains) == 0, "empty-none", Alone, emptied...)
	s.add(true, "brush", Alone)
	s.add(true, "refill", Alone, filled...)
	s.add(h.pumped(), "prime", Alone, on...)
	s.add(true, "dose", Alone, acts(Dose, "", h.low()...)...)
	s.add(h.lifted(), "header", Alone, h.topped("dosed")...)
	taps := h.storeTaps()
	s.add(len(taps) > 0, "draw", Alone, acts(SeeWater, "dosed", taps...)...)
	s.add(len(taps) == 0, "draw-none", Alone)
	s.add(len(h.pumps()) > 1, "pumps", Alone, h.eachPump()...)
	pockets := acts(Handle, "open", h.pockets()...)
	s.add(len(pockets) > 0, "pockets", Alone, pockets...)
	s.add(len(pockets) > 0, "pockets-back", Alone, acts(Handle, "shut", h.pockets()...)...)
	s.add(true, "hold", Alone)
	s.add(true, "drain", Alone, emptied...)
	s.add(true, "rinse", Alone, with(filled, on, h.topped("clean"), acts(SeeWater, "clean", h.storeTaps()...))...)
	if i := h.FlushAt(); i >= 0 && touches(h.a, h.p.laid(h.apart()).reach(h.p.ports(assembly.Main), forward), i) {
		s.add(true, "feed", Alone, with(acts(Handle, "open", i), acts(SeeRuns, "", i), acts(Handle, "shut", i))...)
	} else {
		s.add(true, "feed-none", Alone)
	}
	s.add(true, "things", Alone)
	s.add(true, "back", Alone, with(h.resting(), h.toNormal(apart), alone(Heat, "on"))...)
	return List{"bad-water", s}
}

// pockets are hand valves that stand shut between stored water and stored water while it is kept
// apart: what stands on either side of them is dosed by opening them for a moment.
func (h *Home) pockets() []int {
	p := h.p.laid(h.apart())
	been := p.reach(append(p.ports(assembly.Store), p.ports(assembly.Pump)...), forward)
	var list []int
	for i := range h.a.Parts {
		part := &h.a.Parts[i]
		if part.Kind == assembly.HandValve && p.at[part.Tag] == "shut" && been.has(assembly.End{Part: i, Port: 0}) && been.has(assembly.End{Part: i, Port: 1}) {
			list = append(list, i)
		}
	}
	return list
}

// resting switches off a pump that is off on an ordinary day.
func (h *Home) resting() []Act {
	if !h.Rests() {
		return nil
	}
	return alone(Switch, "off")
}

// by says how a store is emptied: by its drains, or, without one, with a hose and a bucket.
func by(drains []int) string {
	if len(drains) == 0 {
		return "out"
	}
	return "drain"
}

// apart is the standing of the handles in which nothing of the store's gets near the street
// and nothing of the main's near the store: the setting for a notice where it does that,
// else the feed shut, else the home shut off from the street.
func (h *Home) apart() map[string]string {
	var ways []map[string]string
	if at := h.setting("boil-notice"); at != nil {
		ways = append(ways, at)
	}
	if at := h.setting("on-store"); at != nil && h.Rests() {
		with := maps.Clone(at)
		for _, i := range h.as(assembly.AsFeedValve, assembly.AsServiceStop) {
			with[h.a.Parts[i].Tag] = "shut"
		}
		ways = []map[string]string{with}
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
	return h.served(h.p.laid(h.apart()))
}

// served are the outlets that stored water gets to with the handles as they stand: lifted by a
// pump, or by the height of a store that is full.
func (h *Home) served(p *plumb) []int {
	var pumps []assembly.End
	fed := p.reach(append(p.ports(assembly.Store), p.ports(assembly.Main)...), forward)
	for _, i := range h.a.Of(assembly.Pump) {
		if fed.has(assembly.End{Part: i, Port: 0}) {
			pumps = append(pumps, assembly.End{Part: i, Port: 1})
		}
	}
	lifted := p.reach(pumps, forward)
	var list []int
	for _, i := range h.a.Of(assembly.Outlet) {
		yes := touches(h.a, lifted, i)
		for _, s := range h.a.Of(assembly.Store) {
			var from []assembly.End
			for n := range h.a.Parts[s].Ports {
				from = append(from, assembly.End{Part: s, Port: n})
			}
			yes = yes || h.a.Parts[i].Ports[0].Z < h.surface(s)-tapHead && touches(h.a, p.reach(from, forward), i)
		}
		if yes {
			list = append(list, i)
		}
	}
	return list
}

// gapTaken is the air taken to stand between a float valve's mouth and the water of a full
// store, and shallow the water taken in a store of which nothing is known. [m]
const (
	gapTaken quantity.Length = 0.15
	shallow  quantity.Length = 1
	tapHead  quantity.Length = 0.3 // over a tap that runs at all
)

// surface is how high the water of a full store stands.
func (h *Home) surface(store int) quantity.Length {
	for _, f := range h.a.Of(assembly.FloatValve) {
		if h.a.Fills(f) == store {
			return h.a.Parts[f].Ports[len(h.a.Parts[f].Ports)-1].Z - gapTaken
		}
	}
	return h.a.Parts[store].Ports[0].Z + shallow
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
