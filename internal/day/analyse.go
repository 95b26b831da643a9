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
	Row      *Row // the interruption as one of a long row finds the store less than full; or nil
	In       Inputs
	Failing  bool   // the water fails on it; otherwise an ordinary day
	Restless string // why there is no Result: controls that never rest; or ""
}

// check is how much wider a step's error may be where a day is judged: 1.5 millilitres
// in a store or a vessel. What feels it most is when the float valve seals,
// which closes ever more slowly: that stays within a hundredth.
const check = 1.5

// Analyse runs the day a home is judged by; nil where there is none.
func Analyse(ci *circuit.Circuit, in Inputs) (*Day, error) {
	d, err := Prepare(ci, in)
	if d != nil {
		err = d.Run(nil)
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
	d.Schedule.Loose, d.Schedule.Unbooked, d.Schedule.Chained = check, true, true
	return d, nil
}

// Run runs a day that was prepared. ended, if not nil, is asked at every event and ends it with its
// error, which Run returns; any other is Restless.
func (d *Day) Run(ended func() error) error {
	var over error
	look := func() error {
		if ended != nil {
			over = ended()
		}
		return over
	}
	r, err := byEvents(d.Plant, d.Schedule, look)
	if d.Result, d.Row = r, nil; err == nil && d.Failing && math.IsInf(d.Refilled(), 1) {
		err = d.inRow(look)
	}
	if err != nil {
		d.Restless = err.Error()
	}
	return over
}

// Judge runs a day that was prepared for its verdicts alone: without certificates, and with wider
// steps first. Where a verdict hangs on less than these can be out by, it is run once more.
// It ends as Run does.
func (d *Day) Judge(ended func() error) error {
	d.Schedule.Trusted, d.Schedule.Loose = true, glance
	if err := d.Run(ended); err != nil || d.clear() {
		return err
	}
	d.Restless, d.Schedule.Loose = "", check
	return d.Run(ended)
}

// Same reports whether two days are run on the same plant to the same schedule, to the last bit,
// however sharply. A Result follows from those two alone, so that one then serves both.
func (d *Day) Same(o *Day) bool {
	s, t := *d.Schedule, *o.Schedule
	s.Loose, s.Trusted, t.Loose, t.Trusted = 0, false, 0, false
	return d.Plant.same(o.Plant) && reflect.DeepEqual(&s, &t)
}

// same compares two plants that are ready: all but the circuit as it stands, the circuit by what
// it is made of, for beside that it holds only what was learnt of its layouts. Most that differ do
// so in some law, which one flow through each tells.
func (p *Plant) same(o *Plant) bool {
	const flow = 2e-4 // m³/s
	els := o.Net.Elements()
	if len(els) != len(p.Net.Elements()) {
		return false
	}
	for e, el := range p.Net.Elements() {
		h, _ := el.Law.Drop(flow, 1)
		if g, _ := els[e].Law.Drop(flow, 1); h != g {
			return false
		}
	}
	a, b := *p, *o
	a.Net, a.held, b.Net, b.held = nil, nil, nil, nil
	return reflect.DeepEqual(&a, &b) && slices.Equal(p.Net.Points(), o.Net.Points()) && reflect.DeepEqual(p.Net.Elements(), o.Net.Elements())
}

// glance is Loose of a first look: 50 millilitres in a store. On the examples it moves litres by a
// thousandth, and when a float valve seals, which hangs on the last trickle, by a twentieth; see clear.
const glance = 50

// clear reports whether all verdicts of a run with wide steps are those of a sharp one: each figure
// is farther from its limit than some times what was ever seen between the two, in 214 random homes:
// when the store ran dry never by a hundred-thousandth, a start more or less in the busiest hour. When a
// float valve has ended a refill is not told so well, but what then is still missing is, to a tenth of
// the ripple.
func (d *Day) clear() bool {
	const litres, hours, share = 0.05, 0.02, 0.15 // of the store, of the interruption, of the starts
	const about = 0.5                             // of the ripple: within so much of it a wide step does not tell whether a store counts as full
	const soon = 0.4                              // of the time allowed: a float valve that shuts later may not, in a sharp run
	if d.Result == nil {
		return false
	}
	if most := float64(d.busiest()); d.Plant.Pump != nil && d.In.Starts > 0 && math.Abs(most-d.In.Starts) <= math.Max(2, share*d.In.Starts) {
		return false
	}
	if !d.Failing {
		return true
	}
	full := d.Plant.Store.volume(d.Plant.Store.Shut)
	lasted, lacks := d.Lasted(), ripple*d.Plant.Store.usable()
	switch {
	case lasted == d.In.Fails && d.Left() <= litres*full, lasted < d.In.Fails && lasted > (1-hours)*d.In.Fails:
		return false
	case d.unsealed() && math.Abs(d.missing()-lacks) <= about*lacks, !d.unsealed() && d.Refilled() >= soon*d.In.Between:
		return false
	}
	if d.Plant.Lock != nil {
		times, _ := d.Result.Hunts()
		return times == 0 || times > 3
	}
	return true
}

// busiest is how often a pump starts in the busiest hour, of several that take turns each.
func (d *Day) busiest() int {
	most, _ := d.Result.Busiest()
	n := max(1, d.In.Turns)
	return (most + n - 1) / n
}

// missing is what the store lacks at the end of being full [m³].
func (d *Day) missing() float64 {
	return math.Max(0, d.Plant.Store.volume(d.Plant.Store.Shut)-d.Plant.Store.volume(d.Result.End))
}

// ripple is how much of its usable water a store may lack and count as full: a float valve trickles for
// hours before it seats, and while taps run it never does. Judgement.
const ripple = 0.01

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
	if math.IsInf(last.To, 1) && d.missing() <= ripple*d.Plant.Store.usable() {
		return d.In.Between
	}
	return last.To - d.Result.Back
}

// usable is what the store holds between empty and full [m³].
func (s *Store) usable() float64 { return s.volume(s.Shut) - s.volume(s.Low) }

// unsealed reports whether the float valve still lets water in at the end.
func (d *Day) unsealed() bool {
	n := len(d.Result.Fills)
	return n > 0 && math.IsInf(d.Result.Fills[n-1].To, 1)
}

// Lasted is how long into the interruption the store gave water, one of a long row of them where
// these find it less than full; the whole of it where it did not run dry.
func (d *Day) Lasted() float64 {
	if d.Row != nil {
		return d.Row.Result.lasted(d.In)
	}
	for _, at := range d.Result.RanDry {
		if at >= d.In.At && at <= d.In.At+d.In.Fails {
			return at - d.In.At
		}
	}
	return d.In.Fails
}

// Left is the least usable water in the store over the day, or in a row as in Lasted [m³].
func (d *Day) Left() float64 {
	r := d.Judged()
	if len(d.Plant.Header.Surface) > 0 {
		return math.Max(0, r.Least)
	}
	return math.Max(0, d.Plant.Store.volume(r.Lowest))
}
