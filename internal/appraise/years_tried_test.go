package appraise

import (
	"context"
	"math"
	"reflect"
	"testing"

	"tideover/internal/job"
	"tideover/internal/seasons"
	"tideover/internal/years"
)

// TestTriedAsAlone: what is tried side by side comes to what each change comes to by itself, and
// a window found among the sizes that are fresh is the one found among all.
func TestTriedAsAlone(t *testing.T) {
	h := ready(t, "juniper-flat", job.Edit{Op: job.Set, Path: "interruptions.boil-notice", Text: "no"}) // under notices no size is enough
	list, err := h.Variants()
	if err != nil {
		t.Fatal(err)
	}
	inputs := []*seasons.Input{h.Input}
	for i := range list {
		if list[i].ID != "through" { // every hour is lived then: seconds
			inputs = append(inputs, list[i].Input)
		}
	}
	const futures = 8
	run := yearsRun{ctx: context.Background(), home: h, ask: seasons.Ask{Measure: seasons.RideThrough, Store: h.Own, Least: futures, Most: futures}}
	answers, err := run.together(inputs, nil)
	if err != nil {
		t.Fatal(err)
	}
	windows := 0
	for i, in := range inputs {
		alone, err := run.lives(in)
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(answers[i], alone) {
			t.Errorf("input %d: another answer side by side", i)
		}
		fresh := make([]years.Fresh, len(in.Stores))
		for k := range fresh {
			fresh[k].Mean.Value = math.Abs(float64(k - 4))
			fresh[k].Mean.High = fresh[k].Mean.Value + 0.5
		}
		for _, ceiling := range []float64{0, 1, 3} {
			want := years.WindowOf(alone, fresh, ceiling)
			got, err := run.nearer(in, fresh, ceiling, futures)
			if err != nil {
				t.Fatal(err)
			}
			if !reflect.DeepEqual(got, want) {
				t.Errorf("input %d, ceiling %g: window %v among those that are fresh, %v among all", i, ceiling, got, want)
			}
			if want != nil {
				windows++
			}
		}
	}
	if windows == 0 {
		t.Error("no window was found at all: nothing was compared")
	}
}
