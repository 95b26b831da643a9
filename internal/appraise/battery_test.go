package appraise

import (
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/day"
	"tideover/internal/demo"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/site"
)

// TestOneBattery: how long a battery runs the pump is one fact: the years draw between its ends, the
// day goes by the shorter, the power cut's finding tells both; what it stores, told, narrows them.
func TestOneBattery(t *testing.T) {
	yes := job.Edit{Op: job.Set, Path: "power.battery", Text: "yes"}
	stores := job.Edit{Op: job.Set, Path: "power.battery-stores", Text: "0.2 kWh"}
	cuts := job.Edit{Op: job.Set, Path: "interruptions.power-cuts", Text: "about 1 a day, 8 h to 10 h"}
	for name, edits := range map[string][]job.Edit{"not told": {yes, cuts}, "told": {yes, cuts, stores}} {
		h := ready(t, "kestrel-rise", edits...)
		doc, _, err := demo.Doc(t, "kestrel-rise").Apply(edits...)
		if err != nil {
			t.Fatal(err)
		}
		cat, p := demo.Rows(t, doc.Job.Profile)
		a, err := assembly.Build(doc.Job, cat, p)
		if err != nil {
			t.Fatal(err)
		}
		want := site.BatteryOf(doc.Job, a)
		if got := h.Input.Pump; got.Battery != float64(want.Least) || got.Most != float64(want.Most) || want.Told != (name == "told") {
			t.Errorf("%s: the years draw %g to %g s, want %+v", name, got.Battery, got.Most, want)
		}
		in := day.Read(doc.Job, a, p)
		if dark := 9*3600 - float64(want.Least); in.Runs != float64(want.Least) || in.Dark != dark {
			t.Errorf("%s: on the day the pump stands %g s after %g, want %g after %g", name, in.Dark, in.Runs, dark, float64(want.Least))
		}
		given, err := NewInput(cat, doc)
		if err != nil {
			t.Fatal(err)
		}
		seen := false
		quick, err := Quick(given)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range quick.Findings {
			switch f.ID {
			case "power-out":
				if f.Verdict == finding.Fine { // the main serves
					continue
				}
				seen = true
				if f.Args["least"].SI != float64(want.Least) || f.Args["most"].SI != float64(want.Most) {
					t.Errorf("%s: told %v", name, f.Args)
				}
			case "battery":
				if name == "told" && (f.Figure.SI != 0.2*3.6e6 || f.Verdict != finding.LookAt) {
					t.Errorf("0.2 kWh through a cut of 10 h: %v %v", f.Figure, f.Verdict)
				}
			}
		}
		if !seen {
			t.Error("no power cut was judged")
		}
	}
}
