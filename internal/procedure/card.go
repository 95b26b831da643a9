package procedure

import (
	"maps"
	"slices"

	"tideover/internal/assembly"
)

// Frost is how the home is drained before hard frost, and what stays full all the same.
type Frost struct {
	List
	Full []int // parts that hold water still: they are lagged, or opened at a union
}

// Frost shuts off what brings water, opens every tap and every drain, and takes the pump's
// plug out. The heater is off before anything: an empty one burns out.
func (h *Home) Frost() Frost {
	var s steps
	at := h.setting(assembly.Drained)
	if at == nil {
		s.add(true, "none", Alone)
		return Frost{List{"card.frost", s}, nil}
	}
	to, drains := h.drained(at)
	taps := h.a.Of(assembly.Outlet)
	s.add(true, "heater", Alone)
	s.add(h.pumped(), "off", Alone, alone(Switch, "off")...)
	s.add(true, "shut", Alone, h.turned(h.p.at, to)...)
	s.add(true, "taps", Alone, acts(Handle, "open", taps...)...)
	s.add(len(drains) > 0, "drains", Alone, acts(Handle, "open", drains...)...)
	floats := h.vents(drains)
	s.add(len(floats) > 0, "float", Alone, with(acts(Handle, "down", floats...), acts(Handle, "free", floats...))...)
	plug := h.pumped() && h.dry(to)
	s.add(plug, "plug", Alone, acts(TakeOpen, "", h.a.Of(assembly.Pump)...)...)
	s.add(true, "rest", Alone)
	return Frost{List{"card.frost", s}, h.full(to, drains, plug)}
}

// vents are the float valves to be held down until their pipe is empty, where a drain empties
// it: a full store keeps them shut, and no air comes in behind the water.
func (h *Home) vents(drains []int) []int {
	for _, i := range drains {
		if r := h.a.Parts[i].Role; r == assembly.Feed || r == assembly.Service {
			return h.a.Of(assembly.FloatValve)
		}
	}
	return nil
}

// dry reports whether nothing presses on a pump with some handles turned: only then is it
// opened.
func (h *Home) dry(at map[string]string) bool {
	p := h.p.laid(at)
	been := p.reach(p.live(false), forward)
	for _, i := range h.a.Of(assembly.Pump) {
		if touches(h.a, been, i) {
			return false
		}
	}
	return true
}

// drained splits the setting for frost into handles and the drains it opens.
func (h *Home) drained(at map[string]string) (to map[string]string, drains []int) {
	to = map[string]string{}
	for i := range h.a.Parts {
		p := &h.a.Parts[i]
		switch position := at[p.Tag]; {
		case p.Kind == assembly.Drain && position == "open":
			drains = append(drains, i)
		case p.Kind != assembly.Drain && position != "":
			to[p.Tag] = position
		}
	}
	return to, drains
}

// inPipe reports whether a drain empties pipe, and not a store: a store full of water takes
// days to freeze, and is kept.
func (h *Home) inPipe(i int) bool {
	switch h.a.Parts[i].Purpose {
	case assembly.AsStoreDrain, assembly.AsHeaderDrain:
		return false
	}
	return true
}

// full lists what holds water after a frost's drain-down, but for stores, which are kept: from
// the rest no way falls to an open drain, a plug or a tap, or it has room of its own.
func (h *Home) full(to map[string]string, drains []int, plug bool) []int {
	s := assembly.Setting{Positions: maps.Clone(h.p.at)}
	maps.Copy(s.Positions, to)
	for _, i := range drains {
		s.Positions[h.a.Parts[i].Tag] = "open"
	}
	var list []int
	for _, held := range h.a.Holds(&s) {
		switch k := h.a.Parts[held.Part].Kind; {
		case k == assembly.Store, k == assembly.Pump && plug:
		default:
			list = append(list, held.Part)
		}
	}
	return list
}

