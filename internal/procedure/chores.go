package procedure

import (
	"slices"

	"tideover/internal/assembly"
)

// Chores are what upkeep does with hands, by the chore's name: handles out of the normal
// setting, what is opened once nothing presses on it, and all of it back. A chore whose parts
// no handles here cut off has the step "none": it is the fitter's, with the home emptied.
func (h *Home) Chores() []List {
	var list []List
	chore := func(on bool, id string, do ...[]Act) {
		if on {
			list = append(list, List{"upkeep.do." + id, []Step{{"do", Alone, with(do...)}}})
		}
	}
	store := h.Routine()
	if tap := h.onStoreTap(); h.stored() && tap >= 0 {
		chore(true, "routine", store, acts(Handle, "open", tap), acts(SeeRuns, "", tap), acts(Handle, "shut", tap), h.back(store))
	}
	list = append(list, h.Openings()...)
	if d := h.as(assembly.AsStoreDrain); h.stored() && len(d) > 0 {
		list = append(list, h.BadWater())
	}
	return list
}

// Openings is how each part that upkeep opens is made safe to open, a list for each. The first
// act of each names the part.
func (h *Home) Openings() []List {
	var list []List
	for _, k := range []struct {
		id    string
		parts []int
	}{
		{"strainers", slices.Concat(h.a.Of(assembly.Strainer), h.a.Of(assembly.Regulator))},
		{"charge", h.pumpVessels()},
		{"float", h.filling()},
		{"cartridges", h.a.Of(assembly.NonReturn)},
	} {
		for _, i := range k.parts {
			list = append(list, h.opening("upkeep.do."+k.id, i))
		}
	}
	return list
}

// opening is how one part is opened for a chore.
func (h *Home) opening(id string, part int) List {
	if v := h.isolator(part); v >= 0 {
		return List{id, []Step{{"valve", Alone, with(acts(Look, "", part), acts(Isolate, "shut", v), acts(SeeZero, "", part), acts(Isolate, "open", v))}}}
	}
	do, ok := h.opens(part)
	if !ok {
		return List{id, []Step{{"none", Alone, acts(Look, "", part)}}}
	}
	return List{id, []Step{{"do", Alone, with(acts(Look, "", part), do)}}}
}

// Routine turns the home to the store for a while, so that its water is used: by the setting
// for it, else by a shut main, which makes what changes over by itself do so. Where the home
// is on the store anyway nothing is turned.
func (h *Home) Routine() []Act {
	if h.setting("on-store") != nil {
		return h.toStore()
	}
	if stop := h.streetStop(); stop >= 0 {
		return acts(Handle, "shut", stop)
	}
	return nil
}

// pumpVessels are the vessels that hang on pipe the pump presses, not a heater's own.
func (h *Home) pumpVessels() []int {
	var list []int
	for _, i := range h.a.Of(assembly.Vessel) {
		if h.a.Parts[i].Purpose != assembly.AsHeaterVessel {
			list = append(list, i)
		}
	}
	return list
}

// isolator is the lockable valve with a drain that a vessel stands behind; −1: none.
func (h *Home) isolator(vessel int) int {
	if h.a.Parts[vessel].Kind == assembly.Vessel {
		if m := h.p.mate[h.p.first[vessel]]; m.Part >= 0 && h.a.Parts[m.Part].Kind == assembly.Isolator {
			return m.Part
		}
	}
	return -1
}
