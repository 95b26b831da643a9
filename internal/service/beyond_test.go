package service

import (
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// TestExtrapolatedIsSaid: what a pump needs at its inlet is known up to its row's first flow; past
// that the sentence says that it is extrapolated, and up to it it does not.
func TestExtrapolatedIsSaid(t *testing.T) {
	p := catalogue.Profile{Rules: map[string]catalogue.Rule{"npsh-margin": {Key: "npsh-margin", Set: true, Value: 0.5}}}
	a := &assembly.Assembly{Parts: []assembly.Part{{Tag: "P1", Kind: assembly.Pump, Row: catalogue.Pump{NPSH: 2.5}}}}
	for needs, want := range map[quantity.Head]string{2.5: "", 2.6: "beyond"} {
		f := &reader{Context: Context{Job: &job.Job{}, Assembly: a, Catalogue: &catalogue.Catalogue{}, Profile: &p}, r: &Result{}}
		f.suction(&Mode{ID: "on-store"}, &Duty{Pump: "P1", NPSHHas: 9, NPSHNeeds: needs})
		if x := f.list[0]; x.Case != want || x.Verdict != finding.Fine {
			t.Errorf("needs %g m of the row's 2.5: case %q, %s; want %q, fine", float64(needs), x.Case, x.Verdict.ID(), want)
		}
	}
}
