package procedure

import (
	"slices"

	"tideover/internal/assembly"
)

// Trials are the rows of the hand-over, each a list of its own: the handles out of the normal
// setting, what is seen there, and the handles back. What is read with a gauge stands as
// seeing that water runs or does not; the figures are the hand-over's.
func (h *Home) Trials() []List {
	var list []List
	row := func(on bool, id string, do ...[]Act) {
		if on {
			list = append(list, List{"commission.do." + id, []Step{{"row", Alone, with(do...)}}})
		}
	}
	for _, t := range h.checks {
		if t.High != nil {
			row(true, "check-high", h.checkActs(t.High))
		}
		if t.Low != nil {
			row(true, "check-low", h.checkActs(t.Low))
		}
	}
	pump, stored := h.a.Of(assembly.Pump), h.stored()
	tap, floats := h.onStoreTap(), h.filling()
	onStore := h.toStore()
	back := h.back
	at := func(i int, do ...[]Act) []Act {
		return with(acts(Handle, "open", i), with(do...), acts(Handle, "shut", i))
	}
	for _, f := range floats {
		feed := h.wayTo(assembly.End{Part: f, Port: 0}, assembly.Main)
		run := with(feed, acts(Handle, "down", f), acts(SeeRuns, "", f), acts(Handle, "free", f), back(feed))
		row(true, "overflow", run)
		row(true, "refill", run)
	}
	if f := h.headerFloat(); f >= 0 && len(pump) > 0 {
		row(true, "overflow-header", onStore, acts(Handle, "down", f), acts(SeeRuns, "", f), acts(Handle, "free", f), back(onStore))
	}
	for _, s := range h.as(assembly.AsLevelAlarm) {
		row(true, "alarm", acts(Float, "high", s), acts(Float, "free", s))
	}
	inlets := h.as(assembly.AsStoreValve)
	switches := h.as(assembly.AsLevelSwitch)
	if tap >= 0 && len(pump) > 0 && stored {
		for _, s := range switches {
			row(true, "level", onStore, at(tap, acts(SeeRuns, "", pump[0]), acts(Float, "low", s), acts(SeeStop, "", pump...), acts(Float, "free", s), acts(SeeRuns, "", pump[0])), acts(Float, "high", s), acts(Float, "free", s), back(onStore))
		}
		row(len(switches) == 0 && len(inlets) > 0, "dry", onStore, at(tap, acts(SeeRuns, "", pump[0]), acts(Handle, "shut", inlets...), acts(SeeStop, "", pump...), acts(Handle, "open", inlets...), acts(Prime, "", pump...), acts(SeeRuns, "", pump[0])), back(onStore))
	}
	if stop := h.streetStop(); !stored && tap >= 0 && len(pump) > 0 && stop >= 0 {
		row(true, "inlet", at(tap, acts(SeeRuns, "", pump[0]), acts(Handle, "shut", stop), acts(SeeStop, "", pump...), acts(Handle, "open", stop), acts(SeeRuns, "", pump[0])))
	}
	leak, shut := h.leak()
	row(true, leak, alone(Switch, "off"), shut, acts(SeeStill, "", h.a.Of(assembly.Main)...), h.unleak(shut), h.usual())
	row(true, "still", acts(SeeStill, "", h.a.Of(assembly.Main)...))
	for i := range h.a.Settings {
		list = append(list, h.taps(i)...)
	}
	return list
}

// taps are the readings at every tap in a setting in which it gives water.
func (h *Home) taps(setting int) []List {
	s := &h.a.Settings[setting]
	if s.Name != "normal" && s.Name != "on-store" && s.Name != "on-main" {
		return nil
	}
	there := h.turned(h.p.at, s.Positions)
	if s.Name == "on-store" {
		there = h.toStore()
	}
	do := there
	p := h.p.laid(s.Positions)
	main, store := p.reach(p.ports(assembly.Main), forward), h.served(p)
	for _, i := range h.a.Of(assembly.Outlet) {
		if touches(h.a, main, i) || slices.Contains(store, i) {
			do = with(do, acts(Handle, "open", i), acts(SeeRuns, "", i), acts(Handle, "shut", i))
		}
	}
	return []List{{"commission.taps", []Step{{s.Name, Alone, with(do, h.back(there))}}}}
}

