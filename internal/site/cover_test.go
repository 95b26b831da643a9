package site

import (
	"math"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/assume"
	"tideover/internal/demo"
	"tideover/internal/job"
	"tideover/internal/quantity"

	"pgregory.net/rapid"
)

func covered(t testing.TB, name string, change func(*job.Job)) quantity.Length {
	t.Helper()
	j := demo.Job(t, name)
	if change != nil {
		change(j)
	}
	rows, p := demo.Rows(t, j.Profile)
	a, err := assembly.Build(j, rows, p)
	if err != nil {
		t.Fatal(err)
	}
	return Cover(a)
}

// TestCoverByHand: 30 L/min out of still water drag air in from 22.7 mm above the outlet's centre:
// (5e-4)²/9.80665 = 2.5493e-8, its fifth root e^(−17.4849/5) = 0.030289, three quarters of it.
func TestCoverByHand(t *testing.T) {
	if got := airEq.Fn([]float64{1, 5e-4, 9.80665}); math.Abs(got-0.022717) > 1e-6 {
		t.Errorf("air from %v m", got)
	}
	if got := covered(t, "kestrel-rise", nil); got != 0.075 {
		t.Errorf("with a level switch %v m, not where its float hangs", got)
	}
	none := func(j *job.Job) { j.Choices.Guard = "none" }
	bare := covered(t, "kestrel-rise", none)
	if bare < 0.03 || bare > 0.06 {
		t.Errorf("without one %v m: twice that of some tens of litres a minute is 45 mm", bare)
	}
	// Where air comes before the switch does, air it is.
	early := covered(t, "kestrel-rise", func(j *job.Job) { j.Assumed = assume.Values{assume.AirDepth.Key: 5} })
	if want := quantity.Length(2.5) * bare; math.Abs(float64(early-want)) > 1e-12 {
		t.Errorf("air early: %v m, want %v", early, want)
	}
}

// TestAirComesSooner: more flow and more swirl never draw air later.
func TestAirComesSooner(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, q := rapid.Float64Range(1, 5).Draw(t, "f"), rapid.Float64Range(0, 0.02).Draw(t, "q")
		more := rapid.Float64Range(1, 3).Draw(t, "more")
		h := airEq.Fn([]float64{f, q, 9.80665})
		if airEq.Fn([]float64{f * more, q, 9.80665}) < h || airEq.Fn([]float64{f, q * more, 9.80665}) < h || h < 0 {
			t.Fatalf("f %v, Q %v, times %v", f, q, more)
		}
	})
}

// TestCoverOfPumpsTogether: two pumps that run at once drag air in from 2^(2/5) times the depth of one.
func TestCoverOfPumpsTogether(t *testing.T) {
	by := func(duty string) float64 {
		return float64(covered(t, "osprey-house", func(j *job.Job) { j.Choices.Guard, j.Choices.PumpDuty = "none", duty }))
	}
	one, two := by("alternate"), by("assist")
	if one <= 0 || math.Abs(two/one-math.Pow(2, 0.4)) > 1e-12 {
		t.Errorf("%v m with one pump running, %v with both", one, two)
	}
}
