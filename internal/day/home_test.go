package day

import (
	"os"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/job"
)

type homeRun struct {
	ci *circuit.Circuit
	p  *Plant
	in Inputs
}

func home(t testing.TB, name string) homeRun {
	t.Helper()
	must := func(err error) {
		if err != nil {
			t.Helper()
			t.Fatal(err)
		}
	}
	cat, err := catalogue.Load()
	must(err)
	path := "../../examples/" + name + ".job.yaml"
	text, err := os.ReadFile(path)
	must(err)
	doc, faults := job.Read(path, text)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	profile := cat.Profiles[doc.Job.Profile]
	a, err := assembly.Build(doc.Job, cat, &profile)
	must(err)
	ci, err := circuit.New(a, circuit.Read(doc.Job))
	must(err)
	in := Read(doc.Job, a, &profile)
	p, ok, err := Of(ci, in)
	must(err)
	if !ok {
		t.Fatal("no plant")
	}
	return homeRun{ci, p, in}
}

func TestHomes(t *testing.T) {
	for _, name := range []string{"kestrel-rise", "juniper-flat"} {
		h := home(t, name)
		for k, s := range []*Schedule{Usual(h.ci, h.p, h.in), Failing(h.ci, h.p, h.in)} {
			r, err := ByEvents(h.p, s)
			if err != nil {
				t.Fatal(err)
			}
			closes(t, r)
			n, period := r.Hunts()
			most, _ := r.Busiest()
			t.Logf("%s %d: until %.0f of %.0f, draws %d, solves %d moments %d, in %.3f street %.3f drawn %.3f out %.3f pumped %.3f spilled %.3f; starts %d (%d/h) changes %d hunts %d/%.0f fills %v back %.0f lowest %.3f end %.3f run %.0f kWh %.3f",
				name, k, r.Until, s.Until, len(s.Draws), r.Solves, len(r.Moments), r.In, r.Street, r.Drawn, r.Out, r.Pumped, r.Spilled, len(r.Starts), most, len(r.Changes), n, period, len(r.Fills), r.Back, r.Lowest, r.End, r.RunTime, r.Socket/3.6e6)
			for _, tap := range r.Taps {
				t.Logf("   %+v", tap)
			}
		}
	}
}
