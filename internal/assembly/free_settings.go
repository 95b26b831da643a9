package assembly

import "strings"

// freeSettings names the settings a freely listed assembly can have: the one it stands in
// and each of the usual ones that its valves can make, held to what the name says.
func (b *build) freeSettings() {
	if b.like != nil && b.a.joinedAs(b.like) {
		b.a.Settings = b.like.Settings
		return
	}
	first := b.standing()
	b.a.Settings = append(b.a.Settings, first)
	onMain := moves{AsPumpValve: shut, AsMainLegValve: open, AsChangeover: main}
	if !b.a.has(AsMainLegValve) {
		onMain[AsByPassValve] = open
	}
	candidates := []turned{
		{"on-main", onMain},
		{"on-store", moves{AsPumpValve: open, AsStoreValve: open, AsMainLegValve: shut, AsByPassValve: shut, AsChangeover: store}},
		{"store-isolated", onMain.with(moves{AsStoreValve: shut, AsFeedValve: shut})},
		{"pump-out", onMain.with(moves{AsStoreValve: shut})},
		{"boil-notice", moves{AsFeedValve: shut, AsMainLegValve: shut, AsByPassValve: shut, AsChangeover: store}},
		{"away", moves{AsServiceStop: shut, AsPumpValve: shut}},
		{"off", moves{AsServiceStop: shut, AsFeedValve: shut, AsMainLegValve: shut, AsByPassValve: shut, AsPumpValve: shut, AsStoreValve: shut, AsHeaderValve: shut}},
	}
	if falls := b.a.Header() >= 0; falls || len(b.a.Of(Pump)) == 0 { // what a pump's valve does elsewhere, the one at the foot does here
		for i := range candidates {
			if falls && candidates[i].name == "pump-out" {
				continue
			}
			if at, moved := candidates[i].moves[AsPumpValve]; moved {
				candidates[i].moves = candidates[i].moves.with(moves{AsHomeValve: at})
			}
		}
	}
	if b.a.Spooled() {
		candidates = append(candidates, turned{Emergency, onMain.with(moves{AsSpool: fitted, AsByPassValve: open,
			AsStoreValve: shut, AsFeedValve: shut})})
	}
	stop := AsServiceStop
	if !b.a.has(stop) {
		stop = AsMeterStop
	}
	for _, c := range candidates {
		if at, moved := c.moves[AsServiceStop]; moved {
			c.moves = c.moves.with(moves{stop: at})
		}
		s := Setting{Name: c.name, Positions: map[string]string{}}
		for i := range b.a.Parts {
			p := &b.a.Parts[i]
			at, stands := first.Positions[p.Tag]
			if to, moved := c.moves[p.Purpose]; moved && stands {
				at = to
			}
			if stands {
				s.Positions[p.Tag] = at
			}
		}
		if b.a.keeps(&s) {
			b.a.Settings = append(b.a.Settings, s)
		}
	}
	if empty := b.a.emptying(); b.frost() && b.a.keeps(&empty) {
		b.a.Settings = append(b.a.Settings, empty)
	}
}

// with returns the moves with others laid over them.
func (m moves) with(more moves) moves {
	all := moves{}
	for k, v := range m {
		all[k] = v
	}
	for k, v := range more {
		all[k] = v
	}
	return all
}

// has reports whether a part of that name is there.
func (a *Assembly) has(purpose Purpose) bool {
	for i := range a.Parts {
		if a.Parts[i].Purpose == purpose {
			return true
		}
	}
	return false
}

// standing is the setting the listed handles stand in. One the job does not tell of: a
// drain and a by-pass valve shut, a three-way valve on the main, the rest open.
func (b *build) standing() Setting {
	s := Setting{Name: "normal", Positions: map[string]string{}}
	told := map[string]string{}
	for i := range b.job.Parts {
		told[strings.ToUpper(b.job.Parts[i].Tag)] = b.job.Parts[i].Stands
	}
	for i := range b.a.Parts {
		p := &b.a.Parts[i]
		switch {
		case p.Positions() == nil:
		case told[p.Tag] != "":
			s.Positions[p.Tag] = told[p.Tag]
		case p.Kind == ThreeWay:
			s.Positions[p.Tag] = main
		case p.Kind == Spool:
			s.Positions[p.Tag] = out
		case p.Purpose == AsAddedValve:
			s.Positions[p.Tag] = open
		case p.Kind == Drain || p.Role == BypassBy:
			s.Positions[p.Tag] = shut
		default:
			s.Positions[p.Tag] = open
		}
	}
	return s
}

// keeps reports whether a setting does what its name says.
func (a *Assembly) keeps(s *Setting) bool {
	street := a.flood(a.Index(MainTag), s, true)
	stored := make([]bool, len(a.Parts))
	for _, i := range a.Of(Store) {
		mark(stored, a.flood(i, s, true))
	}
	served, pumped := a.any(street, Outlet), a.any(stored, Outlet)
	switch s.Name {
	case "on-main", Emergency:
		return served && !pumped
	case "on-store":
		return pumped && !served
	case "store-isolated":
		return len(a.Of(Store)) > 0 && !a.any(street, FloatValve) && !a.any(stored, Pump) && !pumped
	case "pump-out":
		return a.apart(s)
	case "boil-notice":
		return !served && !a.any(street, FloatValve)
	case "away", "off":
		return !served && !pumped
	case Drained:
		return !served && !pumped && a.opened(s)
	}
	return true
}

// any reports whether a part of a kind is among those reached.
func (a *Assembly) any(reached []bool, k Kind) bool {
	for _, i := range a.Of(k) {
		if reached[i] {
			return true
		}
	}
	return false
}

// apart reports whether a setting shuts the pump off on every side.
func (a *Assembly) apart(s *Setting) bool {
	for _, i := range a.Of(Pump) {
		been := a.flood(i, s, false)
		if a.any(been, Store) || a.any(been, Main) || a.any(been, Outlet) {
			return false
		}
	}
	return len(a.Of(Pump)) > 0
}

// opened reports whether a setting opens a drain.
func (a *Assembly) opened(s *Setting) bool {
	for _, i := range a.Of(Drain) {
		if s.Positions[a.Parts[i].Tag] == open {
			return true
		}
	}
	return false
}

func mark(all, some []bool) {
	for k, yes := range some {
		all[k] = all[k] || yes
	}
}
