package appraise

import (
	"context"
	"slices"
	"testing"

	"tideover/internal/demo"
	"tideover/internal/finding"
)

// TestTake: with years an appraisal says how long the store lasts off them, and not by plain
// arithmetic as well; where they cannot be lived it keeps the arithmetic and says why. The
// appraisal it is made from stays as it was, and a cancelled run is no answer.
func TestTake(t *testing.T) {
	doc := demo.Doc(t, "juniper-flat")
	cat, _ := demo.Rows(t, doc.Job.Profile)
	in, err := NewInput(cat, doc)
	if err != nil {
		t.Fatal(err)
	}
	a, err := Quick(in)
	if err != nil {
		t.Fatal(err)
	}
	has := func(a *Appraisal, id string) bool {
		return slices.ContainsFunc(a.Findings, func(f finding.Finding) bool { return f.ID == id })
	}
	with, err := AddYears(context.Background(), in, a, Logs{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if with.Years == nil || with.Unlived != nil || has(with, "carry-time") || !has(with, "carry-lived") || !has(with, "ride-through") ||
		has(with, "turnover") || !has(with, "water-age") {
		t.Error("the years are not taken in")
	}
	if a.Years != nil || !has(a, "carry-time") || has(a, "carry-lived") {
		t.Error("the appraisal itself was changed")
	}
	l := with.Years.Lasts
	if !(l.Short > 0 && l.Short <= l.Median && l.Median <= l.Long) {
		t.Errorf("lasts %v", l)
	}
	for hour, c := range with.Years.Carry[with.Years.Own] {
		if c.Median < l.Median {
			t.Errorf("%d:00 is worse than the worst hour", hour)
		}
	}
	without, err := AddYears(context.Background(), in, a, Logs{Water: []byte("nonsense")}, nil)
	if err != nil || without.Years != nil || without.Unlived == nil || !has(without, "carry-time") || has(without, "carry-lived") {
		t.Errorf("a log that cannot be read: %v, %v", err, without.Unlived)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := AddYears(ctx, in, a, Logs{}, nil); err == nil {
		t.Error("a cancelled run is an answer")
	}
}

// TestOfYears: what years lived through find is known as such, and nothing else is.
func TestOfYears(t *testing.T) {
	y, _ := lived(t, "juniper-flat", YearsAsk{Brief: true})
	for i := range y.Findings {
		if !OfYears(y.Findings[i].ID) {
			t.Errorf("%s comes of years", y.Findings[i].ID)
		}
	}
	for _, id := range []string{"carry-time", "turnover", "promise-main-clean"} {
		if OfYears(id) {
			t.Errorf("%s comes of no years", id)
		}
	}
}
