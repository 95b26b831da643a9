package procedure

import (
	"slices"

	"tideover/internal/assembly"
	"tideover/internal/quantity"
)

// Turn is one handle and where it goes.
type Turn struct {
	Part int
	To   string
}

// Source is what presses on a non-return valve from behind while it is tested.
type Source string

// The sources, the one at hand first.
const (
	ByPump     Source = "pump"      // the pump at its highest pressure
	ByMain     Source = "main"      // the main
	ByStore    Source = "store"     // the store by its height
	ByHandPump Source = "hand-pump" // a hand test pump on a drain behind it
	ByColumn   Source = "column"    // the water that stands behind it, up to an open mouth
)

// CheckTest is how one non-return valve is put under pressure from behind with the side
// before it open to a drain: what comes there came through it. It is tried hard, with what
// presses most, and softly, with a little standing water: soft seats that hold at the one
// weep at the other.
type CheckTest struct {
	Check     int
	High, Low *CheckTrial // nil where it cannot be done
}

// CheckTrial is one of the two.
type CheckTrial struct {
	Drain int             // on the side before the valve: watched
	By    Source          // what presses
	Pump  int             // the drain a hand test pump is joined to; −1 none
	Mouth int             // the tap or float valve held open, up to which water stands; −1 none
	Head  quantity.Length // of that water over the valve
	Turns []Turn          // out of the normal setting, drains left out
	Also  []int           // other non-return valves that could leak to the same drain
}

// Tested reports whether the valve can be tested at all.
func (t *CheckTest) Tested() bool { return t.High != nil || t.Low != nil }

// mostTurned is how many handles a test may turn out of the normal setting.
const mostTurned = 5

// LowHead is the least water that has to stand on a valve for the test at low pressure. [m]
const LowHead quantity.Length = 0.3

// Checks finds the test of every non-return valve, street to home.
func Checks(a *assembly.Assembly) []CheckTest {
	if len(a.Settings) == 0 {
		return nil
	}
	var list []CheckTest
	p := stand(a, a.Settings[0].Positions)
	for _, c := range a.Of(assembly.NonReturn) {
		list = append(list, p.checkTest(c))
	}
	return list
}

// checkTest finds both trials of a valve.
func (p *plumb) checkTest(c int) CheckTest {
	return CheckTest{Check: c,
		High: p.trial(c, ByPump, ByMain, ByStore, ByHandPump),
		Low:  p.trial(c, ByColumn),
	}
}

// trial takes the first way that shows the valve alone, with as few handles turned as can
// be; where none does, the first that shows it among others.
func (p *plumb) trial(c int, sources ...Source) (found *CheckTrial) {
	if !p.drained(c) {
		return nil
	}
	for _, shared := range []bool{false, true} {
		for _, by := range sources {
			for n := 0; n <= mostTurned; n++ {
				if p.subsets(n, func(turns []Turn) bool {
					found = p.with(turns).shows(c, by, shared)
					if found != nil {
						found.Turns = slices.Clone(turns)
					}
					return found != nil
				}) {
					return found
				}
			}
		}
	}
	return nil
}

// drained reports whether there is a drain at all to which the water before the valve could
// come with some valves open and some shut.
func (p *plumb) drained(c int) bool {
	all := p.with(p.everyOpen())
	before := all.reach([]assembly.End{{Part: c, Port: 0}}, way{wall: c, leaks: -1})
	for _, d := range p.a.Of(assembly.Drain) {
		if before.has(assembly.End{Part: d, Port: 0}) {
			return true
		}
	}
	return false
}

// everyOpen turns every hand valve open.
func (p *plumb) everyOpen() []Turn {
	var list []Turn
	for _, i := range p.a.Of(assembly.HandValve) {
		list = append(list, Turn{i, "open"})
	}
	return list
}

// subsets tries every way of turning n handles out of the normal setting until one does.
func (p *plumb) subsets(n int, try func([]Turn) bool) bool {
	var all []Turn
	for i := range p.a.Parts {
		part := &p.a.Parts[i]
		if part.Kind == assembly.Drain || part.Kind == assembly.Spool {
			continue
		}
		for _, to := range part.Positions() {
			if to != p.at[part.Tag] && to != "between" {
				all = append(all, Turn{i, to})
			}
		}
	}
	var choose func(from int, done []Turn) bool
	choose = func(from int, done []Turn) bool {
		if len(done) == n {
			return try(done)
		}
		for k := from; k < len(all); k++ {
			if len(done) > 0 && done[len(done)-1].Part == all[k].Part {
				continue
			}
			if choose(k+1, append(done, all[k])) {
				return true
			}
		}
		return false
	}
	return choose(0, nil)
}

