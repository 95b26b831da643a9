package procedure

import "tideover/internal/assembly"

// Thaw is how a home that was emptied is filled again: closed, then filled from the store and
// from the street, the pump full before it runs, the heater full before it heats.
func (h *Home) Thaw() List {
	frost := h.Frost()
	if h.setting(assembly.Drained) == nil {
		return List{ID: "card.thaw"}
	}
	var plugged, turned, drains []Act
	for _, st := range frost.Steps {
		for _, a := range st.Acts {
			switch {
			case a.Do == TakeOpen:
				plugged = append(plugged, Act{PutBack, a.Part, ""})
			case a.Do == Handle && h.a.Parts[a.Part].Kind == assembly.Drain:
				drains = append(drains, Act{Handle, a.Part, "shut"})
			case a.Do == Handle && h.a.Parts[a.Part].Positions() != nil:
				turned = append(turned, a)
			}
		}
	}
	var s steps
	s.add(len(plugged) > 0, "close-plug", Alone, with(plugged, drains)...)
	s.add(len(plugged) == 0 && len(drains) > 0, "close", Alone, drains...)
	s.add(true, "taps", Alone, acts(Handle, "shut", h.a.Of(assembly.Outlet)...)...)
	s.add(true, "back", Alone, h.toNormal(turned)...)
	s.add(h.pumped(), "prime", Alone, h.filled()...)
	s.add(true, "air", Alone)
	s.add(true, "heater", Alone, alone(Heat, "on")...)
	return List{"card.thaw", s}
}

// toNormal puts handles that were turned back to the normal setting: what is shut there
// first, what is open there last.
func (h *Home) toNormal(turned []Act) []Act {
	from := map[string]string{}
	for tag, at := range h.p.at {
		from[tag] = at
	}
	for _, a := range turned {
		from[h.a.Parts[a.Part].Tag] = a.To
	}
	return h.turned(from, h.p.at)
}

// BackOut is what is done when a joint does not hold or time runs out: the new pipe is capped
// and the old one made whole, and the home has the water it had.
func (h *Home) BackOut() List {
	stop := h.stop()
	var s steps
	s.add(len(stop) > 0, "shut", Alone, with(h.power("off"), acts(Handle, "shut", stop...))...)
	s.add(true, "cap", Alone, alone(Cap, "")...)
	s.add(true, "couple", Two, alone(Couple, "")...)
	s.add(true, "open", Two, acts(Handle, "open", stop...)...)
	s.add(true, "rinse", Alone)
	return List{"build.back", s}
}
