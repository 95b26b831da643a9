package day

import (
	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/quantity"
)

// usings are the outlets of a home with what each really gives, alone, where the home mostly lives:
// on the main at its usual pressure, or on the store, full, with the pump in the middle of its
// swing. A use takes so long that its litres come out of that: were it timed by the flow the outlet
// is designed for, a home with good pressure would draw more in a day than it uses. The design flow
// stands where nothing could be worked out. [m³/s]
func usings(ci *circuit.Circuit, p *Plant, in Inputs) []Using {
	k := circuit.Case{Level: quantity.Length(p.Store.Shut), Open: make([]bool, len(ci.Outlets))}
	switch main, store := serving(ci); {
	case main >= 0:
		k.Setting, k.Main = main, in.Main.Usual
	case store >= 0:
		k.Setting, k.MainOff = store, true
		k.Pump, k.Hold = held(ci)
	}
	s := ci.NewSolver()
	list := make([]Using, len(ci.Outlets))
	for n, i := range ci.Outlets {
		row, _ := ci.Assembly.Parts[i].Row.(catalogue.Outlet)
		list[n] = Using{row.Kind, float64(row.Design)}
		clear(k.Open)
		k.Open[n] = true
		if err := s.Solve(&k); err != nil || !s.OK() {
			continue
		}
		if q, _ := s.Draw(n); float64(q) > shareOfDesign*float64(row.Design) {
			list[n].Flow = float64(q)
		}
	}
	return list
}

// shareOfDesign is the share of its design flow under which nobody waits at an outlet until the
// litres are there: the use is then as long as it is meant to be, and falls short.
const shareOfDesign = 0.5

// held is how the pump serves on the mean: a switched one in the middle of its swing.
func held(ci *circuit.Circuit) (circuit.Pumping, quantity.Pressure) {
	c := ci.ControlOf()
	switch {
	case len(ci.Pumps()) == 0:
		return circuit.Standing, 0
	case c == nil || c.Kind == assembly.FlowControl:
		return circuit.Running, 0
	case c.Kind == assembly.SpeedControl:
		return circuit.Holding, c.Off
	}
	return circuit.Holding, (c.On + c.Off) / 2
}