// Repair is how a pump is taken out and put back: power off and locked, the pressure let off
// by a tap, shut, opened; then closed, filled, and only then on.
func (h *Home) Repair() List {
	var s steps
	if !h.pumped() {
		return List{"card.repair", s}
	}
	pumps := h.a.Of(assembly.Pump)
	inlets := h.as(assembly.AsStoreValve, assembly.AsInletValve, assembly.AsPumpInletValve)
	outs := h.as(assembly.AsPumpValve, assembly.AsPumpOutletValve)
	shut := with(acts(Handle, "shut", inlets...), acts(Handle, "shut", outs...))
	s.add(true, "off", Alone, alone(Switch, "off")...)
	if drains := h.between(shut); len(drains) > 0 {
		s.add(len(shut) > 0, "shut", Alone, shut...)
		s.add(true, "drains", Alone, with(acts(Handle, "open", drains...), acts(SeeZero, "", pumps...))...)
		s.add(true, "work", Alone, acts(TakeOpen, "", pumps...)...)
		s.add(true, "close", Alone, with(acts(PutBack, "", pumps...), acts(Handle, "shut", drains...))...)
	} else if tap, apart := h.LowTap(), h.onStore(); tap >= 0 && h.dry(positions(h.a, apart, acts(Handle, "shut", inlets...))) {
		s.add(len(apart) > 0, "main", Alone, apart...)
		s.add(len(inlets) > 0, "inlet", Alone, acts(Handle, "shut", inlets...)...)
		s.add(true, "let-off", Alone, with(acts(Handle, "open", tap), acts(SeeZero, "", pumps...))...)
		s.add(true, "outlet", Alone, with(acts(Handle, "shut", outs...), acts(Handle, "shut", tap))...)
		s.add(len(apart) > 0, "home", Alone, h.undone(apart, outs)...)
		s.add(true, "work", Alone, acts(TakeOpen, "", pumps...)...)
		s.add(true, "close", Alone, acts(PutBack, "", pumps...)...)
	} else {
		s.add(true, "none", Alone)
		return List{"card.repair", s}
	}
	s.add(true, "prime", Alone, with(h.undone(acts(Handle, "shut", inlets...), nil), acts(Prime, "", pumps...))...)
	s.add(true, "on", Alone, alone(Switch, "on")...)
	s.add(len(outs) > 0, "open", Alone, h.undone(acts(Handle, "shut", outs...), nil)...)
	return List{"card.repair", s}
}

// positions are where some acts leave the handles, by tag.
func positions(a *assembly.Assembly, lists ...[]Act) map[string]string {
	at := map[string]string{}
	for _, list := range lists {
		for _, x := range list {
			if x.Do == Handle {
				at[a.Parts[x.Part].Tag] = x.To
			}
		}
	}
	return at
}

// between lists the drains of the pipe between shut handles in which the pumps are: on both
// sides of their non-return valves. A store's own drain is none.
func (h *Home) between(shut []Act) []int {
	var turns []Turn
	for _, a := range shut {
		turns = append(turns, Turn{a.Part, a.To})
	}
	p := h.p.with(turns)
	been := p.reach(p.ports(assembly.Pump), way{wall: -1, leaks: -1, free: true})
	for _, k := range []assembly.Kind{assembly.Main, assembly.Store, assembly.Outlet} {
		for _, i := range h.a.Of(k) {
			if touches(h.a, been, i) {
				return nil // not cut off on every side: a drain would run for ever
			}
		}
	}
	var list []int
	for _, i := range h.a.Of(assembly.Drain) {
		if touches(h.a, been, i) {
			list = append(list, i)
		}
	}
	return list
}

// onStore turns the home to the store alone, so that a tap lets off all that presses behind
// the pump.
func (h *Home) onStore() []Act {
	if at := h.setting("on-store"); at != nil {
		if list := h.turned(h.p.at, at); len(list) > 0 {
			return list
		}
	}
	return h.mainOff()
}

