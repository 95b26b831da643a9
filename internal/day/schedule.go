package day

import (
	"fmt"
	"math"
	"sort"
)

// Draw is one tap opened for a time.
type Draw struct {
	Outlet          int // index into Plant.Outlets
	Start, Duration float64
}

// Pressing is how the main stands from a time on, until the next.
type Pressing struct {
	From float64
	Head float64 // at the street
	Off  bool    // nothing presses and nothing sucks
}

// Window is a time from one moment to another.
type Window struct{ From, To float64 }

// Hand is a hand that turns the valves to a setting.
type Hand struct {
	At      float64
	Setting int
}

// Schedule is what happens to a plant. Times in s from the start of the run.
type Schedule struct {
	Until float64 // how long the run is
	Draws []Draw
	Main  []Pressing // in order of time, the first at 0
	Dark  []Window   // no power
	Dry   Window     // the water fails, and nobody has turned the home to the store yet
	Hands []Hand     // in order of time; before the first the setting is 0

	Level    float64 // of the store at the start
	Vessel   float64 // head at the vessel at the start; below its charge it is empty
	Allowed  bool    // the lock-out lets the pump run at the start
	Loose    float64 // multiplies the error a step may make, its cube how sharply a moment is placed in a step; 0 counts as 1
	Refilled bool    // stop when the float valve has shut after the main came back
	Unbooked bool    // no books of energy are kept, which prove a run right and which nobody reads
	Chained  bool    // see chain.go
	Trusted  bool    // the solver's own word is taken at events too, without the independent certificate
}

// turn is one change the world makes: kinds below, with an index.
type turn struct {
	at   float64
	kind turnKind
	n    int
}

type turnKind uint8

// In the order they happen at one moment.
const (
	mains turnKind = iota
	hands
	dark
	light
	closing
	opening
	ending
)

// turns lists every change in order of time; ties in a fixed order.
func (s *Schedule) turns(p *Plant) ([]turn, error) {
	if !(s.Until > 0 && s.Until <= 1e9) {
		return nil, fmt.Errorf("day: a run of %g s: above 0 and to 1e9 s is accepted", s.Until)
	}
	if len(s.Main) == 0 || s.Main[0].From > 0 {
		return nil, fmt.Errorf("day: nothing says how the main stands at the start")
	}
	var list []turn
	for n, m := range s.Main {
		list = append(list, turn{m.From, mains, n})
	}
	for n, h := range s.Hands {
		if h.Setting < 0 || h.Setting >= len(p.Shut) {
			return nil, fmt.Errorf("day: a hand turns to setting %d of %d", h.Setting, len(p.Shut))
		}
		list = append(list, turn{h.At, hands, n})
	}
	for n, w := range s.Dark {
		list = append(list, turn{w.From, dark, n}, turn{w.To, light, n})
	}
	for n, d := range s.Draws {
		if d.Outlet < 0 || d.Outlet >= len(p.Outlets) || !(d.Duration > 0) {
			return nil, fmt.Errorf("day: draw-off %d: outlet %d of %d for %g s", n, d.Outlet, len(p.Outlets), d.Duration)
		}
		list = append(list, turn{d.Start, opening, d.Outlet}, turn{d.Start + d.Duration, closing, d.Outlet})
	}
	list = append(list, turn{s.Until, ending, 0})
	for _, t := range list {
		if math.IsNaN(t.at) || math.IsInf(t.at, 0) {
			return nil, fmt.Errorf("day: a change at %g s: a time is wanted", t.at)
		}
	}
	sort.SliceStable(list, func(i, j int) bool {
		a, b := list[i], list[j]
		switch {
		case a.at != b.at:
			return a.at < b.at
		case a.kind != b.kind:
			return a.kind < b.kind
		}
		return a.n < b.n
	})
	return list, nil
}
