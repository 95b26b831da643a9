package service

import (
	"math"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/assume"
	"tideover/internal/circuit"
	"tideover/internal/job"
)

// TestSwitchDrift: a pump's switch that has drifted starts and stops there, and so the taps, the time
// between two starts and what is shut in move. By hand at Juniper Flat: a vessel whose gas
// takes V·p0/p2 when it is full gives that times (p2/p1)^(1/n) − 1 on the way from p2 to p1.
func TestSwitchDrift(t *testing.T) {
	at := func(by float64) (*Result, example) {
		s := readSite(t, "juniper-flat", func(j *job.Job) { j.Assumed = assume.Values{"switch-drift": by} })
		return s.analyse(t, false), s
	}
	was, s := at(0)
	up, _ := at(0.2e5)
	down, _ := at(-0.2e5)
	set := s.plan.PumpControl()
	for by, r := range map[float64]*Result{0: was, 0.2e5: up, -0.2e5: down} {
		if got, want := float64(r.Swing.Low), float64(set.On)+by; math.Abs(got-want) > 1e-6 {
			t.Errorf("drifted by %g it starts at %g, want %g", by, got, want)
		}
		given := Read(s.job, s.plan, s.cat, s.profile)
		air := given.atmosphere()
		p0, p1, p2 := float64(given.Charge)+air, float64(set.On)+by+air, float64(set.Off)+by+air
		p1 = math.Max(p1, p0)
		want := float64(given.Vessel) * p0 / p2 * (math.Pow(p2/p1, 1/1.2) - 1)
		if got := float64(r.Swing.Drawdown); math.Abs(got-want) > 1e-6*want {
			t.Errorf("drifted by %g the vessel gives %g m³, by hand %g", by, got, want)
		}
	}
	if !(least(up) > least(was) && least(was) > least(down)) {
		t.Errorf("pressure at the taps: %g, %g, %g", least(down), least(was), least(up))
	}
	most := 0.0
	for i := range up.Rests {
		most = math.Max(most, float64(up.Rests[i].Working-was.Rests[i].Working))
	}
	if math.Abs(most-0.2e5) > 1 {
		t.Errorf("what is shut in rises by %g Pa at the most, with the switch 0.2 bar higher", most)
	}
}

// least is the least pressure at an outlet the pump serves alone.
func least(r *Result) float64 {
	p := math.Inf(1)
	for _, d := range r.Mode("on-store").Alone {
		p = math.Min(p, float64(d.Pressure))
	}
	return p
}

// shutIn is the most that stands on a part while every control works.
func shutIn(r *Result) float64 {
	p := 0.0
	for _, x := range r.Rests {
		p = math.Max(p, float64(x.Working))
	}
	return p
}

// TestDroop: a speed control holds so much less while water is drawn, and stops where it is set.
func TestDroop(t *testing.T) {
	at := func(by float64) *Result {
		s := readSite(t, "osprey-house", func(j *job.Job) { j.Assumed = assume.Values{"speed-droop": by} })
		return s.analyse(t, false)
	}
	was, is := at(0), at(0.2e5)
	a, b := was.Mode("on-store").Duty, is.Mode("on-store").Duty
	if a == nil || b == nil || a.Speed >= 1 {
		t.Fatal("the pump of Osprey House holds its pressure")
	}
	if got := float64(a.Felt - b.Felt); math.Abs(got-0.2e5) > 1 {
		t.Errorf("it holds %g Pa less, want 0.2 bar", got)
	}
	if b.Felt < b.Asked-reached {
		t.Error("what it holds with its droop is what it is asked")
	}
	if was.Swing.High != is.Swing.High || math.Abs(shutIn(was)-shutIn(is)) > 1 {
		t.Error("with every tap shut it presses as set")
	}
}

// TestSleepsByKind: a control that stops by flow and one that sleeps have figures of their own.
func TestSleepsByKind(t *testing.T) {
	v := assume.Values{"sleep-flow": 3e-5, "run-on": 40, "flow-stop": 2e-5, "flow-run-on": 15}
	for kind, want := range map[assembly.ControlKind][2]float64{assembly.SpeedControl: {3e-5, 40}, assembly.FlowControl: {2e-5, 15}, assembly.PressureSwitch: {}} {
		if below, on := circuit.Sleeps(kind, v); below != want[0] || on != want[1] {
			t.Errorf("%s: %g and %g, want %v", kind, below, on, want)
		}
	}
	// By hand: the vessel empties in V/q and the control runs on.
	s := readSite(t, "osprey-house", func(j *job.Job) { j.Choices.Control = "flow-control"; j.Assumed = v })
	w := s.analyse(t, false).Swing
	if want := float64(w.Drawdown)/2e-5 + 15; math.Abs(float64(w.Period)-want*float64(max(1, w.Turns))) > 1e-6*want {
		t.Errorf("starts every %g s, by hand %g", float64(w.Period), want)
	}
}
