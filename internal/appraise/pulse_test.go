package appraise

import (
	"math"
	"testing"

	"tideover/internal/catalogue"
)

// TestDelayedFloatIsOneFact: a float valve that opens only once the level has fallen leaves so much less
// to an interruption in check, in the years and at the start of the day; what can be drawn from full
// stays.
func TestDelayedFloatIsOneFact(t *testing.T) {
	in := input(t, "juniper-flat")
	before, err := Quick(in)
	if err != nil {
		t.Fatal(err)
	}
	if in, err = in.With(sets("choices.float", "float-25-delayed")...); err != nil {
		t.Fatal(err)
	}
	a, err := Quick(in)
	if err != nil {
		t.Fatal(err)
	}
	row, _ := a.Assembly.Parts[a.Assembly.Of("store")[0]].Row.(catalogue.Store)
	missing := math.Pi / 4 * float64(row.Diameter) * float64(row.Diameter) * 0.25
	f, was := of(t, a, "carry-time", ""), of(t, before, "carry-time", "")
	if f.Case != "waits" || math.Abs(f.Args["usable"].SI-f.Args["begins"].SI-missing) > 1e-9 || f.Args["full"].SI != was.Args["full"].SI {
		t.Errorf("%s: %v m³ of %v found, %v by hand; full %v s, was %v", f.Case, f.Args["begins"].SI, f.Args["usable"].SI, f.Args["usable"].SI-missing, f.Args["full"].SI, was.Args["full"].SI)
	}
	if share := f.Figure.SI / f.Args["full"].SI; math.Abs(share-f.Args["begins"].SI/f.Args["usable"].SI) > 1e-9 {
		t.Errorf("lasts %v of what a full one does", share)
	}
	y, err := LiveThrough(t.Context(), in, YearsAsk{Brief: true, alone: true, futures: 2}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(y.Lasts.Begins-f.Args["begins"].SI) > 1e-6 || y.Home.Input.Stores[y.Own].Opens == 0 {
		t.Errorf("the years find %v m³, check %v", y.Lasts.Begins, f.Args["begins"].SI)
	}
	for i := range y.Findings {
		if g := &y.Findings[i]; g.ID == "carry-lived" && g.Case != "waits" {
			t.Errorf("carry-lived of case %q", g.Case)
		}
	}
}
