package procedure

import "tideover/internal/assembly"

// mostOpened is how many handles are opened at most to let water to a part that is shut off on
// an ordinary day.
const mostOpened = 3

// wayTo opens what is shut on an ordinary day between parts of some kinds and a port, with as
// few handles as can be; nil where nothing is, or where no few handles do.
func (h *Home) wayTo(to assembly.End, kinds ...assembly.Kind) []Act {
	there := func(turns []Turn) bool {
		p := h.p.with(turns)
		var from []assembly.End
		for _, k := range kinds {
			from = append(from, p.ports(k)...)
		}
		return p.reach(from, forward).has(to)
	}
	var shut []Turn
	for i := range h.a.Parts {
		switch p := &h.a.Parts[i]; {
		case p.Kind == assembly.HandValve && h.p.at[p.Tag] == "shut":
			shut = append(shut, Turn{i, "open"})
		case p.Kind == assembly.ThreeWay && h.p.at[p.Tag] == "main":
			shut = append(shut, Turn{i, "store"})
		}
	}
	var found []Turn
	var choose func(n, from int, done []Turn) bool
	choose = func(n, from int, done []Turn) bool {
		if n == 0 {
			found = done
			return there(done)
		}
		for k := from; k < len(shut); k++ {
			if choose(n-1, k+1, append(done, shut[k])) {
				return true
			}
		}
		return false
	}
	for n := 0; n <= mostOpened; n++ {
		if choose(n, 0, nil) {
			var list []Act
			for _, t := range found {
				list = append(list, Act{Handle, t.Part, t.To})
			}
			return list
		}
	}
	return nil
}

// inletWay lets water to the pumps that no water comes to on an ordinary day, as in a list
// whose changeover is the valve before the pump: there the pump is off as well.
func (h *Home) inletWay() []Act {
	kind := assembly.Store
	if !h.stored() {
		kind = assembly.Main
	}
	var list []Act
	for _, i := range h.a.Of(assembly.Pump) {
		for _, a := range h.wayTo(assembly.End{Part: i, Port: 0}, kind) {
			if !acted(list, a.Part) {
				list = append(list, a)
			}
		}
	}
	return list
}

func acted(list []Act, part int) bool {
	for _, a := range list {
		if a.Part == part {
			return true
		}
	}
	return false
}

// Rests reports whether the pump is off on an ordinary day, for no water comes to it.
func (h *Home) Rests() bool { return len(h.inletWay()) > 0 }

// filled fills the pumps, and leaves them as they are on an ordinary day: on, or, where no
// water comes to them then, off.
func (h *Home) filled() []Act {
	if !h.pumped() {
		return nil
	}
	pumps, way := h.a.Of(assembly.Pump), h.inletWay()
	if len(way) > 0 {
		return with(way, acts(Prime, "", pumps...), h.undone(way, nil))
	}
	return with(acts(Prime, "", pumps...), alone(Switch, "on"))
}

// usual leaves the pump's switch as it is on an ordinary day.
func (h *Home) usual() []Act {
	if !h.pumped() || h.Rests() {
		return nil
	}
	return alone(Switch, "on")
}
