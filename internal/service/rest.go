package service

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/calc"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/finding"
	"tideover/internal/quantity"
	"tideover/internal/site"
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
	night := circuit.Case{Setting: max(a.onMain, a.onStore, 0), Main: a.in.Main.Night, Level: a.in.Full, Header: a.in.Header}
	if a.onMain >= 0 {
		night.Setting = a.onMain
	}
	list := []still{{cause: "main-night", k: night}}
	pumped := a.onStore
	if a.boosts() {
		pumped = a.onMain
	}
	if pumped >= 0 && a.ci.Pump() >= 0 {
		k := circuit.Case{Setting: pumped, Main: a.in.Main.Night, Level: a.in.Full, Header: a.in.Header, Pump: circuit.Running}
		list = append(list,
			still{cause: "pump-stop", k: k, speed: a.stopSpeed()},
			still{cause: "pump-shut-off", k: k, speed: 1, stuck: true})
	}
	if a.onMain >= 0 {
		usual := night
		usual.Main = a.in.Main.Usual
		list = append(list, still{cause: "main", k: usual})
	}
	return list
}

// stopSpeed is the speed at which the pump with every tap shut makes just the pressure
// its controller stops at; full speed for a flow control, which stops there, or none.
func (a *run) stopSpeed() float64 {
	if a.control == nil || a.control.Kind == assembly.FlowControl {
		return 1
	}
	z := a.ci.Assembly.Parts[a.control.Senses.Part].Ports[a.control.Senses.Port].Z
	lift := circuit.HeadOf(a.control.Off, z) - float64(a.in.Full)
	return math.Min(1, math.Sqrt(math.Max(lift, 0)/a.ci.PumpLaw().A))
}

// ratedParts lists every part that has a rating, and every outlet.
func (a *run) ratedParts() (parts []int, list []Rest) {
	parts, list = make([]int, 0, len(a.ci.Assembly.Parts)), make([]Rest, 0, len(a.ci.Assembly.Parts))
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
	case catalogue.Regulator:
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
	a.from()
	err := a.s.SolveAt(&c.k, c.speed)
	a.keep()
	if err != nil {
		a.fail("rest", c.cause, err)
		return
	}
	ever := a.ci.EverState(circuit.Ever{Main: a.in.Main.Night, Level: a.in.Full, Header: a.in.Header, Speed: a.everSpeed(c)})
	if err := a.s.Rest(ever); err != nil {
		a.fail("rest", c.cause, err)
		return
	}
	for n := range list {
		r := &list[n]
		low, high, port := a.between(parts[n])
		if math.IsInf(high, 1) {
			continue // nothing presses on it here: nothing is known from this case
		}
		r.Low = min(r.Low, quantity.Pressure(low))
		if port < 0 {
			continue
		}
		p := quantity.Pressure(high)
		if p > r.High {
			r.High, r.Determined = p, true
			r.Cause, r.Calc = a.restCalc(c.stuck, parts[n], port)
		}
		if !c.stuck && p > r.Working {
			r.Working = p
			r.WorkingCause, r.WorkingCalc = a.restCalc(false, parts[n], port)
		}
	}
}

// everSpeed is the pump's speed in what could have pressed: while the controller works,
// no more than it lets it.
//
// A stuck pump that draws on the main counts there as one whose controller works: what it
// makes stuck, the case in which it runs shows, and it must not be counted once more on the
// water before it.
func (a *run) everSpeed(c still) float64 {
	if a.boosts() {
		return a.stopSpeed()
	}
	if c.stuck || a.ci.Pump() < 0 {
		return 1
	}
	return a.stopSpeed()
}

// between returns the widest interval of pressure over a part's ports [Pa], and the port
// of the highest (−1 none). The air side of a mouth is left out.
func (a *run) between(part int) (low, high float64, port int) {
	p := &a.ci.Assembly.Parts[part]
	low, high, port = math.Inf(1), math.Inf(-1), -1
	for k := range p.Ports {
		if p.Ports[k].Name == "mouth" {
			continue
		}
		l, h := a.s.Between(part, k)
		z := float64(p.Ports[k].Z)
		low = math.Min(low, (l-z)*circuit.Weight)
		if v := (h - z) * circuit.Weight; v > high {
			high, port = v, k
		}
	}
	return low, high, port
}

// press is one thing that can press on standing water, and the head it can make.
type press struct {
	cause string // message id "rest.<cause>"
	head  float64
	lift  float64 // of it, what the pump adds
}

// pressesOnce keeps the two lists of presses: they do not change within a run.
func (a *run) pressesOnce(stuck bool) []press {
	k := 0
	if stuck {
		k = 1
	}
	if a.pressing[k] == nil {
		a.pressing[k] = a.presses(stuck)
	}
	return a.pressing[k]
}

// presses lists what can press: the store's surface, the main, and the pump at the speed
// its controller stops at or, when it sticks, at full speed.
func (a *run) presses(stuck bool) []press {
	full := float64(a.in.Full)
	list := []press{
		{"main", circuit.HeadOf(a.in.Main.Usual, a.ci.GaugeHeight()), 0},
		{"main-night", circuit.HeadOf(a.in.Main.Night, a.ci.GaugeHeight()), 0},
	}
	for _, i := range a.ci.Assembly.Of(assembly.Regulator) { // lets on what it is set to, and of a weaker source all
		r := &a.ci.Assembly.Parts[i]
		held := circuit.HeadOf(r.Set, r.Ports[1].Z)
		if r.Role != assembly.Boost {
			held = math.Min(held, list[1].head)
		}
		list = append(list, press{"regulator", held, 0})
	}
	if a.ci.Store {
		list = append(list, press{"store", full, 0})
	}
	if law := a.ci.PumpLaw(); law != nil {
		stop := law.ShutOff(a.stopSpeed())
		list = append(list, press{"pump-stop", full + stop, stop})
		if stuck {
			list = append(list, press{"pump-shut-off", full + law.ShutOff(1), law.ShutOff(1)})
		}
	}
	return list
}

