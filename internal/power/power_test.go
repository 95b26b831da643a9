package power

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"tideover/internal/assembly"
	"tideover/internal/demo"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

func of(t testing.TB, name string, in Inputs, change func(*job.Job)) (*Result, *job.Job) {
	t.Helper()
	j := demo.Job(t, name)
	if change != nil {
		change(j)
	}
	cat, profile := demo.Rows(t, j.Profile)
	plan, err := assembly.Build(j, cat, profile)
	if err != nil {
		t.Fatal(err)
	}
	return Analyse(j, plan, in), j
}

// kestrel is its pump at 38.5 L/min and 0.89 of its speed, and at one tap of 12 L/min.
var kestrel = Inputs{Daily: 0.65, Duty: []Point{{Flow: 38.5 / 60000, Speed: 0.8904}}, Taps: []Point{{Flow: 12. / 60000, Speed: 0.795}}}

// TestBehindASpeedControl: without its plate nothing is said of a current; with it, what
// feeds it follows from the plate.
func TestBehindASpeedControl(t *testing.T) {
	r, _ := of(t, "kestrel-rise", kestrel, nil)
	if r.Motor != nil || r.Lacks != "choices.pump.measured.current" || r.Taps.Most != 0 {
		t.Errorf("without a plate: motor %v, lacks %q, taps %v", r.Motor, r.Lacks, r.Taps)
	}
	if f := Findings(nil, r, false); len(f) != 1 || f[0].ID != "pump-current" || f[0].Verdict != finding.NotJudged {
		t.Errorf("found %+v", f)
	}
	r, _ = of(t, "kestrel-rise", kestrel, func(j *job.Job) { j.Choices.Plate.Current.V = 8 })
	if r.Lacks != "" || r.Motor == nil || r.Motor.Circuit != 10 || math.Abs(float64(r.Motor.Carries)-1840) > 1e-9 {
		t.Errorf("with a plate of 8 A: %+v", r.Motor)
	}
	if f := Findings(nil, r, false); len(f) != 0 {
		t.Errorf("found %+v", f)
	}
}

// TestBatteryByHand: the pump takes 795 W at its best point (0.9 L/s against 35 m at 37 %,
// wire to water: 834.9 W) on a line from 0.55 of it. At 38.5 L/min and 0.8904 that is
// 0.7059 · 834.9 · (0.55 + 0.45 · 0.6417/(0.8904 · 0.9)) = 536.6 W. Two hours of the mean
// use, 54.2 L, take 45.3 kJ, the inverter 216 kJ: over 0.9 · 0.5 that is 580.6 kJ, 0.161 kWh.
func TestBatteryByHand(t *testing.T) {
	r, _ := of(t, "kestrel-rise", kestrel, nil)
	if kwh := r.Lead.Least / 3.6e6; math.Abs(kwh-0.1613) > 0.0005 {
		t.Errorf("lead %.4f kWh, want 0.1613", kwh)
	}
	if r.Lead.Most < 1.3*r.Lead.Least || r.Lead.Most > 3*r.Lead.Least {
		t.Errorf("a busy hour takes %.3f of the mean's %.3f kWh", r.Lead.Most/3.6e6, r.Lead.Least/3.6e6)
	}
	if math.Abs(r.Lithium.Least/r.Lead.Least-0.5/0.8) > 1e-9 {
		t.Errorf("lithium %.4f of lead", r.Lithium.Least/r.Lead.Least)
	}
}

// TestRunningTap: straight on the mains, the current at a single tap follows the pump's own
// power, not the plate's shaft power.
func TestRunningTap(t *testing.T) {
	r, _ := of(t, "kestrel-rise", Inputs{Daily: 0.65, Duty: kestrel.Duty, Taps: []Point{{Flow: 12. / 60000, Speed: 1}}},
		func(j *job.Job) { j.Choices.Control = "flow-control" })
	// 834.9 (0.55 + 0.45 · 0.2/0.9) = 542.7 W: 2.36 A at cos φ 1; with what magnetises, more.
	if r.Taps.Least < 2.36 || r.Taps.Most > float64(r.Motor.Running) || r.Taps.Most <= r.Taps.Least {
		t.Errorf("%.3f to %.3f A, running at full %.3f A", r.Taps.Least, r.Taps.Most, r.Motor.Running)
	}
	if start := float64(r.Motor.Starting) / float64(r.Motor.Running); start != 10 {
		t.Errorf("starts at %g times its running current: the upper end is 10", start)
	}
}

// TestLongerCutsTakeMore: a longer cut and more water never take less, and the busy hour
// never less than the mean.
func TestLongerCutsTakeMore(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		hours := rapid.Float64Range(0.2, 20).Draw(rt, "hours")
		daily := rapid.Float64Range(0.05, 5).Draw(rt, "daily")
		run := func(h, d float64) *Result {
			in := kestrel
			in.Daily = quantity.Volume(d)
			r, _ := of(t, "kestrel-rise", in, func(j *job.Job) { j.Interruptions.PowerCuts = []job.Spell{{Most: quantity.Time(3600 * h)}} })
			return r
		}
		a, longer, more := run(hours, daily), run(1.5*hours, daily), run(hours, 1.5*daily)
		if longer.Lead.Least <= a.Lead.Least || more.Lead.Most <= a.Lead.Most || a.Lead.Most < a.Lead.Least {
			rt.Fatalf("%g h, %g m³: %v; longer %v, more %v", hours, daily, a.Lead, longer.Lead, more.Lead)
		}
	})
}
