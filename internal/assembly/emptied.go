package assembly

import (
	"container/heap"
	"math"

	"tideover/internal/quantity"
)

// Drained is the name of the setting in which the pipework stands empty for a frost.
const Drained = "frost"

// emptying is how the handles stand for a frost: main and stores shut off, everything
// behind them open to everything else, and every drain open that neither can reach. It
// follows from what is joined to what, so that every arrangement has it.
func (a *Assembly) emptying() Setting {
	s := Setting{Name: Drained, Positions: map[string]string{}}
	for i := range a.Parts {
		switch p := &a.Parts[i]; p.Kind {
		case HandValve:
			s.Positions[p.Tag] = open
		case ThreeWay:
			s.Positions[p.Tag] = between
		case Spool:
			s.Positions[p.Tag] = out
		case Drain:
			s.Positions[p.Tag] = shut
		}
	}
	for _, i := range a.sourceValves() {
		s.Positions[a.Parts[i].Tag] = shut
	}
	pressed := a.pressed(&s)
	for _, i := range a.Of(Drain) {
		if !pressed[i] {
			s.Positions[a.Parts[i].Tag] = open
		}
	}
	return s
}

// sourceValves are the hand valves that shut off the main, at the house where there is one
// there, and each store, street to home.
func (a *Assembly) sourceValves() []int {
	var list []int
	for _, purpose := range []Purpose{AsServiceStop, AsMeterStop} {
		for _, i := range a.Of(HandValve) {
			if len(list) == 0 || a.Parts[list[0]].Purpose == purpose {
				if a.Parts[i].Purpose == purpose {
					list = append(list, i)
				}
			}
		}
	}
	if at := a.Index(MainTag); len(list) == 0 && at >= 0 {
		list = append(list, a.valvesRound(at)...)
	}
	for _, i := range a.Of(Store) {
		list = append(list, a.valvesRound(i)...)
	}
	inOrder(list)
	return list
}

// valvesRound are the hand valves next to a part on its pipes.
func (a *Assembly) valvesRound(part int) []int {
	var list []int
	for port := range a.Parts[part].Ports {
		for _, e := range a.section(End{part, port}).ends {
			if a.Parts[e.Part].Kind == HandValve {
				list = append(list, e.Part)
			}
		}
	}
	return list
}

// pressed marks what main or store stands on in a setting.
func (a *Assembly) pressed(s *Setting) []bool {
	on := make([]bool, len(a.Parts))
	for _, kind := range []Kind{Main, Store} {
		for _, i := range a.Of(kind) {
			mark(on, a.flood(i, s, true))
		}
	}
	return on
}

// Cutoff is what to shut when water is where it should not be.
type Cutoff struct {
	First []int // with these shut and the pump off neither main nor store can run out, wherever behind them the leak is
	Then  []int // the others that stand open: they keep what stands in one leg from running out of another
}

// Cutoff works it out for a setting from what is joined to what.
func (a *Assembly) Cutoff(s *Setting) Cutoff {
	c := Cutoff{First: a.sourceValves()}
	first := map[int]bool{}
	for _, i := range c.First {
		first[i] = true
	}
	for _, i := range a.Of(HandValve) {
		if !first[i] && s.Positions[a.Parts[i].Tag] == open && a.Parts[i].Purpose != AsMeterStop {
			c.Then = append(c.Then, i)
		}
	}
	return c
}

// Why says why water stays in a part when the pipework is drained down.
type Why string

// The reasons.
const (
	Pressed Why = "pressed" // main or store still stands on it
	TooLow  Why = "low"     // it lies lower than every mouth its water can run to
	Behind  Why = "behind"  // a valve or non-return valve lies between it and every mouth
	Itself  Why = "itself"  // it holds water of its own: a pump's casing, a heater, a store
)

// Held is a part that still holds water.
type Held struct {
	Part int
	Why  Why
}

// Emptied is what comes of draining the pipework down.
type Emptied struct {
	Shut   []int // handles that keep main and store away
	Drains []int // that are opened
	Taps   []int // every outlet: opened, to let air in and the water of the branches out
	Floats []int // float valves: held down until their pipe is empty, for a full store keeps them shut
	Held   []Held
}

