package appraise

import (
	"context"
	"testing"
)

// TestKestrelBeginsEmpty: between two of Kestrel Rise's long interruptions the weak main does not climb
// to the float valve, so that one in a row finds the store empty: the carry time says so, and why.
func TestKestrelBeginsEmpty(t *testing.T) {
	in := input(t, "kestrel-rise")
	in.Doc = nil
	a, err := Run(context.Background(), in, nil)
	if err != nil {
		t.Fatal(err)
	}
	for i := range a.Findings {
		if f := &a.Findings[i]; f.ID == "carry-time" {
			if f.Case != "dry" || f.Figure.SI != 0 || f.Args["begins"].SI != 0 || !(f.Args["full"].SI > 3*86400) || f.Names["main"] == "" {
				t.Errorf("case %q, %v of full %v, begins with %v, main %q", f.Case, f.Figure.SI, f.Args["full"].SI, f.Args["begins"].SI, f.Names["main"])
			}
			return
		}
	}
	t.Error("no carry time")
}