// live are the ports water presses from, whatever hands do: the main, and every store by
// its height; the pump where it runs.
func (p *plumb) live(pump bool) []assembly.End {
	list := append(p.ports(assembly.Main), p.ports(assembly.Store)...)
	if pump {
		for _, i := range p.a.Of(assembly.Pump) {
			list = append(list, assembly.End{Part: i, Port: 1})
		}
	}
	return list
}

// shows reports how a leak of valve c, and none but it, comes to light with the handles as
// they stand, and what presses. A store's own drain shows nothing: the store is behind it.
func (p *plumb) shows(c int, by Source, shared bool) *CheckTrial {
	t := &CheckTrial{By: by, Pump: -1, Mouth: -1}
	live := p.live(by == ByPump)
	if !p.behind(t, c, live) {
		return nil
	}
	if t.Pump >= 0 {
		live = append(live, assembly.End{Part: t.Pump, Port: 0})
	}
	if t.Mouth >= 0 {
		live = append(live, assembly.End{Part: t.Mouth, Port: 0})
	}
	before := p.reach([]assembly.End{{Part: c, Port: 0}}, way{wall: c, leaks: -1})
	still := p.reach(live, way{wall: c, leaks: -1})
	for _, d := range p.a.Of(assembly.Drain) {
		at := assembly.End{Part: d, Port: 0}
		if d == t.Pump || !before.has(at) || still.has(at) {
			continue
		}
		t.Also = nil
		for _, other := range p.a.Of(assembly.NonReturn) {
			if other != c && p.reach(live, way{wall: c, leaks: other}).has(at) {
				t.Also = append(t.Also, other)
			}
		}
		if len(t.Also) == 0 || shared {
			t.Drain = d
			return t
		}
	}
	return nil
}

// behind reports whether the trial's source presses on the far side of the valve, and by
// which drain or mouth where it needs one.
func (p *plumb) behind(t *CheckTrial, c int, live []assembly.End) bool {
	out, wall := assembly.End{Part: c, Port: 1}, way{wall: c, leaks: -1}
	switch t.By {
	case ByMain:
		return p.reach(p.ports(assembly.Main), wall).has(out)
	case ByStore:
		return p.reach(p.ports(assembly.Store), wall).has(out)
	case ByPump:
		fed := p.reach(p.ports(assembly.Store), forward)
		for _, i := range p.a.Of(assembly.Pump) {
			if fed.has(assembly.End{Part: i, Port: 0}) && p.reach([]assembly.End{{Part: i, Port: 1}}, wall).has(out) {
				return true
			}
		}
		return false
	}
	if p.reach(live, wall).has(out) {
		return false // something presses there already
	}
	if t.By == ByHandPump {
		for _, d := range p.a.Of(assembly.Drain) {
			if p.reach([]assembly.End{{Part: d, Port: 0}}, wall).has(out) {
				t.Pump = d
				return true
			}
		}
		return false
	}
	return p.column(t, c)
}

// column finds the lowest mouth that keeps water standing on the valve: a tap, or a float
// valve held down.
func (p *plumb) column(t *CheckTrial, c int) bool {
	z := p.a.Parts[c].Ports[1].Z
	for _, k := range []assembly.Kind{assembly.Outlet, assembly.FloatValve} {
		for _, o := range p.a.Of(k) {
			mouth := p.a.Parts[o].Ports[len(p.a.Parts[o].Ports)-1].Z
			if high := mouth - z; high < LowHead-1e-9 || t.Mouth >= 0 && high >= t.Head {
				continue
			}
			if p.reach([]assembly.End{{Part: o, Port: 0}}, way{wall: c, leaks: -1}).has(assembly.End{Part: c, Port: 1}) {
				t.Mouth, t.Head = o, mouth-z
			}
		}
	}
	return t.Mouth >= 0
}
