package service

import (
	"fmt"
	"sort"

	"tideover/internal/assembly"
	"tideover/internal/circuit"
	"tideover/internal/quantity"
)

// run is one analysis under way.
type run struct {
	ci *circuit.Circuit
	in Inputs
	s  *circuit.Solver
	r  *Result

	serves          bool // the pump feeds taps: not a header tank alone
	onMain, onStore int  // settings in which the main, the store serves the home; −1 none
	emergency       int  // setting in which a removable spool is in; −1 none
	sides           assembly.Sides
	open            []bool
	cases           int  // solved so far, but for those aside
	aside           bool // solved for the base run alone: no rerun has them
	lock            *assembly.Control
	control         *assembly.Control
	cut             *assembly.Control // low-pressure cut-out at the pump's inlet, or nil
	pressing        [2][]press        // what presses on standing water; with a stuck controller
}

// Analyse works out what every outlet gets in every normal case, and what the pump, the
// store's feed and the parts see. It allocates a Solver and results, and no more; the
// circuit may be shared.
//
// A case that does not certify is left out of judgement and named in Result.Failed; the
// error is kept for a circuit that cannot be analysed at all.
func Analyse(ci *circuit.Circuit, in Inputs) (*Result, error) {
	a, err := start(ci, in)
	if err != nil {
		return nil, err
	}
	a.modes()
	if in.Only != nil {
		a.some()
		return a.r, a.ended()
	}
	a.lifting()
	a.curves()
	a.swing()
	a.rests()
	a.refills()
	a.gap()
	a.upperGap()
	a.drawn()
	if err := a.ended(); err != nil {
		return nil, err
	}
	return a.r, nil
}

// some works out the parts that are asked for, after the modes: each starts from where all of them
// would start it.
func (a *run) some() {
	if a.in.Only.asks(swinging) {
		a.swing()
	}
	if !a.in.Only.asks(resting | refilling) {
		return
	}
	a.lifting()
	if a.in.Only.asks(resting) {
		a.rests()
	} else {
		a.cases += len(a.stills())
	}
	if a.in.Only.asks(refilling) {
		a.refills()
	}
}

// ended is the error of what ends the analysis, once that has come.
func (a *run) ended() error {
	if a.in.Ended == nil {
		return nil
	}
	return a.in.Ended()
}

// start makes a run ready, its settings looked up.
func start(ci *circuit.Circuit, in Inputs) (*run, error) {
	if len(ci.Outlets) == 0 {
		return nil, fmt.Errorf("service: the assembly has no outlet: there is nothing to serve")
	}
	a := &run{
		ci: ci, in: in, s: ci.NewSolver(), r: &Result{Tested: ci.Tested, Crowd: in.Crowd, partial: in.Only != nil},
		open: make([]bool, len(ci.Outlets)), lock: ci.LockOut(), control: ci.ControlOf(),
		onMain: -1, onStore: -1, emergency: -1, sides: ci.Assembly.Sides(), serves: ci.Assembly.PumpServes(),
	}
	a.s.Quick(in.Unwitnessed)
	a.s.Ended = in.Ended
	if k, lock := ci.Bar(); lock.Low {
		a.cut = k
	}
	a.findSettings()
	return a, nil
}

// findSettings looks up the first named setting in which the main can press on an
// outlet, and the first in which the store can with its pump running.
func (a *run) findSettings() {
	for i := range a.ci.Assembly.Settings {
		main, store := a.s.Serves(i)
		if a.name(i) == assembly.Emergency {
			a.emergency = i
			continue // nobody lives with that
		}
		if main && a.onMain < 0 {
			a.onMain = i
		}
		if store && a.onStore < 0 {
			a.onStore = i
		}
	}
}

func (a *run) name(setting int) string { return a.ci.Assembly.Settings[setting].Name }

// meant reports whether a mode is there for an outlet: the main serves those it can get
// to, the store those it can. With the power out every outlet is looked at.
func (a *run) meant(mode string, n int) bool {
	i := a.ci.Outlets[n]
	switch mode {
	case "on-main", "on-main-peak":
		return a.sides.Main[i] || !a.sides.Store[i]
	case "on-store":
		return a.sides.Store[i] || !a.sides.Main[i]
	}
	return true
}

// splitHome reports whether some outlet that the store serves has no way to the main while
// others are on it.
func (a *run) splitHome() bool {
	for _, i := range a.ci.Outlets {
		if a.onMain >= 0 && !a.sides.Main[i] {
			return true
		}
	}
	return false
}

// boosts reports whether the pump lifts the main's own water: there is no store it could
// draw on.
func (a *run) boosts() bool { return !a.ci.Store && a.ci.Pump() >= 0 && a.onMain >= 0 }

