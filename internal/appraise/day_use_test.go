package appraise

import (
	"testing"

	"tideover/internal/day"
)

// TestADayDrawsWhatTheHomeUses: on an ordinary day the taps of a home draw no more than it uses, to
// a tenth: what a pressure above the design pressure gives more does not come on top. What weak
// hours do not give may be missing, up to a fifth.
func TestADayDrawsWhatTheHomeUses(t *testing.T) {
	for _, name := range []string{"kestrel-rise", "juniper-flat", "osprey-house"} {
		in := input(t, name)
		a, err := evaluate(in, true)
		if err != nil {
			t.Fatal(err)
		}
		given := day.Read(in.Job, a.Assembly, in.Profile)
		given.Fails = 0 // nothing happens
		d, err := day.Prepare(a.circuit, given)
		if err != nil || d == nil {
			t.Fatal(name, d, err)
		}
		d.Run(nil)
		if d.Result == nil {
			t.Fatalf("%s: %s", name, d.Restless)
		}
		got := d.Result.Drawn / d.Result.Until * 86400
		if want := float64(given.Daily); got > 1.1*want || got < 0.8*want {
			t.Errorf("%s: %.3f m³ a day are drawn, %.3f are used", name, got, want)
		}
	}
}