// restCalc finds what makes the highest head at a port, and records how it follows from
// its source: what the pump adds with every tap shut, and what the non-return valves on
// the way hold back. Of the things that press high enough the lowest is what it was.
func (a *run) restCalc(stuck bool, part, port int) (string, []calc.Step) {
	_, high := a.s.Between(part, port)
	var by *press
	list := a.pressesOnce(stuck)
	for i := range list {
		if c := &list[i]; c.head >= high-1e-6 && (by == nil || c.head < by.head) {
			by = c
		}
	}
	if by == nil { // several pumps' heads added up: more than any one makes
		by = &list[len(list)-1]
	}
	sheet := a.sheet()
	if sheet == nil {
		return by.cause, nil
	}
	note := "walk.source-main"
	if by.cause == "regulator" {
		note = "walk.source-regulator"
	}
	if (by.lift > 0 || by.cause == "store") && a.ci.Store {
		note = "walk.source-store"
	}
	sheet.Walk("", note, 0, by.head-by.lift)
	if by.lift > 0 {
		sheet.Walk(a.ci.Assembly.Parts[a.ci.Pump()].Tag, "walk.lifted", by.head-by.lift, by.head)
	}
	if finding.Millimetres(high) != finding.Millimetres(by.head) {
		sheet.Walk("", a.lossNote(), by.head, high)
	}
	sheet.Eval(circuit.PressureEq, high, float64(a.ci.Assembly.Parts[part].Ports[port].Z))
	return by.cause, sheet.Steps
}

// lossNote says what lies between the head of a source and that at a part: non-return valves
// that hold back, where all water stands, or the way itself, where some of it moves.
func (a *run) lossNote() string {
	for i := range a.ci.Assembly.Parts {
		if quantity.Flow(math.Abs(float64(a.s.Flow(i)))) > stillFlow {
			return "walk.lost"
		}
	}
	return "walk.opens"
}

// refills works out how the store fills at each hour's pressure. Its flow is with no tap on
// the main open; what the home meanwhile draws from the store itself is counted off.
func (a *run) refills() {
	if len(a.ci.Assembly.Of(assembly.FloatValve)) == 0 {
		return
	}
	type hour struct {
		id string
		p  quantity.Pressure
	}
	hours := []hour{{"usual", a.in.Main.Usual}}
	if a.in.Main.WorstTold {
		hours = append(hours, hour{"peak", a.in.Main.Worst})
	}
	hours = append(hours, hour{"night", a.in.Main.Night})
	setting := max(a.onMain, 0)
	if a.onMain < 0 {
		setting = max(a.onStore, 0)
	}
	to := &a.r.Inflow
	stands := map[string]site.Standing{"usual": site.Usually, "peak": site.AtWorst, "night": site.AtNight}
	for _, h := range hours {
		r := a.refill(h.id, h.p, setting)
		to.At[stands[h.id]] = max(r.Flow, 0)
		a.r.Refills = append(a.r.Refills, r)
	}
	to.Weak = to.At[site.AtWorst]
	if a.in.Weak && !a.in.Main.WorstTold {
		to.Weak = max(a.refill("weak", a.in.Main.Weak(), setting).Flow, 0)
	}
}

// Inflow is what comes into the store as the main stands.
type Inflow = site.Inflow

// Inflows is that alone of all that Analyse works out.
func Inflows(ci *circuit.Circuit, in Inputs) (Inflow, error) {
	in.Record, in.Near = false, nil
	a, err := start(ci, in)
	if err != nil {
		return Inflow{}, err
	}
	a.refills()
	return a.r.Inflow, nil
}

func (a *run) refill(id string, p quantity.Pressure, setting int) Refill {
	r := Refill{Hours: id, Pressure: p}
	k := circuit.Case{Setting: setting, Main: p, Level: a.in.Low, Filling: true}
	a.from()
	err := a.s.Solve(&k)
	a.keep()
	if err != nil {
		a.fail("refill", id, err)
		return r
	}
	r.Certified = true
	for _, i := range a.ci.Assembly.Of(assembly.FloatValve) {
		r.Flow += a.s.Flow(i)
	}
	if a.lock != nil {
		r.Sensor = a.felt(a.lock)
		r.Felt = a.feltOn(a.sheet(), a.lock)
		r.Left = r.Flow > 0 && r.Sensor < a.lock.On && a.atRest(p) >= a.lock.On
	}
	sheet := a.sheet()
	a.s.WalkMouth(a.ci.Assembly.Of(assembly.FloatValve)[0], sheet)
	r.Time = quantity.Time(math.Inf(1))
	if r.Flow > 0 {
		r.Time = quantity.Time(sheet.Eval(refillEq, float64(a.in.Usable), float64(r.Flow), float64(a.in.Drawn)))
	}
	r.Calc = steps(sheet)
	return r
}