// Emptied says what is to be opened for a frost and which parts still hold water when all
// of it stands open; ok is false where the assembly has no such setting.
func (a *Assembly) Emptied() (e Emptied, ok bool) {
	s := a.Setting(Drained)
	if s == nil {
		return e, false
	}
	e.Shut, e.Taps, e.Floats = a.sourceValves(), a.Of(Outlet), a.Of(FloatValve)
	for _, i := range a.Of(Drain) {
		if s.Positions[a.Parts[i].Tag] == open {
			e.Drains = append(e.Drains, i)
		}
	}
	e.Held = a.Holds(s)
	return e, true
}

// Holds says which parts hold water in a setting with every tap open: pipes and what has
// room in it, not valves and tees. Water leaves a part where it can run to an open mouth
// and never has to rise on the way (connected vessels; heights are those of the ports, a
// run between rises evenly).
func (a *Assembly) Holds(s *Setting) []Held {
	pressed, climb := a.pressed(s), a.climbs(s)
	var list []Held
	for i := range a.Parts {
		p := &a.Parts[i]
		switch p.Kind {
		case Run, Meter, Strainer, Regulator, NonReturn, Vessel, Pump, Heater, Store:
		default:
			continue
		}
		low, least := math.Inf(1), math.Inf(1)
		for k := range p.Ports {
			z := float64(p.Ports[k].Z)
			if z < low-tiny || z < low+tiny && climb[i][k] < least {
				low, least = min(low, z), climb[i][k]
			}
		}
		switch {
		case p.Kind == Store:
			list = append(list, Held{i, Itself})
		case pressed[i]:
			list = append(list, Held{i, Pressed})
		case math.IsInf(least, 1):
			list = append(list, Held{i, Behind})
		case least > low+tiny:
			list = append(list, Held{i, TooLow})
		case p.Kind == Pump || p.Kind == Heater:
			list = append(list, Held{i, Itself})
		}
	}
	return list
}

// tiny is a difference of heights that holds no water. [m]
const tiny = 1e-3

// climbs returns, per port, how high water from there has to rise at most on its lowest way
// to an open mouth; +Inf where none leads out. It spreads from the mouths against the
// water's way, lowest first (Dijkstra 1959, with the height in place of the length).
func (a *Assembly) climbs(s *Setting) [][]float64 {
	m := a.mates()
	best := make([][]float64, len(a.Parts))
	for i := range best {
		best[i] = make([]float64, len(a.Parts[i].Ports))
		for k := range best[i] {
			best[i][k] = math.Inf(1)
		}
	}
	var front rises
	reach := func(e End, z quantity.Length) {
		h := math.Max(float64(z), float64(a.Parts[e.Part].Ports[e.Port].Z))
		if h < best[e.Part][e.Port] {
			best[e.Part][e.Port] = h
			heap.Push(&front, height{h, e})
		}
	}
	for i := range a.Parts {
		if k := a.Parts[i].Kind; k == Outlet || k == Drain && s.Positions[a.Parts[i].Tag] == open {
			reach(End{i, 0}, a.Parts[i].Ports[0].Z)
		}
	}
	for front.Len() > 0 {
		f := heap.Pop(&front).(height)
		if f.h > best[f.at.Part][f.at.Port] {
			continue
		}
		if o := m.mate[m.first[f.at.Part]+f.at.Port]; o.Part >= 0 {
			reach(o, quantity.Length(f.h))
		}
		p := &a.Parts[f.at.Part]
		for k := range p.Ports {
			if k != f.at.Port && a.passes(p, k, f.at.Port, s, true) {
				reach(End{f.at.Part, k}, quantity.Length(f.h))
			}
		}
	}
	return best
}

// height is a port water gets out from, and how high it rises on the way.
type height struct {
	h  float64
	at End
}

// rises is a queue of them, the lowest first.
type rises []height

func (q rises) Len() int           { return len(q) }
func (q rises) Less(i, j int) bool { return q[i].h < q[j].h }
func (q rises) Swap(i, j int)      { q[i], q[j] = q[j], q[i] }
func (q *rises) Push(x any)        { *q = append(*q, x.(height)) }
func (q *rises) Pop() any {
	old := *q
	x := old[len(old)-1]
	*q = old[:len(old)-1]
	return x
}