// modes solves the normal cases. With the power out the pump stands, exactly as it does
// while the main serves: those modes are copies. A home split between the two has a mode
// of its own for that: what is on the main runs, the rest stands.
//
// A booster in line on the service runs while the main serves.
func (a *run) modes() {
	if a.onMain >= 0 {
		a.add(Mode{ID: "on-main", Main: a.in.Main.Usual, Power: true, Pumped: a.boosts()}, circuit.Case{Setting: a.onMain, Main: a.in.Main.Usual, Level: a.in.Low})
		if a.in.Main.WorstTold {
			p := a.in.Main.Worst
			a.add(Mode{ID: "on-main-peak", Main: p, Power: true, Pumped: a.boosts()}, circuit.Case{Setting: a.onMain, Main: p, Level: a.in.Low})
		}
	}
	if a.onStore >= 0 {
		a.add(Mode{ID: "on-store", Power: true, Pumped: a.serves}, circuit.Case{Setting: a.onStore, MainOff: true, Level: a.in.Low})
	}
	switch {
	case a.splitHome() || a.boosts():
		a.add(Mode{ID: "power-out", Main: a.in.Main.Usual}, circuit.Case{Setting: a.onMain, Main: a.in.Main.Usual, Level: a.in.Low})
	case a.onMain >= 0:
		a.copyMode("on-main", "power-out")
		a.copyMode("on-main-peak", "power-out-peak")
	case a.onStore >= 0:
		if a.emergency >= 0 {
			a.add(Mode{ID: assembly.Emergency, Main: a.in.Main.Usual}, circuit.Case{Setting: a.emergency, Main: a.in.Main.Usual, Level: a.in.Low})
		}
		if !a.serves { // height needs no power
			a.copyMode("on-store", "power-out-store")
			return
		}
		a.add(Mode{ID: "power-out-store"}, circuit.Case{Setting: a.onStore, Main: a.in.Main.Usual, Level: a.in.Low})
	}
}

func (a *run) copyMode(from, to string) {
	m := a.r.Mode(from)
	if m == nil {
		return
	}
	c := *m
	c.ID, c.Power, c.Same = to, false, from
	a.r.Modes = append(a.r.Modes, c)
}

// add solves one mode: every outlet alone, then the simultaneous draw-off.
func (a *run) add(m Mode, k circuit.Case) {
	m.Setting = a.name(k.Setting)
	m.Demand = a.in.Demand
	k.Open = a.open
	m.Alone = make([]Draw, 0, len(a.open))
	for n := range a.open {
		if !a.meant(m.ID, n) {
			continue
		}
		if !a.in.Only.alone(m.ID, a.tag(n)) {
			a.cases++
			continue
		}
		clear(a.open)
		a.open[n] = true
		a.solve(&m, &k)
		m.Alone = append(m.Alone, a.draw(&m, &k, n))
		a.wear(&m, &k, n)
	}
	switch {
	case !a.in.DemandKnown:
	case a.in.Only.together(m.ID):
		a.together(&m, &k)
	default:
		a.cases++
	}
	clear(a.open)
	if a.in.Record {
		a.read(&m, k)
	}
	a.r.Modes = append(a.r.Modes, m)
}

// wear works out what the outlet just solved alone gets once the pump is worn: as much where the
// pump holds its pressure at the speed that wear leaves it, and else what that speed gives.
func (a *run) wear(m *Mode, k *circuit.Case, n int) {
	d := &m.Alone[len(m.Alone)-1]
	d.Worn = d.Flow
	if !a.in.Only.asks(wearing) || !d.Certified || !m.Pumped || k.Pump == circuit.Standing || k.Pump == circuit.Holding && d.Speed <= a.wornSpeed() {
		return
	}
	if err := a.s.SolveAt(k, a.wornSpeed()); err != nil {
		d.Worn = 0
		a.fail(m.ID, a.openTags(), err)
		return
	}
	d.Worn, _ = a.s.Draw(n)
}

// read solves every outlet alone once more, in the setting in which somebody on site reads
// it: where a lock-out may start the pump under the reader's hand, the first in which only
// what is meant to serve can.
func (a *run) read(m *Mode, k circuit.Case) {
	m.ReadIn, m.Read = m.Setting, m.Alone
	if a.lock == nil || m.ID != "on-main" && m.ID != "on-store" {
		return
	}
	to := a.only(m.ID == "on-main")
	if to < 0 || to == k.Setting {
		return
	}
	m.ReadIn, m.Read = a.name(to), nil
	k.Setting, k.Open, a.aside = to, a.open, true
	for n := range a.open {
		if a.meant(m.ID, n) {
			clear(a.open)
			a.open[n] = true
			a.solve(m, &k)
			m.Read = append(m.Read, a.draw(m, &k, n))
		}
	}
	clear(a.open)
	a.aside = false
}

