package procedure

import (
	"slices"

	"tideover/internal/assembly"
)

// Section is new pipework that one pumping tests: what hangs together without passing a
// non-return valve or a part that no test may reach. What is cut into the old pipe at the
// tie-in is in none: it is not there yet, and is looked at under the main's own pressure. Pumped behind a non-return valve, the
// pipe before it stays without pressure, so each side is a section of its own.
type Section struct {
	Runs   []string // new pipe in it
	From   string   // drain the test pump is joined to; "" where there is none: an end is left open for it
	Open   []string // hand valves in it, open meanwhile
	Shut   []string // drains in it, shut meanwhile; From is opened for the pump
	Held   []string // non-return valves that hold its pressure back: their outlet is in it
	Passes []string // non-return valves its pressure goes through: their inlet is in it, and what lies behind must be ready for it
	Plug   []string // parts at its ends that no test may reach: shut off, taken out or plugged
}

// Spared are the kinds no pressure test may reach, with the reason.
var Spared = map[assembly.Kind]string{assembly.Pump: "pump", assembly.Vessel: "vessel", assembly.Heater: "heater",
	assembly.FloatValve: "float", assembly.Switch: "control", assembly.Meter: "old"}

// Sections parts the new pipework of an assembly, in the order of its parts.
func Sections(a *assembly.Assembly) []Section {
	mate := map[assembly.End]assembly.End{}
	for _, j := range a.Joins {
		mate[j.A], mate[j.B] = j.B, j.A
	}
	var list []Section
	been := make([]bool, len(a.Parts))
	for i := range a.Parts {
		if p := &a.Parts[i]; p.Kind != assembly.Run || p.Kept || p.Role == assembly.Service || been[i] {
			continue
		}
		list = append(list, section(a, mate, i, been))
	}
	return list
}

// section gathers what hangs together with the new run at.
func section(a *assembly.Assembly, mate map[assembly.End]assembly.End, at int, been []bool) Section {
	var s Section
	note := func(list *[]string, tag string) {
		if !slices.Contains(*list, tag) {
			*list = append(*list, tag)
		}
	}
	visit := []int{at}
	been[at] = true
	for len(visit) > 0 {
		i := visit[0]
		visit = visit[1:]
		s.add(&a.Parts[i])
		for port := range a.Parts[i].Ports {
			o, joined := mate[assembly.End{Part: i, Port: port}]
			if !joined {
				continue
			}
			switch next := &a.Parts[o.Part]; {
			case next.Kind == assembly.NonReturn && o.Port == 0:
				note(&s.Passes, next.Tag)
			case next.Kind == assembly.NonReturn:
				note(&s.Held, next.Tag)
			case Spared[next.Kind] != "" || next.Kind == assembly.Store:
				note(&s.Plug, next.Tag)
			case next.Kept || next.Kind == assembly.Main || next.Kind == assembly.Outlet || next.Role == assembly.Service:
			case !been[o.Part]:
				been[o.Part] = true
				visit = append(visit, o.Part)
			}
		}
	}
	for _, list := range []*[]string{&s.Runs, &s.Open, &s.Shut, &s.Held, &s.Passes, &s.Plug} {
		slices.Sort(*list)
	}
	if len(s.Shut) > 0 {
		s.From = s.Shut[0]
	}
	return s
}

// add notes a part in the section.
func (s *Section) add(p *assembly.Part) {
	switch p.Kind {
	case assembly.Run:
		s.Runs = append(s.Runs, p.Tag)
	case assembly.HandValve, assembly.ThreeWay:
		s.Open = append(s.Open, p.Tag)
	case assembly.Drain:
		s.Shut = append(s.Shut, p.Tag)
	}
}
