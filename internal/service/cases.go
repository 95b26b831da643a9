package service

import (
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/assume"
	"tideover/internal/circuit"
	"tideover/internal/quantity"
)

// solve solves one case of a mode. A pump that serves does what its controller makes of
// it: a speed control holds its set pressure, a flow control runs at full speed. A
// pressure switch lets the pressure swing between cut-out and cut-in; the low end is what
// an outlet can count on, so the case is solved with the cut-in held there, or at full
// speed where the pump cannot hold it.
func (a *run) solve(m *Mode, k *circuit.Case) {
	k.Pump = circuit.Standing
	if m.Pumped {
		k.Pump = circuit.Running
	}
	if m.Pumped && a.control != nil {
		switch a.control.Kind {
		case assembly.SpeedControl:
			k.Pump, k.Hold = circuit.Holding, a.held()
		case assembly.PressureSwitch:
			k.Pump, k.Hold = circuit.Holding, a.control.On
		}
	}
	a.from()
	err := a.s.Solve(k)
	if err == nil && k.Pump != circuit.Standing && a.cut != nil && a.felt(a.cut) < a.cut.Off {
		m.trip(a.felt(a.cut), a.openTags())
		k.Pump = circuit.Standing // the cut-out bars it: the main alone is left
		err = a.s.Solve(k)
	}
	if err != nil {
		a.fail(m.ID, a.openTags(), err)
	}
	a.keep()
}

// held is what a speed control holds while water is drawn.
func (a *run) held() quantity.Pressure {
	return a.control.Off - quantity.Pressure(assume.Droop.In(a.ci.Assembly.Assumed))
}

// trip notes the draw that pulls the inlet of the pump lowest under its cut-out.
func (m *Mode) trip(felt quantity.Pressure, open string) {
	if m.Trip == nil || felt < m.Trip.Felt {
		m.Trip = &Trip{Felt: felt, Open: open}
	}
}

// from starts the next case from the answer of the same case in another run, if any.
func (a *run) from() {
	if a.aside {
		return
	}
	if a.cases < len(a.in.Near) {
		a.s.From(a.in.Near[a.cases])
	}
	a.cases++
}

// keep keeps the answer just found, in the base run.
func (a *run) keep() {
	if a.in.Record && !a.aside {
		a.r.Answers = append(a.r.Answers, a.s.Keep())
	}
}

// fail notes a case that did not certify, once however often it is met: a finding is known by its
// mode and by what is open.
func (a *run) fail(mode, what string, err error) {
	for _, f := range a.r.Failed {
		if f.Mode == mode && f.Case == what {
			return
		}
	}
	a.r.Failed = append(a.r.Failed, Failure{mode, what, err.Error()})
}

func (a *run) tag(n int) string { return a.ci.Assembly.Parts[a.ci.Outlets[n]].Tag }

// openTags names the outlets that are open.
func (a *run) openTags() string {
	var tags []string
	for n, i := range a.ci.Outlets {
		if a.open[n] {
			tags = append(tags, a.ci.Assembly.Parts[i].Tag)
		}
	}
	return strings.Join(tags, ", ")
}

// felt is the pressure where a control feels it.
func (a *run) felt(c *assembly.Control) quantity.Pressure {
	return a.s.Pressure(c.Senses.Part, c.Senses.Port)
}
