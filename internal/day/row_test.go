package day

import (
	"math"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/circuit"
	"tideover/internal/demo"
	"tideover/internal/finding"
	"tideover/internal/job"
)

// TestRowByRounds: what one of a long row of interruptions finds is where round after round from
// full ends, and the store is judged by that.
func TestRowByRounds(t *testing.T) {
	for _, minutes := range []float64{10, 18} {
		h := home(t, "kestrel-rise")
		h.in.Between = 60 * minutes
		d := &Day{Plant: h.p, In: h.in, Schedule: Failing(h.ci, h.p, h.in), Failing: true}
		if err := d.Run(nil); err != nil || d.Restless != "" {
			t.Fatal(err, d.Restless)
		}
		if d.Row == nil {
			t.Fatalf("%g min between: full again", minutes)
		}
		st := &d.Plant.Store
		level, before := st.usualLevel(), math.Inf(1)
		for n := 0; before-level > 1e-5; n++ {
			r, err := byEvents(d.Plant, d.Schedule.begun(d.In, level), nil)
			if err != nil || n > 80 {
				t.Fatal(n, err)
			}
			before, level = level, r.End
		}
		begins := st.volume(level)
		if got := float64(d.Row.Begins); math.Abs(got-begins) > 1e-3*begins {
			t.Errorf("%g min between: one of a row finds %.4f m³, want %.4f", minutes, got, begins)
		}
		gains := st.volume(d.Row.Result.End) - st.volume(d.Row.Result.Lowest)
		if math.Abs(gains-begins) > 1e-3*begins { // it runs dry, so that all there is came in between
			t.Errorf("%g min between: %.4f m³ came in, and %.4f are found", minutes, gains, begins)
		}
		if dry := d.Lasted(); dry >= d.In.Fails || d.Left() > 1e-6 {
			t.Errorf("%g min between: lasts %.0f of %.0f s with %.4f m³ left", minutes, dry, d.In.Fails, d.Left())
		}
		if f := lasts(d); f.Case != "row" {
			t.Errorf("case %q", f.Case)
		}
	}
}

// TestRowThatFills: where a round gives back all that it took, each interruption finds the store full,
// and there is nothing more to run.
func TestRowThatFills(t *testing.T) {
	h := home(t, "kestrel-rise")
	d := &Day{Plant: h.p, In: h.in, Schedule: Failing(h.ci, h.p, h.in), Failing: true}
	if err := d.Run(nil); err != nil || d.Row != nil || d.Judged() != d.Result {
		t.Errorf("%v: full again after %.0f s, and a row: %v", err, d.Refilled(), d.Row)
	}
}

// TestWCsUnderANotice: while a notice keeps the home on its store, WCs on the main draw nothing out
// of it, and all else does as before.
func TestWCsUnderANotice(t *testing.T) {
	j := demo.Job(t, "juniper-flat")
	cat, profile := demo.Rows(t, j.Profile)
	a, err := assembly.Build(j, cat, profile)
	if err != nil {
		t.Fatal(err)
	}
	ci, err := circuit.New(a, circuit.Read(j))
	if err != nil {
		t.Fatal(err)
	}
	drawn := func(on string) (wcs, others float64, left float64) {
		j.Interruptions.NoticeMain = on
		d, err := Prepare(ci, Read(j, a, profile))
		if err != nil {
			t.Fatal(err)
		}
		if err := d.Run(nil); err != nil {
			t.Fatal(err)
		}
		until := d.In.At + d.In.Fails
		for _, x := range d.Schedule.Draws {
			switch {
			case x.Start < until-float64(j.Interruptions.NoticeLasts.V) || x.Start >= until:
			case d.Plant.Outlets[x.Outlet].Kind == "wc":
				wcs++
			default:
				others++
			}
		}
		return wcs, others, d.Lasted()
	}
	w0, o0, l0 := drawn("nothing")
	w1, o1, l1 := drawn("wc")
	if w0 < 5 || w1 != 0 || o1 != o0 || l1 <= l0 {
		t.Errorf("WCs drawn %g and %g times, others %g and %g, lasts %.0f and %.0f s", w0, w1, o0, o1, l0, l1)
	}
}

// TestSlowHandIsNoStore: where nobody has turned the home to the store for hours of taps open, what is
// stored counts for nothing; and where the water is back before anybody does, least of all.
func TestSlowHandIsNoStore(t *testing.T) {
	for _, c := range []struct {
		hand, fails float64
		want        string
	}{{600, 12 * 3600, ""}, {5 * 3600, 12 * 3600, "hand"}, {3 * 3600, 2 * 3600, "hand"}} {
		h := home(t, "juniper-flat")
		h.in.Hand, h.in.Fails = c.hand, c.fails
		h.in.Away = job.Hours{}
		d := &Day{Plant: h.p, In: h.in, Schedule: Failing(h.ci, h.p, h.in), Failing: true}
		if err := d.Run(nil); err != nil || d.Restless != "" {
			t.Fatal(err, d.Restless)
		}
		f := lasts(d)

		if f.Case != c.want || f.Verdict == finding.Fine != (c.want == "") {
			t.Errorf("turned after %g s of %g s: %v, case %q, %.2f of the time without", c.hand, c.fails, f.Verdict, f.Case, d.without())
		}
	}
}
