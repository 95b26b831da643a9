package procedure

import (
	"slices"

	"tideover/internal/assembly"
)

// Away is what is turned before nobody is there for weeks: the setting for it, else the stop
// valve of the house.
func (h *Home) Away() []Act {
	if at := h.setting("away"); at != nil {
		return h.turned(h.p.at, at)
	}
	if stop := h.streetStop(); stop >= 0 {
		return acts(Handle, "shut", stop)
	}
	return nil
}

// Return is what is done after weeks in which nobody drew water: the handles back, the stores'
// old water out and new water in, that water through the pump to a tap, every tap run cold, the
// heater hot and every tap run again, and chlorine read. Where a strip shows chlorine in the
// store its water is kept: the list holds the whole of it.
func (h *Home) Return() List {
	var s steps
	stored, off, on := h.stored(), h.power("off"), h.filled()
	low, upper := h.as(assembly.AsStoreDrain), h.as(assembly.AsHeaderDrain)
	drains, taps := slices.Concat(low, upper), h.living()
	empty := with(acts(Handle, "open", drains...), acts(Empty, by(low), h.low()...))
	if h.lifted() {
		empty = with(empty, acts(Empty, by(upper), h.a.Header()))
	}
	empty = with(empty, acts(Handle, "shut", drains...))
	s.add(true, "air", Alone)
	s.add(true, "open", Alone, h.toNormal(h.Away())...)
	s.add(stored, "strip", Alone, acts(Strip, "", h.low()...)...)
	s.add(stored && len(off) > 0, "off", Alone, off...)
	s.add(stored && len(low) > 0, "empty", Alone, empty...)
	s.add(stored && len(low) == 0, "empty-none", Alone, empty...)
	if floats := h.filling(); len(floats) > 0 {
		var fill []Act
		for _, f := range floats {
			way := h.wayTo(assembly.End{Part: f, Port: 0}, assembly.Main)
			fill = with(fill, way, acts(Fill, "", f), h.undone(way, nil))
		}
		s.add(stored, "fill", Alone, fill...)
	} else {
		s.add(stored, "fill-hose", Alone, acts(HoseIn, "clean", h.low()...)...)
	}
	s.add(stored && len(on) > 0, "on", Alone, with(on, h.topped("clean"))...)
	if tap, way := h.onStoreTap(), h.Routine(); stored && tap >= 0 {
		s.add(len(way) > 0, "through", Alone, with(way, h.drawn(tap), h.back(way))...)
	}
	s.add(true, "cold", Alone, h.drawn(taps...)...)
	s.add(true, "hot", Alone, with(alone(Heat, "on"), h.drawn(taps...))...)
	s.add(len(taps) > 0, "read", Alone, h.stripped(taps)...)
	return List{"card.return", s}
}

// living are the outlets that main or store gives water on an ordinary day.
func (h *Home) living() []int {
	main, store := h.p.reach(h.p.ports(assembly.Main), forward), h.served(h.p)
	var list []int
	for _, i := range h.a.Of(assembly.Outlet) {
		if touches(h.a, main, i) || slices.Contains(store, i) {
			list = append(list, i)
		}
	}
	return list
}

// drawn runs outlets one after the other.
func (h *Home) drawn(taps ...int) []Act {
	var list []Act
	for _, i := range taps {
		list = with(list, acts(Handle, "open", i), acts(SeeRuns, "", i), acts(Handle, "shut", i))
	}
	return list
}

// stripped reads chlorine at running outlets: which of them people drink from they know.
func (h *Home) stripped(taps []int) []Act {
	var list []Act
	for _, i := range taps {
		list = with(list, acts(Handle, "open", i), acts(Strip, "", i), acts(Handle, "shut", i))
	}
	return list
}