// mainOff shuts what lets the main press on the home behind the pump, so that a tap can let
// the pressure off: nothing where no pipe joins the two.
func (h *Home) mainOff() []Act {
	reach := func(at map[string]string) bool {
		been := h.p.to(at).reach(h.p.ports(assembly.Main), forward)
		for _, i := range h.a.Of(assembly.Pump) {
			if been.has(assembly.End{Part: i, Port: 1}) || touches(h.a, been, i) {
				return true
			}
		}
		for _, i := range h.pumpTaps() {
			if touches(h.a, been, i) {
				return true
			}
		}
		return false
	}
	if !reach(h.p.at) {
		return nil
	}
	for _, purpose := range [][]assembly.Purpose{{assembly.AsMainLegValve}, {assembly.AsByPassMain}, {assembly.AsServiceStop}, {assembly.AsMeterStop}} {
		at := map[string]string{}
		for tag, position := range h.p.at {
			at[tag] = position
		}
		var list []Act
		for _, i := range h.as(purpose...) {
			if at[h.a.Parts[i].Tag] == "open" {
				at[h.a.Parts[i].Tag] = "shut"
				list = append(list, Act{Handle, i, "shut"})
			}
		}
		if len(list) > 0 && !reach(at) {
			return list
		}
	}
	return nil
}

// undone puts handles back to where they were, but for some.
func (h *Home) undone(list []Act, but []int) []Act {
	var back []Act
	for _, a := range list {
		if !slices.Contains(but, a.Part) {
			back = append(back, Act{Handle, a.Part, h.p.at[h.a.Parts[a.Part].Tag]})
		}
	}
	return back
}

// pumpTaps are the outlets that the pump's water gets to with every valve open.
func (h *Home) pumpTaps() []int {
	var from []assembly.End
	for _, i := range h.a.Of(assembly.Pump) {
		from = append(from, assembly.End{Part: i, Port: 1})
	}
	been := h.p.with(h.opened()).reach(from, forward)
	var list []int
	for _, i := range h.a.Of(assembly.Outlet) {
		if touches(h.a, been, i) {
			list = append(list, i)
		}
	}
	return list
}

// opened turns every hand valve open and every changeover to the store.
func (h *Home) opened() []Turn {
	var list []Turn
	for i := range h.a.Parts {
		switch h.a.Parts[i].Kind {
		case assembly.HandValve:
			list = append(list, Turn{i, "open"})
		case assembly.ThreeWay:
			list = append(list, Turn{i, "store"})
		}
	}
	return list
}

// LowTap is the lowest tap behind the pump: by it the pressure is let off. −1: none.
func (h *Home) LowTap() int {
	best := -1
	for _, i := range h.pumpTaps() {
		if best < 0 || h.a.Parts[i].Ports[0].Z < h.a.Parts[best].Ports[0].Z {
			best = i
		}
	}
	return best
}

// FlushAt is where the first dirty water of a main that comes back is let run before it
// gets into the store: a tap kept for it, an outlet on the main alone, an outlet the main
// feeds in the normal setting, a drain on the main's side. −1: there is none.
func (h *Home) FlushAt() int {
	if list := h.as(assembly.Purpose("flush-tap")); len(list) > 0 {
		return list[0]
	}
	at := map[string]string{}
	for tag, position := range h.p.at {
		at[tag] = position
	}
	for _, i := range h.as(assembly.AsFeedValve) {
		at[h.a.Parts[i].Tag] = "shut"
	}
	been := h.p.to(at).reach(h.p.ports(assembly.Main), forward)
	for _, kind := range []assembly.Kind{assembly.Outlet, assembly.Drain} {
		best := -1
		for _, i := range h.a.Of(kind) {
			if touches(h.a, been, i) && (best < 0 || h.a.Parts[i].Ports[0].Z < h.a.Parts[best].Ports[0].Z) {
				best = i
			}
		}
		if best >= 0 {
			return best
		}
	}
	return -1
}

// FeedValve is the valve that lets the main to the store; −1: there is none.
func (h *Home) FeedValve() int {
	if list := h.as(assembly.AsFeedValve); len(list) > 0 {
		return list[0]
	}
	return -1
}
