package service

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/quantity"
)

// still is one way water can stand with every tap shut.
type still struct {
	cause string // message id "rest.<cause>"
	k     circuit.Case
	stuck bool    // only a controller that has failed lets it come to this
	speed float64 // of the pump
}

// rests works out the pressures parts can stand under with nothing drawn: the main at
// its night maximum, and the store full with the pump at the pressure its controller
// stops at, and at full speed should the controller stick. Between shut valves the
// highest that ever pressed stays: an interval, of which the high end counts.
func (a *run) rests() {
	parts, rated := a.ratedParts()
	for _, c := range a.stills() {
		a.rest(c, parts, rated)
	}
	a.r.Rests = rated
}

func (a *run) stills() []still {
	night := circuit.Case{Setting: max(a.onMain, a.onStore, 0), Main: a.in.Night, Level: a.in.Full}
	if a.onMain >= 0 {
		night.Setting = a.onMain
	}
	list := []still{{cause: "main-night", k: night}}
	if a.onStore >= 0 && a.ci.Pump() >= 0 {
		k := circuit.Case{Setting: a.onStore, Main: a.in.Night, Level: a.in.Full, Pump: circuit.Running}
		list = append(list,
			still{cause: "pump-stop", k: k, speed: a.stopSpeed()},
			still{cause: "pump-shut-off", k: k, speed: 1, stuck: true})
	}
	if a.onMain >= 0 {
		usual := night
		usual.Main = a.in.Usual
		list = append(list, still{cause: "main", k: usual})
	}
	return list
}

// stopSpeed is the speed at which the pump with every tap shut makes just the pressure
// its controller stops at; full speed for a flow control, which stops there, or none.
func (a *run) stopSpeed() float64 {
	if a.control == nil || a.control.Kind == "flow-control" {
		return 1
	}
	z := a.ci.Assembly.Parts[a.control.Senses.Part].Ports[a.control.Senses.Port].Z
	lift := circuit.HeadOf(a.control.Off, z) - float64(a.in.Full)
	return math.Min(1, math.Sqrt(math.Max(lift, 0)/a.ci.PumpLaw().A))
}

// ratedParts lists every part that has a rating, and every outlet.
func (a *run) ratedParts() (parts []int, list []Rest) {
	for i := range a.ci.Assembly.Parts {
		p := &a.ci.Assembly.Parts[i]
		rating, rated := ratingOf(p.Row)
		if !rated && p.Kind != assembly.Outlet && p.Kind != assembly.Heater {
			continue
		}
		inf := quantity.Pressure(math.Inf(1))
		parts = append(parts, i)
		list = append(list, Rest{Part: p.Tag, Rating: rating, Rated: rated, Low: inf, High: -inf, Working: -inf})
	}
	return parts, list
}

func ratingOf(row catalogue.Item) (quantity.Pressure, bool) {
	var p quantity.Pressure
	switch r := row.(type) {
	case catalogue.Pipe:
		p = r.Rating
	case catalogue.Valve:
		p = r.Rating
	case catalogue.NonReturn:
		p = r.Rating
	case catalogue.Float:
		p = r.Rating
	case catalogue.Vessel:
		p = r.Rating
	case catalogue.Pump:
		p = r.Rating
	case catalogue.Heater:
		p = r.Rating
	case catalogue.Control:
		p = r.Rating
	}
	return p, p > 0
}

// rest solves one still case and widens the intervals of the parts.
func (a *run) rest(c still, parts []int, list []Rest) {
	if err := a.s.SolveAt(&c.k, c.speed); err != nil {
		a.fail("rest", c.cause, err)
		return
	}
	ever := a.ci.EverState(circuit.Ever{Main: a.in.Night, Level: a.in.Full, Speed: a.everSpeed(c)})
	if err := a.s.Rest(ever); err != nil {
		a.fail("rest", c.cause, err)
		return
	}
	for n := range list {
		r := &list[n]
		low, high, onSurface := a.between(parts[n])
		if math.IsInf(high, 1) {
			continue // nothing presses on it here: nothing is known from this case
		}
		r.Low = min(r.Low, quantity.Pressure(low))
		p, cause := quantity.Pressure(high), c.cause
		if onSurface {
			cause = "store"
		}
		if p > r.High {
			r.High, r.Cause, r.Determined = p, cause, true
		}
		if !c.stuck && p > r.Working {
			r.Working, r.WorkingCause = p, cause
		}
	}
}

// everSpeed is the pump's speed in what could have pressed: while the controller works,
// no more than it lets it.
func (a *run) everSpeed(c still) float64 {
	if c.stuck || a.ci.Pump() < 0 {
		return 1
	}
	return a.stopSpeed()
}

// between returns the widest interval of pressure over a part's ports [Pa], and whether
// the highest is what the store's open surface makes. The air side of a mouth is left out.
func (a *run) between(part int) (low, high float64, onSurface bool) {
	p := &a.ci.Assembly.Parts[part]
	low, high = math.Inf(1), math.Inf(-1)
	for k := range p.Ports {
		if p.Ports[k].Name == "mouth" {
			continue
		}
		l, h := a.s.Between(part, k)
		z := float64(p.Ports[k].Z)
		low = math.Min(low, (l-z)*circuit.Weight)
		if v := (h - z) * circuit.Weight; v > high {
			high, onSurface = v, a.ci.Store && math.Abs(h-float64(a.in.Full)) < 1e-3
		}
	}
	return low, high, onSurface
}

// refills works out how the store fills at each hour's pressure, nothing being drawn.
func (a *run) refills() {
	if len(a.ci.Assembly.Of(assembly.FloatValve)) == 0 {
		return
	}
	type hour struct {
		id string
		p  quantity.Pressure
	}
	hours := []hour{{"usual", a.in.Usual}}
	if a.in.PeakKnown {
		hours = append(hours, hour{"peak", a.in.peakAtRest(a.ci)})
	}
	hours = append(hours, hour{"night", a.in.Night})
	setting := max(a.onMain, 0)
	if a.onMain < 0 {
		setting = max(a.onStore, 0)
	}
	for _, h := range hours {
		a.r.Refills = append(a.r.Refills, a.refill(h.id, h.p, setting))
	}
}

func (a *run) refill(id string, p quantity.Pressure, setting int) Refill {
	r := Refill{Hours: id, Pressure: p}
	k := circuit.Case{Setting: setting, Main: p, Level: a.in.Low, Filling: true}
	if err := a.s.Solve(&k); err != nil {
		a.fail("refill", id, err)
		return r
	}
	r.Certified = true
	for _, i := range a.ci.Assembly.Of(assembly.FloatValve) {
		r.Flow += a.s.Flow(i)
	}
	if a.lock != nil {
		r.Sensor = a.felt(a.lock)
		r.Left = r.Flow > 0 && r.Sensor < a.lock.On && a.atRest(p) >= a.lock.On
	}
	sheet := a.sheet()
	a.s.WalkMouth(a.ci.Assembly.Of(assembly.FloatValve)[0], sheet)
	r.Time = quantity.Time(math.Inf(1))
	if r.Flow > 0 {
		r.Time = quantity.Time(sheet.Eval(refillEq, float64(a.in.Usable), float64(r.Flow)))
	}
	r.Calc = steps(sheet)
	return r
}
