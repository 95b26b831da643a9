package assembly

// BackTest is how one non-return valve is tried: its inlet side shut off and let down by a
// drain, its outlet side under pressure, water from that drain is water the valve lets back.
type BackTest struct {
	Check   int
	Drain   int   // the drain on its inlet side, the nearest; −1 where there is none: the valve cannot be tried
	Shut    []int // hand-turned parts to shut, so that nothing else comes to that drain, street to home
	Presses []int // mains and stores that stand on the inlet side with no valve between: it cannot be shut off
	Sharing []int // other non-return valves that drain is on the inlet side of: what drips may be theirs
	Far     []int // drains and outlets on its outlet side, valves between open: to press it from by a hose, or let air in behind standing water
}

// Can reports whether the valve can be tried at all.
func (t *BackTest) Can() bool { return t.Drain >= 0 && len(t.Presses) == 0 }

// BackTests says of every non-return valve, street to home, how it is tried, or what is
// missing. Where drains stand decides it, not what they are called: so it holds for any
// arrangement and for a list of parts alike.
func (a *Assembly) BackTests() []BackTest {
	var list []BackTest
	for _, i := range a.Of(NonReturn) {
		t := BackTest{Check: i, Drain: -1}
		near := a.section(End{i, 0})
		for _, k := range near.inside {
			switch a.Parts[k].Kind {
			case Drain:
				if t.Drain < 0 {
					t.Drain = k
				}
			case Main, Store:
				t.Presses = append(t.Presses, k)
			}
		}
		for _, e := range near.ends {
			switch p := &a.Parts[e.Part]; {
			case p.Kind == NonReturn && e.Port == 0 && e.Part != i:
				t.Sharing = append(t.Sharing, e.Part)
			case p.Ways != nil:
				t.Shut = append(t.Shut, e.Part)
			}
		}
		for _, k := range a.sectionTo(End{i, 1}, checks).inside {
			if kind := a.Parts[k].Kind; kind == Drain || kind == Outlet {
				t.Far = append(t.Far, k)
			}
		}
		inOrder(t.Shut)
		list = append(list, t)
	}
	return list
}

// section is a piece of pipework that no valve parts: what stands in it, the nearest to
// where it was begun first, and the ends of the valves, non-return valves and float valves
// that bound it.
type section struct {
	inside []int
	ends   []End
}

// section walks the pipework from what meets a port as far as valves.
func (a *Assembly) section(from End) section { return a.sectionTo(from, bounds) }

// sectionTo walks it as far as kinds that bound it.
func (a *Assembly) sectionTo(from End, bounds func(Kind) bool) section {
	var s section
	m := a.mates()
	been := map[End]bool{from: true}
	in := map[int]bool{}
	queue := []End{from}
	for len(queue) > 0 {
		e := queue[0]
		queue = queue[1:]
		o := m.mate[m.first[e.Part]+e.Port]
		if o.Part < 0 || been[o] {
			continue
		}
		been[o] = true
		if bounds(a.Parts[o.Part].Kind) {
			s.ends = append(s.ends, o)
			continue
		}
		if !in[o.Part] {
			in[o.Part] = true
			s.inside = append(s.inside, o.Part)
		}
		if k := a.Parts[o.Part].Kind; k == Main || k == Store {
			continue
		}
		for port := range a.Parts[o.Part].Ports {
			if next := (End{o.Part, port}); !been[next] {
				been[next] = true
				queue = append(queue, next)
			}
		}
	}
	return s
}

// bounds reports whether pipework ends at a kind of part, as far as its water can be shut in.
func bounds(k Kind) bool {
	return k == HandValve || k == ThreeWay || k == Spool || k == NonReturn || k == FloatValve
}

// checks reports whether a kind holds water back by itself, whatever hands do.
func checks(k Kind) bool { return k == NonReturn || k == FloatValve || k == Spool }

// inOrder sorts parts street to home.
func inOrder(list []int) {
	for i := range list {
		for k := i; k > 0 && list[k] < list[k-1]; k-- {
			list[k], list[k-1] = list[k-1], list[k]
		}
	}
}

// nameDrains says what the drains of a list of parts are for: by the pipework they stand
// on, where their leg alone does not tell.
func (b *build) nameDrains() {
	for _, t := range b.a.BackTests() {
		purpose := map[Purpose]Purpose{AsBackflow: AsBackflowDrain, AsPumpCheck: AsPumpCheckDrain}[b.a.Parts[t.Check].Purpose]
		if purpose == "" || t.Drain < 0 || b.a.Parts[t.Drain].Role != b.a.Parts[t.Check].Role {
			continue
		}
		b.a.Parts[t.Drain].Purpose = purpose
	}
}
