package day

import (
	"math"
	"slices"

	"tideover/internal/assembly"
	"tideover/internal/circuit"
	"tideover/internal/job"
	"tideover/internal/site"
)

// Usual is an ordinary day, from midnight: the main presses by the hour, nothing fails but
// the power where it does so every other day.
func Usual(ci *circuit.Circuit, p *Plant, in Inputs) *Schedule {
	s := plain(ci, p, in, dayLength)
	return s
}

// Failing is a day on which the water fails at in.At for the usual interruption, and the
// time after it until the store is full again or the next interruption is due. nil where
// no interruption was told.
func Failing(ci *circuit.Circuit, p *Plant, in Inputs) *Schedule {
	if in.Fails <= 0 {
		return nil
	}
	back := in.At + in.Fails
	s := plain(ci, p, in, back+math.Min(in.Between, 14*dayLength))
	s.Main = off(s.Main, Window{in.At, back})
	s.Draws = spared(s.Draws, p.Outlets, Window{back - in.Flushed, back})
	s.Refilled = true
	main, store := serving(ci)
	if p.Lock == nil && main >= 0 && store >= 0 && main != store {
		s.Hands = []Hand{{turned(in.At, in), store}, {turned(back, in), main}}
		s.Dry = Window{in.At, math.Min(s.Hands[0].At, back)}
		if s.Hands[1].At <= s.Hands[0].At {
			s.Hands = nil // the water is back before anybody has turned anything
		}
	}
	return s
}

// spared leaves out the draws of WCs that begin in a window: the main gives them then.
func spared(draws []Draw, outlets []Outlet, w Window) []Draw {
	if w.To <= w.From {
		return draws
	}
	return slices.DeleteFunc(draws, func(d Draw) bool {
		return outlets[d.Outlet].Kind == "wc" && d.Start >= w.From && d.Start < w.To
	})
}

// plain is a stretch of days with the draw-offs and pressures of every day.
func plain(ci *circuit.Circuit, p *Plant, in Inputs, until float64) *Schedule {
	s := &Schedule{Until: until, Level: p.Store.usualLevel()}
	if p.Pump != nil {
		s.Vessel = p.Pump.Off
	}
	one := TypicalDay(usings(ci, p, in), float64(in.Daily), in.There)
	for d := 0.0; d < until; d += dayLength {
		for _, draw := range one {
			draw.Start += d
			if draw.Start < until {
				s.Draws = append(s.Draws, draw)
			}
		}
		s.Main = append(s.Main, pressings(ci, in, d)...)
		if from := d + DarkAt + in.Runs; in.Dark > 0 && from < until {
			s.Dark = append(s.Dark, Window{from, from + in.Dark})
		}
	}
	return s
}

// pressings is the main's pressure over the hours of one day that begins at d.
func pressings(ci *circuit.Circuit, in Inputs, d float64) []Pressing {
	list := []Pressing{}
	changes := []float64{0}
	for _, h := range []job.Hours{in.Main.WorstHours, site.NightHours} {
		changes = append(changes, 60*float64(h.From), 60*float64(h.To))
	}
	for _, t := range sorted(changes) {
		head := circuit.HeadOf(in.Main.AtRest(t), ci.GaugeHeight())
		if t < dayLength && (len(list) == 0 || head != list[len(list)-1].Head) {
			list = append(list, Pressing{From: d + t, Head: head})
		}
	}
	return list
}

func sorted(list []float64) []float64 {
	for i := range list {
		for j := i; j > 0 && list[j] < list[j-1]; j-- {
			list[j], list[j-1] = list[j-1], list[j]
		}
	}
	return list
}

// off takes the main away in a window; at its end it stands as it would have.
func off(list []Pressing, w Window) []Pressing {
	var out []Pressing
	back := Pressing{From: w.To}
	for _, m := range list {
		if m.From <= w.To {
			back.Head = m.Head
		}
		if m.From < w.From || m.From > w.To {
			out = append(out, m)
		}
	}
	at := len(out)
	for i, m := range out {
		if m.From > w.From {
			at = i
			break
		}
	}
	return append(out[:at:at], append([]Pressing{{From: w.From, Off: true}, back}, out[at:]...)...)
}

// turned is when somebody has turned the changeover after a moment, or after somebody came home.
func turned(at float64, in Inputs) float64 {
	if in.Away.Holds(at) {
		home := math.Floor(at/dayLength)*dayLength + 60*float64(in.Away.To)
		if home < at {
			home += dayLength
		}
		at = home
	}
	return at + in.Hand
}

// serving returns the first named setting in which the main, and in which the store can
// serve the home; −1 none.
func serving(ci *circuit.Circuit) (main, store int) {
	main, store = -1, -1
	s := ci.NewSolver()
	for i := range ci.Assembly.Settings {
		if ci.Assembly.Settings[i].Name == assembly.Emergency {
			continue // nobody lives with that
		}
		m, t := s.Serves(i)
		if m && main < 0 {
			main = i
		}
		if t && store < 0 {
			store = i
		}
	}
	return main, store
}