// checkActs are what hands do in one trial of a non-return valve.
func (h *Home) checkActs(t *CheckTrial) []Act {
	var turns []Act
	for _, x := range t.Turns {
		turns = append(turns, Act{Handle, x.Part, x.To})
	}
	var off, press, ease, on []Act
	if h.pumped() && t.By != ByPump {
		off, on = alone(Switch, "off"), h.usual()
	}
	if t.Pump >= 0 {
		press, ease = with(acts(Handle, "open", t.Pump), acts(TestPump, "pressed", t.Pump)), with(acts(TestPump, "off", t.Pump), acts(Handle, "shut", t.Pump))
	}
	if m := t.Mouth; m >= 0 {
		open, shut := "open", "shut"
		if h.a.Parts[m].Kind == assembly.FloatValve {
			open, shut = "down", "free"
		}
		press, ease = acts(Handle, open, m), acts(Handle, shut, m)
	}
	return with(off, turns, acts(Handle, "open", t.Drain), press, acts(SeeDry, "", t.Drain), ease,
		acts(Handle, "shut", t.Drain), h.undone(reversed(turns), nil), on)
}

// toStore turns the home to the store, with the main out of the way of a pump that is locked
// out or cannot be heard while the main presses.
func (h *Home) toStore() []Act {
	if at := h.setting("on-store"); at != nil {
		list := h.turned(h.p.at, at)
		if h.Rests() {
			list = with(list, acts(Prime, "", h.a.Of(assembly.Pump)...), alone(Switch, "on"))
		}
		return list
	}
	if h.a.LockOut() != nil {
		if stop := h.streetStop(); stop >= 0 {
			return acts(Handle, "shut", stop)
		}
	}
	return nil
}

// back undoes what was turned, the last first; a pump that is off on an ordinary day is
// switched off before anything.
func (h *Home) back(list []Act) []Act {
	var turns, off []Act
	for _, a := range list {
		switch a.Do {
		case Handle:
			turns = append(turns, a)
		case Switch:
			off = alone(Switch, "off")
		}
	}
	return with(off, h.undone(reversed(turns), nil))
}

// onStoreTap is the lowest tap that the pump serves while the home is on the store; −1: none.
func (h *Home) onStoreTap() int {
	p := h.p
	for _, x := range h.toStore() {
		if x.Do != Handle {
			continue
		}
		p = p.with([]Turn{{x.Part, x.To}})
	}
	var from []assembly.End
	for _, i := range h.a.Of(assembly.Pump) {
		from = append(from, assembly.End{Part: i, Port: 1})
	}
	if len(from) == 0 {
		from = p.ports(assembly.Store)
	}
	best, been := -1, p.reach(from, forward)
	for _, i := range h.a.Of(assembly.Outlet) {
		if touches(h.a, been, i) && (best < 0 || h.a.Parts[i].Ports[0].Z < h.a.Parts[best].Ports[0].Z) {
			best = i
		}
	}
	return best
}

// streetStop is the hand valve that shuts the home off from the main, at the house where
// there is one there; −1: none.
func (h *Home) streetStop() int {
	for _, purpose := range []assembly.Purpose{assembly.AsServiceStop, assembly.AsMeterStop} {
		if list := h.as(purpose); len(list) > 0 {
			return list[0]
		}
	}
	return -1
}

// filling are the float valves by which the main fills the stores.
func (h *Home) filling() []int {
	var list []int
	for _, i := range h.a.Of(assembly.FloatValve) {
		if s := h.a.Fills(i); s >= 0 && s != h.a.Header() {
			list = append(list, i)
		}
	}
	return list
}

// headerFloat is the float valve by which the pump fills the header tank; −1: none.
func (h *Home) headerFloat() int {
	for _, i := range h.a.Of(assembly.FloatValve) {
		if s := h.a.Fills(i); s >= 0 && s == h.a.Header() {
			return i
		}
	}
	return -1
}

// leak is what is shut while the gauge is watched for a leak: vessels that have a valve, and
// the foot of a home that height serves.
func (h *Home) leak() (id string, shut []Act) {
	shut = acts(Isolate, "shut", h.as(assembly.AsVesselValve)...)
	if h.stored() && !h.pumped() || h.lifted() {
		return "leak-falls", with(shut, acts(Handle, "shut", h.as(assembly.AsHomeValve)...))
	}
	return "leak", shut
}

// unleak opens again what was shut for it.
func (h *Home) unleak(shut []Act) []Act {
	var list []Act
	for _, a := range reversed(shut) {
		list = append(list, Act{a.Do, a.Part, "open"})
	}
	return list
}