// only is the first named setting in which the main alone can serve the home, or the store
// alone; -1 where there is none.
func (a *run) only(main bool) int {
	for i := range a.ci.Assembly.Settings {
		byMain, byStore := a.s.Serves(i)
		if byMain == main && byStore != main && a.name(i) != assembly.Emergency {
			return i
		}
	}
	return -1
}

// draw reads what outlet n gets in the case just solved.
func (a *run) draw(m *Mode, k *circuit.Case, n int) Draw {
	part := &a.ci.Assembly.Parts[a.ci.Outlets[n]]
	need := need(part)
	d := Draw{Outlet: part.Tag, Need: need.Need, NeedPressure: need.Pressure, Certified: a.s.OK()}
	d.NeedHead = quantity.Head(circuit.HeadOf(need.Pressure, part.Ports[0].Z))
	if !d.Certified {
		return d
	}
	d.Flow, d.Pressure = a.s.Draw(n)
	if k.Pump != circuit.Standing && a.ci.Pump() >= 0 {
		d.Pumped, d.Speed = a.s.Pumped()/quantity.Flow(len(a.ci.Working())), a.s.Speed
	}
	if sheet := a.sheet(); sheet != nil {
		a.s.Walk(n, sheet)
		d.Calc = sheet.Steps
	}
	if a.lock != nil && !m.Pumped {
		// While the main serves, the pump is locked out: is that a state that stays? If
		// not, the pump serves and the main stands at rest: does that stay?
		lock := circuit.Lock{On: a.lock.On, Off: a.lock.Off}
		rest := a.atRest(m.Main)
		d.Sensor = a.felt(a.lock)
		d.Felt = a.feltOn(a.sheet(), a.lock)
		d.Left = !lock.Stays(circuit.LockedOut, d.Sensor)
		d.Hunts = d.Left && a.ci.Pump() >= 0 && !lock.Stays(circuit.Allowed, rest)
		d.Either = !d.Left && a.ci.Pump() >= 0 && lock.Stays(circuit.Allowed, rest)
	}
	return d
}

// together opens the outlets that draw at once: the most demanding first (by need, then
// by height, then by tag) until their needs reach the demand, and two at least.
func (a *run) together(m *Mode, k *circuit.Case) {
	picks := a.picks(m.ID)
	clear(a.open)
	for _, n := range picks {
		a.open[n] = true
	}
	a.solve(m, k)
	for _, n := range picks {
		d := a.draw(m, k, n)
		for _, o := range picks {
			if o != n {
				d.Open = append(d.Open, a.ci.Assembly.Parts[a.ci.Outlets[o]].Tag)
			}
		}
		m.Together = append(m.Together, d)
	}
	if !a.s.OK() {
		return
	}
	if m.Pumped && k.Pump != circuit.Standing {
		m.Duty = a.duty(k)
	}
	m.Velocity = a.velocities(m.ID, m.Duty)
}

// picks is fixed by AtOnce in a rerun: which outlets count as open must not flip because
// a height moved by its tolerance. Of a home split between main and store, each side is
// picked by itself.
func (a *run) picks(mode string) []int {
	if list, fixed := a.in.AtOnce[mode]; fixed {
		return a.named(list)
	}
	order := make([]int, 0, len(a.ci.Outlets))
	for n := range a.ci.Outlets {
		if a.meant(mode, n) {
			order = append(order, n)
		}
	}
	at := func(n int) *assembly.Part { return &a.ci.Assembly.Parts[a.ci.Outlets[n]] }
	sort.Slice(order, func(i, j int) bool {
		p, q := at(order[i]), at(order[j])
		switch {
		case need(p).Need != need(q).Need:
			return need(p).Need > need(q).Need
		case p.Ports[0].Z != q.Ports[0].Z:
			return p.Ports[0].Z > q.Ports[0].Z
		}
		return p.Tag < q.Tag
	})
	sum := quantity.Flow(0)
	for k, n := range order {
		if sum >= a.in.Demand && k >= 2 {
			return order[:k]
		}
		sum += need(at(n)).Need
	}
	return order
}

// named returns the outlets with the given tags, in that order.
func (a *run) named(tags []string) []int {
	var list []int
	for _, tag := range tags {
		for n, part := range a.ci.Outlets {
			if a.ci.Assembly.Parts[part].Tag == tag {
				list = append(list, n)
			}
		}
	}
	return list
}

// atRest is what the lock-out feels with the main at p and nothing taken from it. That is
// how the main stands once the pump serves the home: the non-return valve of the main
// leg is then shut, unless the main presses more than the pump, where it serves anyway.
func (a *run) atRest(p quantity.Pressure) quantity.Pressure {
	z := a.ci.Assembly.Parts[a.lock.Senses.Part].Ports[a.lock.Senses.Port].Z
	return circuit.PressureOf(circuit.HeadOf(p, a.ci.GaugeHeight()), z)
}
