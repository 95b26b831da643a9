package service

import (
	"tideover/internal/assume"
	"tideover/internal/circuit"
	"tideover/internal/quantity"
)

// Reach is what one outlet gets, opened alone, from each supply it may have.
type Reach struct {
	Outlet string
	Store  Got   // out of the store about to run dry, with power
	Dark   Got   // the same without power
	Main   []Got // from the main at each of the pressures asked for
}

// Got is what an outlet gets from one supply.
type Got struct {
	Served bool // at least the share of its need that it can be used with
	Calls  bool // the main falls so far that the changeover goes over to the store
	Judged bool // the case was solved and certified, or there is no such case and nothing is got
}

// Reaches works out what every outlet gets alone: on the store, on the store without power,
// and on the main at each pressure at rest (at the meter), with the changeover on it.
func Reaches(ci *circuit.Circuit, in Inputs, mains []quantity.Pressure) ([]Reach, error) {
	in.DemandKnown, in.Record, in.Near = false, false, nil // no outlets together, no papers
	a, err := start(ci, in)
	if err != nil {
		return nil, err
	}
	usable := assume.Usable.In(ci.Assembly.Assumed)
	list := make([]Reach, len(ci.Outlets))
	for n, i := range ci.Outlets {
		list[n] = Reach{Outlet: ci.Assembly.Parts[i].Tag, Store: Got{Judged: true}, Dark: Got{Judged: true}, Main: make([]Got, len(mains))}
		for m := range mains {
			list[n].Main[m].Judged = true
		}
	}
	at := func(m Mode, k circuit.Case, to func(*Reach) *Got) {
		a.r.Modes = a.r.Modes[:0]
		a.add(m, k)
		for _, d := range a.r.Modes[0].Alone {
			for n := range list {
				if list[n].Outlet == d.Outlet {
					*to(&list[n]) = Got{Served: d.Certified && d.Flow > stillFlow && float64(d.Flow) >= usable*float64(d.Need), Calls: d.Left, Judged: d.Certified}
				}
			}
		}
	}
	if a.lifting(); a.r.Lift != nil && !(a.r.Lift.Certified && a.r.Lift.Flow > stillFlow) {
		a.onStore = -1 // what the taps draw on stays empty
	}
	if a.onStore >= 0 {
		at(Mode{ID: "on-store", Power: true, Pumped: a.serves}, circuit.Case{Setting: a.onStore, MainOff: true, Level: in.Low}, func(r *Reach) *Got { return &r.Store })
		at(Mode{ID: "on-store"}, circuit.Case{Setting: a.onStore, MainOff: true, Level: in.Low}, func(r *Reach) *Got { return &r.Dark })
	}
	for m, p := range mains {
		if a.onMain >= 0 {
			at(Mode{ID: "on-main", Main: p, Power: true, Pumped: a.boosts()}, circuit.Case{Setting: a.onMain, Main: p, Level: in.Low}, func(r *Reach) *Got { return &r.Main[m] })
		}
	}
	return list, nil
}
