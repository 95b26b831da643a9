package day

import (
	"math"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/circuit"
	"tideover/internal/demo"
	"tideover/internal/job"
)

// lifted is Osprey House with a header tank on its roof.
func lifted(t testing.TB, edit func(*job.Job)) homeRun {
	t.Helper()
	j := demo.Job(t, "osprey-house")
	c := &j.Choices
	c.Arrangement, c.HeaderRow, c.HeaderLevel.V = assembly.HeaderTank, "tank-1000", 9.5
	c.CutIn.V, c.CutOut.V, c.Charge.V = 1.4e5, 2.2e5, 1.2e5
	if edit != nil {
		edit(j)
	}
	cat, profile := demo.Rows(t, j.Profile)
	a, err := assembly.Build(j, cat, profile)
	if err != nil {
		t.Fatal(err)
	}
	ci, err := circuit.New(a, circuit.Read(j))
	if err != nil {
		t.Fatal(err)
	}
	in := Read(j, a, profile)
	p, ok, err := Of(ci, in)
	if err != nil || !ok {
		t.Fatal(ok, err)
	}
	return homeRun{ci, p, in}
}

// TestHeaderDay: what the taps draw comes out of the header tank, the pump lifts as much up
// again from the store, and the books of both close; nothing runs over.
func TestHeaderDay(t *testing.T) {
	h := lifted(t, nil)
	d, err := booked(h)
	if err != nil || d.Result == nil {
		t.Fatal(err, d.Restless)
	}
	r := d.Result
	closes(t, r)
	area := math.Pi / 4 * 1.1 * 1.1                                                                            // of the 1,000 L row
	if math.Abs(h.p.Header.Area-area) > 1e-12 || len(h.p.Header.Surface) == 0 || len(h.p.Header.Surface) > 3 { // outlet, overflow, alarm
		t.Errorf("header of %g m², %d points", h.p.Header.Area, len(h.p.Header.Surface))
	}
	lowest, first, last := math.Inf(1), r.Moments[0].Upper, r.Moments[len(r.Moments)-1].Upper
	for _, m := range r.Moments {
		lowest = math.Min(lowest, m.Upper)
	}
	if math.Abs(r.Out-r.Drawn-area*(last-first)) > 0.01 { // the vessel holds the rest
		t.Errorf("%.5f m³ out of the store, %.5f m³ drawn, the header %+.5f m³", r.Out, r.Drawn, area*(last-first))
	}
	if r.Spilled != 0 || len(r.RanDry) > 0 || len(r.Starts) < 5 || lowest < h.p.Header.Low {
		t.Errorf("%g m³ spilled, dry %v, %d starts, lowest %g m", r.Spilled, r.RanDry, len(r.Starts), lowest)
	}
}

// TestHeaderRunsDry: with the power out for good the taps live on what the header holds,
// exactly, and then on nothing; the store below keeps what it had.
func TestHeaderRunsDry(t *testing.T) {
	h := lifted(t, nil)
	s := &Schedule{Until: 86400, Level: h.p.Store.Shut, Vessel: h.p.Pump.On,
		Main: []Pressing{{Off: true}}, Dark: []Window{{0, 86400}},
		Draws: []Draw{{Outlet: 0, Start: 3600, Duration: 80000}}}
	for name, run := range map[string]func(*Plant, *Schedule) (*Result, error){"events": ByEvents, "steps": BySteps} {
		r, err := run(h.p, s)
		if err != nil {
			t.Fatal(name, err)
		}
		held := h.p.Header.volume(h.p.Header.Shut)
		if math.Abs(r.Drawn-held) > 2e-3 || len(r.RanDry) != 1 || r.Out > 1e-3 {
			t.Errorf("%s: %.5f m³ drawn of %.5f held, dry at %v, %.5f m³ out of the store", name, r.Drawn, held, r.RanDry, r.Out)
		}
	}
}

// TestRaisedDay: a raised store without a pump lives through its day: what is drawn is what
// leaves it, it runs dry exactly when it has given all, and is filled again.
func TestRaisedDay(t *testing.T) {
	h := lifted(t, func(j *job.Job) {
		j.Choices.Arrangement, j.Choices.StoreLevel.V, j.Choices.Stores.V = assembly.Raised, 9.5, 1
	})
	if h.p.Pump != nil {
		t.Fatal("a pump")
	}
	d, err := booked(h)
	if err != nil || d.Result == nil {
		t.Fatal(err, d)
	}
	closes(t, d.Result)
	if r := d.Result; math.Abs(r.Out-r.Drawn) > 1e-6 || r.Spilled != 0 || r.Out < 1 || len(r.Starts) > 0 {
		t.Errorf("%.6f m³ out, %.6f m³ drawn, %g m³ spilled, %d starts", r.Out, r.Drawn, r.Spilled, len(r.Starts))
	}
	s := &Schedule{Until: 200000, Level: h.p.Store.Shut, Main: []Pressing{{Off: true}},
		Draws: []Draw{{Outlet: 0, Start: 3600, Duration: 190000}}}
	for name, run := range map[string]func(*Plant, *Schedule) (*Result, error){"events": ByEvents, "steps": BySteps} {
		r, err := run(h.p, s)
		if err != nil {
			t.Fatal(name, err)
		}
		if held := h.p.Store.volume(h.p.Store.Shut); math.Abs(r.Drawn-held) > 2e-3 || len(r.RanDry) != 1 {
			t.Errorf("%s: %.5f m³ drawn of %.5f held, dry at %v", name, r.Drawn, held, r.RanDry)
		}
	}
}
