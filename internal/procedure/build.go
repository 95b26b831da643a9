package procedure

import "tideover/internal/assembly"

// Facts are what a job tells of the work beside its parts.
type Facts struct {
	Letter bool // the supplier's answer about a joint is still to come
	Aloft  bool // the store stands on a stand, a roof or a floor that an engineer signs
	Split  bool // some outlets stay on the main alone
}

// Build is the order of work: new pipe is laid, tested, cleaned and disinfected through hose
// ends while the home is still on its old pipe; then it is tied in, rinsed and tried.
func (h *Home) Build(f Facts) []List {
	lists := []List{h.ready(f)}
	if h.stored() {
		lists = append(lists, h.base(f))
	}
	lists = append(lists, h.pipes(f))
	if h.pumped() {
		lists = append(lists, h.powered())
	}
	return append(lists, h.prove(), h.tie(), h.after())
}

// steps gathers the steps that belong to this home.
type steps []Step

func (s *steps) add(on bool, id string, who Who, acts ...Act) {
	if on {
		*s = append(*s, Step{id, who, acts})
	}
}

func (h *Home) ready(f Facts) List {
	var s steps
	s.add(f.Letter && (h.a.Joined || h.a.Spooled()), "letter", Alone)
	for _, id := range []string{"list", "tell", "stop", "old", "others", "buckets"} {
		s.add(true, id, Alone)
	}
	return List{"build.ready", s}
}

func (h *Home) base(f Facts) List {
	header := h.a.Header()
	low := h.where(func(i int, p *assembly.Part) bool { return p.Kind == assembly.Store && i != header })
	var s steps
	s.add(!f.Aloft, "base", Alone)
	s.add(f.Aloft, "stand", Alone)
	s.add(true, "way", Two)
	s.add(true, "store", Two, acts(Fit, "", low...)...)
	s.add(header >= 0, "header-tank", Two, acts(Fit, "", header)...)
	s.add(true, "lid", Alone)
	s.add(true, "overflow", Alone)
	return List{"build.base", s}
}

// pipes lays every new part but those at the meter, which are cut into the old pipe.
func (h *Home) pipes(f Facts) List {
	of := func(kinds []assembly.Kind, roles ...assembly.Role) []Act {
		return acts(Fit, "", h.where(func(i int, p *assembly.Part) bool {
			in := false
			for _, r := range roles {
				in = in || p.Role == r
			}
			for _, k := range kinds {
				if p.Kind == k {
					return len(roles) == 0
				}
			}
			return in && p.Kind != assembly.Store && p.Kind != assembly.FloatValve && p.Kind != assembly.Pump
		})...)
	}
	pump, stored, lifted := h.pumped(), h.stored(), h.lifted()
	vessel, heater := h.vessels()
	lines := of(nil, assembly.Boost, assembly.Storage)
	legs := of(nil, assembly.MainLeg, assembly.BypassBy)
	home := of(nil, assembly.HomeRole)
	held := h.legHeld()
	var s steps
	if dry := h.unreached(); stored && len(dry) > 0 {
		s.add(true, "swab", Alone, acts(Swab, "", dry...)...)
	}
	s.add(stored, "float", Alone, of([]assembly.Kind{assembly.FloatValve})...)
	s.add(stored, "feed", Alone, of(nil, assembly.Feed)...)
	s.add(pump && stored, "pump", Two, of([]assembly.Kind{assembly.Pump})...)
	s.add(pump && !stored, "pump-bare", Two, of([]assembly.Kind{assembly.Pump})...)
	s.add(vessel, "vessel", Alone)
	s.add(!vessel && heater, "vessel-heater", Alone)
	s.add(pump && stored && (!lifted || h.a.PumpServes()), "boost", Alone, with(lines, home)...)
	s.add(lifted, "rise", Alone, lines...)
	s.add(stored && !pump, "drop", Alone, with(lines, home)...)
	s.add(lifted, "drop-header", Alone, home...)
	s.add(pump && !stored, "boost-bare", Alone, with(lines, legs, home)...)
	s.add(h.a.Joined && held, "main-leg", Alone, legs...)
	s.add(h.a.Joined && !held, "main-leg-bare", Alone, legs...)
	s.add(f.Split && stored && !h.a.Joined, "kitchen", Alone, legs...)
	s.add(h.a.Spooled(), "spool", Alone, legs...)
	s.add(true, "cap", Alone, alone(Cap, "")...)
	s.add(true, "photo", Alone)
	s.add(true, "tags", Alone)
	id := "build.pipes"
	if !pump {
		id = "build.pipes-still"
	}
	return List{id, s}
}

