package appraise

import (
	"math"
	"slices"
	"testing"

	"tideover/internal/assume"
	"tideover/internal/job"
	"tideover/internal/service"
)

// busy is what a tap of Kestrel Rise gets at supper were the home at the height of the
// meter and 2.0 bar left at rest there, with so much of the sag in pipes that neighbours draw on.
func busy(t *testing.T, tap string, shared float64, edits ...job.Edit) (litres float64) {
	t.Helper()
	in, err := input(t, "kestrel-rise").With(append([]job.Edit{
		{Path: "home.level", Text: "0 m ±0.1"}, {Path: "supply.peak.pressure", Text: "2.0 bar ±0.01"}}, edits...)...)
	if err != nil {
		t.Fatal(err)
	}
	j := *in.Job
	j.Assumed = assume.Values{assume.StreetSag.Key: shared}
	in.Job = &j
	a, err := Quick(in)
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range a.Service.Modes {
		if m.ID != "on-main-peak" {
			continue
		}
		i := slices.IndexFunc(m.Alone, func(d service.Draw) bool { return d.Outlet == tap })
		return float64(m.Alone[i].Flow) * 60000
	}
	t.Fatal("nothing is worked out for the worst hours")
	return 0
}

// TestBusyHour: taps at supper, against a hand calculation with the home's own pipes: with all of the sag
// in the own pipe the kitchen gets 10.8 L/min and the upper shower 8.97, with all of it in the street
// 8.3 and 6.7; they need 9.
func TestBusyHour(t *testing.T) {
	for _, x := range []struct {
		shared          float64
		kitchen, shower float64
	}{{0, 10.8, 8.97}, {1, 8.3, 6.7}} {
		for tap, want := range map[string]float64{"kitchen": x.kitchen, "shower-up": x.shower} {
			if got := busy(t, tap, x.shared); math.Abs(got-want) > 0.1 {
				t.Errorf("shared %g: %s gets %.2f L/min, want %g", x.shared, tap, got, want)
			}
		}
	}
	// A second reading takes the place of the guess: 2.0 bar at rest and 1.7 with 9 L/min are the slope
	// of a quiet hour, 0.954 that of a street that all share.
	for _, x := range []struct {
		open string
		want float64
	}{{"1.70 bar ±0.01", 10.8}, {"0.954 bar ±0.01", 8.3}} {
		second := []job.Edit{{Path: "supply.peak.open-flow", Text: "9 L/min"}, {Path: "supply.peak.open-pressure", Text: x.open}}
		a, b := busy(t, "kitchen", 0, second...), busy(t, "kitchen", 1, second...)
		if a != b || math.Abs(a-x.want) > 0.1 {
			t.Errorf("%s with 9 L/min: %.2f and %.2f L/min, want %g", x.open, a, b, x.want)
		}
	}
}
