package service

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/quantity"
)

// Idle is what holds water that nothing moves on any day: dead ends of how the home lives.
type Idle struct {
	Runs   []string        // tags of pipe runs
	Volume quantity.Volume // of their water
	Others []string        // tags of the pumps, and of their vessels, where the home lives on the main
	OnMain bool            // it does; else on the store
}

// IdleIn finds what stands while the home lives on its main, the store filling, or, where no main
// serves it, on its store: every tap is opened alone, and what moves in none of these cases stands. A
// pipe that was there before is not counted, nor one that leads to a drain.
func IdleIn(ci *circuit.Circuit, in Inputs) (Idle, error) {
	in.Record, in.Near = false, nil
	a, err := start(ci, in)
	if err != nil {
		return Idle{}, err
	}
	k := circuit.Case{Setting: a.onMain, Main: in.Main.Usual, Level: in.Low, Filling: true, Lifting: true, Open: a.open}
	if a.onMain < 0 {
		if k.Setting = a.onStore; a.onStore < 0 {
			return Idle{}, nil
		}
		k.Pump = circuit.Running
	}
	moves := make([]bool, len(ci.Assembly.Parts))
	for n := range ci.Outlets {
		clear(a.open)
		a.open[n] = true
		if err := a.s.Solve(&k); err != nil || !a.s.OK() {
			return Idle{}, a.ended()
		}
		for i := range moves {
			moves[i] = moves[i] || quantity.Flow(math.Abs(float64(a.s.Flow(i)))) > stillFlow
		}
	}
	return a.standing(moves), nil
}

func (a *run) standing(moves []bool) Idle {
	list := Idle{OnMain: a.onMain >= 0}
	for i := range a.ci.Assembly.Parts {
		part := &a.ci.Assembly.Parts[i]
		if moves[i] || part.Kept {
			continue
		}
		switch row := part.Row.(type) {
		case catalogue.Pipe:
			if part.Kind == assembly.Run && part.Length > 0 {
				list.Runs = append(list.Runs, part.Tag)
				list.Volume += quantity.Volume(math.Pi / 4 * float64(row.Bore) * float64(row.Bore) * float64(part.Length))
			}
		case catalogue.Pump: // of several that serve the store takes each in its turn
			if list.OnMain {
				list.Others = append(list.Others, part.Tag)
			}
		case catalogue.Vessel: // it breathes wherever its pump runs
			if list.OnMain && part.Purpose != assembly.AsHeaterVessel {
				list.Others = append(list.Others, part.Tag)
			}
		}
	}
	return list
}