// vessels reports whether a vessel hangs beside the pump, and whether one beside the heater.
func (h *Home) vessels() (pump, heater bool) {
	for _, i := range h.a.Of(assembly.Vessel) {
		if h.a.Parts[i].Purpose == assembly.AsHeaterVessel {
			heater = true
		} else {
			pump = true
		}
	}
	return pump, heater
}

// legHeld reports whether a non-return valve is in the leg from the main straight to the
// changeover, or in the by-pass that serves as one.
func (h *Home) legHeld() bool {
	for _, i := range h.a.Of(assembly.NonReturn) {
		if r := h.a.Parts[i].Role; r == assembly.MainLeg || r == assembly.BypassBy {
			return true
		}
	}
	return false
}

// powered makes ready what drives the pump. Nothing runs yet: the pump is dry.
func (h *Home) powered() List {
	var s steps
	s.add(true, "ask", Licensed, alone(Wire, "")...)
	s.add(true, "points", Alone)
	s.add(len(h.a.Sets) > 1, "turns", Alone)
	s.add(true, "still", Alone, alone(Switch, "off")...)
	return List{"build.power", s}
}

// prove is what is done with the new pipe while it hangs on hoses alone.
func (h *Home) prove() List {
	stored, pump := h.stored(), h.pumped()
	var s steps
	s.add(true, "pressure", Two)
	s.add(stored, "fill", Alone, acts(HoseIn, "clean", h.low()...)...)
	s.add(stored && pump, "prime", Alone, with(h.primed(), h.homeEnd(), alone(Switch, "on"))...)
	s.add(!stored && pump, "prime-bare", Alone, with(alone(PressIn, "clean"), acts(Prime, "", h.a.Of(assembly.Pump)...), alone(PressIn, "off"))...)
	s.add(true, "flush", Alone)
	s.add(stored, "disinfect", Alone)
	s.add(!stored, "disinfect-bare", Alone)
	return List{"build.prove", s}
}

// low are the stores that the main fills.
func (h *Home) low() []int {
	var list []int
	for _, i := range h.a.Of(assembly.Store) {
		if i != h.a.Header() {
			list = append(list, i)
		}
	}
	return list
}

// primed opens the way from the store and lets the air out of the pump.
func (h *Home) primed() []Act {
	return with(acts(Handle, "open", h.as(assembly.AsStoreValve)...), h.inletWay(), acts(Prime, "", h.a.Of(assembly.Pump)...))
}

// homeEnd turns the changeover to the store, so that the pump's water comes to the home's ends:
// of what is fitted before the tie-in.
func (h *Home) homeEnd() []Act {
	at := h.setting("on-store")
	if at == nil {
		return nil
	}
	var list []Act
	for _, a := range h.turned(h.p.at, at) {
		if p := &h.a.Parts[a.Part]; p.Role != assembly.Service && !p.Kept {
			list = append(list, a)
		}
	}
	return list
}

// tie joins new pipe and old.
func (h *Home) tie() List {
	stop := h.stop()
	cut := h.where(func(i int, p *assembly.Part) bool { return p.Role == assembly.Service })
	var s steps
	s.add(true, "dry", Two)
	s.add(true, "shut", Alone, with(alone(Switch, "off"), acts(Handle, "shut", stop...))...)
	s.add(true, "drain", Alone)
	s.add(true, "bond", Two)
	s.add(true, "cut", Two, alone(Cut, "")...)
	s.add(true, "swab", Alone, acts(Swab, "", cut...)...)
	s.add(true, "join", Two, with(acts(Fit, "", cut...), alone(Join, ""))...)
	s.add(true, "open", Two, acts(Handle, "open", stop...)...)
	s.add(true, "meter", Alone)
	return List{"build.tie", s}
}

// stop is the valve that shuts the home off from the street while it is tied in: the one
// at the meter where there is one of old.
func (h *Home) stop() []int {
	for _, i := range h.as(assembly.AsMeterStop) {
		if h.a.Parts[i].Kept {
			return []int{i}
		}
	}
	return nil
}

// after is what is left when the home is joined.
func (h *Home) after() List {
	checks := false
	for _, t := range h.checks {
		checks = checks || t.Tested()
	}
	var s steps
	s.add(h.pumped(), "power", Alone, h.filled()...)
	s.add(true, "flush", Alone)
	s.add(true, "strip", Alone)
	s.add(h.stored(), "spill", Two)
	s.add(checks, "check", Two)
	s.add(h.pumped() && h.stored(), "dry-run", Two)
	s.add(h.pumped() && !h.stored(), "cut-out", Two)
	s.add(true, "setting", Alone)
	s.add(true, "taps", Alone)
	s.add(h.pumped(), "drill", Alone)
	s.add(true, "card", Alone)
	return List{"build.after", s}
}
