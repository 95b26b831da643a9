// Package commission works out what people on site read, do and wait for when the work is
// handed over: which readings are expected and accepted, how hard the new pipe is tested
// and in which sections, how long each outlet is flushed, how long the home has no water.
//
// Stage: after the analyses. It takes a job, its assembly and what the service and the
// findings say, and gives a Result of typed figures; papers and whoever compares readings
// with them place them. It solves nothing.
package commission

import (
	"tideover/internal/assembly"
	"tideover/internal/calc"
	"tideover/internal/catalogue"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/service"
	"tideover/internal/sitework"
)

// Expected is one reading of the hand-over: what it should be and what is accepted.
type Expected struct {
	ID      string // what is read: "static", "regulator", "charge", "cut-in", "cut-out", "set-pressure", "lock-on", "lock-off", "shut-off", "starts", "refill", "lift", "current", "air-gap", "outlet-flow", "outlet-pressure"
	Tag     string // of the part or outlet it is read at
	Mode    string // normal case it belongs to, "" for a set point
	Setting string // named setting it is read in, "" for any
	MainOff bool   // the main is off meanwhile: where it presses, the pump is locked out

	Figure    quantity.Quantity // NoDim where nothing can be expected: see Lacks
	Low, High float64           // readings accepted, in the figure's unit; Low −Inf or High +Inf where one side is open
	Drawn     []float64         // what the figure is in draws of the survey, each solved; nil: its half-width stands for them
	Over      quantity.Time     // how long starts are counted; 0 of any other reading
	Lacks     string            // field that is missing, or ""
	Calc      []calc.Step
}

// Accepts reports whether a reading [SI] is accepted. Nothing is where nothing is expected.
func (e *Expected) Accepts(reading float64) bool {
	return e.Lacks == "" && reading >= e.Low && reading <= e.High
}

// Result is everything that is worked out for the hand-over.
type Result struct {
	Expected []Expected
	Test     *Test   // of the new pipe; nil where rules or pressures are blank
	Flush    []Flush // outlet by outlet, the shortest pipe first
	FlushIn  string  // mode the outlets are flushed in, or ""
	TieIn    TieIn
	Leak     Leak
	Seen     []Seen  // tests that pass or fail, without a figure
	Again    []Again // readings that upkeep takes again on the same gauge
}

// TieIn is how long the home has no water while new pipe is joined to the old.
type TieIn struct {
	Places  int
	Off     quantity.Time
	Promise quantity.Time // what the family is told: twice that
	Calc    []calc.Step
}

// Leak is how much pressure may be lost in which time with every tap shut.
type Leak struct {
	Drop  quantity.Pressure
	Time  quantity.Time
	Finds quantity.Flow // the least leak that shows in four of five cases; 0: no pressure is known
}

// Context is what the hand-over is worked out from.
type Context struct {
	Job      *job.Job
	Assembly *assembly.Assembly
	Profile  *catalogue.Profile
	Service  *service.Result                    // nil where it was not run
	Findings []finding.Finding                  // for the spread of figures
	Current  Span                               // of the motor at a single running tap [A]; nought: cannot be said
	Drawn    func(f *finding.Finding) []float64 // what its figure was in draws of the survey; nil: not drawn
	Plate    string                             // field that is missing for it, or ""
}

// Span is a figure between its least and its most.
type Span struct{ Least, Most float64 }

// tieIns is how many places new pipe meets the old: at the street side and at the home's
// header.
const tieIns = 2

// Work works out the hand-over.
func Work(c Context) *Result {
	r := &Result{Leak: Leak{Drop: sitework.LeakDrop, Time: sitework.LeakTime}}
	if p := c.Job.Supply.Static.V; p > 0 {
		r.Leak.Finds = r.Leak.finds(p)
	}
	off, sums := sitework.TieIn(tieIns)
	r.TieIn = TieIn{tieIns, off, 2 * off, sums.Steps}
	r.Expected = append(c.settings(), c.plant()...)
	r.Expected = append(r.Expected, c.gap()...)
	r.Expected = append(r.Expected, c.outlets()...)
	for i := range r.Expected {
		r.Expected[i].honest()
	}
	r.Again, r.Seen = again(r.Expected), seenTests()
	r.Test = c.test()
	r.FlushIn, r.Flush = c.flush()
	return r
}

// Of returns the expected readings with an id, in order.
func (r *Result) Of(id string) []*Expected {
	var list []*Expected
	for i := range r.Expected {
		if r.Expected[i].ID == id {
			list = append(list, &r.Expected[i])
		}
	}
	return list
}

// At returns the reading of an id at a tag in a mode, or nil.
func (r *Result) At(id, tag, mode string) *Expected {
	for i := range r.Expected {
		if e := &r.Expected[i]; e.ID == id && e.Tag == tag && e.Mode == mode {
			return e
		}
	}
	return nil
}
