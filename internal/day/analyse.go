package day

import (
	"math"
	"reflect"
	"slices"

	"tideover/internal/circuit"
)

// Day is a home's day run and what it was run on.
type Day struct {
	Plant    *Plant
	Schedule *Schedule
	Result   *Result
	In       Inputs
	Failing  bool   // the water fails on it; otherwise an ordinary day
	Restless string // why there is no Result: controls that never rest; or ""
}

// check is how much wider a step's error may be where a day is judged: 1.5 millilitres
// in a store, a seventh of one in a vessel. What feels it most is when the float valve seals,
// which closes ever more slowly: that stays within a hundredth.
const check = 1.5

// Analyse runs the day a home is judged by; nil where there is none.
func Analyse(ci *circuit.Circuit, in Inputs) (*Day, error) {
	d, err := Prepare(ci, in)
	if d != nil {
		d.Run()
	}
	return d, err
}

// Prepare sets up the day a home is judged by, without running it: the one on which the water
// fails as it usually does, until the store is full again; an ordinary day where no interruption
// was told. nil where there is no store with a pump to follow.
func Prepare(ci *circuit.Circuit, in Inputs) (*Day, error) {
	p, ok, err := Of(ci, in)
	if err != nil || !ok {
		return nil, err
	}
	d := &Day{Plant: p, In: in, Schedule: Failing(ci, p, in), Failing: true}
	if d.Schedule == nil {
		d.Schedule, d.Failing = Usual(ci, p, in), false
	}
	d.Schedule.Loose, d.Schedule.Unbooked = check, true
	return d, nil
}

// Run runs a day that was prepared.
func (d *Day) Run() {
	var err error
	if d.Result, err = ByEvents(d.Plant, d.Schedule); err != nil {
		d.Restless = err.Error()
	}
}

// Judge runs a day that was prepared for its verdicts alone: chained, see chain.go.
func (d *Day) Judge() {
	d.Schedule.Chained = true
	d.Run()
}

// Same reports whether two days are run on the same plant to the same schedule, to the last bit.
// A Result follows from those two alone, so that one result then serves for both.
func (d *Day) Same(o *Day) bool {
	return reflect.DeepEqual(d.Schedule, o.Schedule) && d.Plant.same(o.Plant)
}

// same compares two plants that are ready: all but the circuit as it stands, the circuit by what
// it is made of, for beside that it holds only what was learnt of its layouts.
func (p *Plant) same(o *Plant) bool {
	a, b := *p, *o
	a.Net, a.held, b.Net, b.held = nil, nil, nil, nil
	return reflect.DeepEqual(&a, &b) && slices.Equal(p.Net.Points(), o.Net.Points()) && reflect.DeepEqual(p.Net.Elements(), o.Net.Elements())
}

// Refilled is how long after the main came back the store was full again; +Inf when it
// was not before the next interruption.
func (d *Day) Refilled() float64 {
	n := len(d.Result.Fills)
	if n == 0 {
		return 0
	}
	last := d.Result.Fills[n-1]
	if last.To < d.Result.Back { // it was full already when the main came back
		return 0
	}
	return last.To - d.Result.Back
}

// Lasted is how long into the interruption the store gave water; the whole of it where it
// did not run dry.
func (d *Day) Lasted() float64 {
	for _, at := range d.Result.RanDry {
		if at >= FailsAt && at <= FailsAt+d.In.Fails {
			return at - FailsAt
		}
	}
	return d.In.Fails
}

// Left is the least usable water in the store over the day [m³].
func (d *Day) Left() float64 {
	if len(d.Plant.Header.Surface) > 0 {
		return math.Max(0, d.Result.Least)
	}
	return math.Max(0, d.Plant.Store.volume(d.Result.Lowest))
}
