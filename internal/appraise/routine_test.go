package appraise

import (
	"context"
	"testing"

	"tideover/internal/demo"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// TestRoutineHasOneMeaning: the age that check works out for a routine and the age that comes of
// living through years with it are one. Where the store stands full but for the routine, both
// agree within a tenth; where it also stands low for hours every day, plain arithmetic, which
// takes it as full, errs to the old side and never to the young one.
func TestRoutineHasOneMeaning(t *testing.T) {
	for _, x := range []struct {
		name, every, lasts string
		within             float64 // share by which check may say more
	}{
		{"juniper-flat", "7 d", "24 h", 0.1}, {"juniper-flat", "4 d", "24 h", 0.1}, {"juniper-flat", "14 d", "36 h", 0.1},
		{"kestrel-rise", "7 d", "24 h", 0.4}, {"kestrel-rise", "4 d", "48 h", 0.5},
	} {
		doc, _, err := demo.Doc(t, x.name).Apply(
			job.Edit{Op: job.Set, Path: "choices.store.exercise", Text: x.every}, job.Edit{Op: job.Set, Path: "choices.store.exercise-for", Text: x.lasts})
		if err != nil {
			t.Fatal(err)
		}
		cat, _ := demo.Rows(t, doc.Job.Profile)
		in, err := NewInput(cat, doc)
		if err != nil {
			t.Fatal(err)
		}
		a, err := Quick(in)
		if err != nil {
			t.Fatal(err)
		}
		with, err := AddYears(context.Background(), in, a, Logs{}, nil)
		if err != nil {
			t.Fatal(err)
		}
		check, lived := float64(a.Store.Turnover), with.Years.Fresh[with.Years.Own].Mean
		if check < 0.97*lived.Low || check > (1+x.within)*lived.High {
			t.Errorf("%s, every %s for %s: check says %.3g d, the years %.3g d (%.3g–%.3g)", x.name, x.every, x.lasts, check/86400, lived.Value/86400, lived.Low/86400, lived.High/86400)
		}
		asked := quantity.Time(with.Years.Home.Input.Routine.Lasts)
		if asked != a.Store.Routine.Lasts || quantity.Time(with.Years.Home.Input.Routine.Every) != a.Store.Routine.Every {
			t.Errorf("%s: check runs the home on the store for %v, the years for %v s", x.name, a.Store.Routine, asked)
		}
	}
}
