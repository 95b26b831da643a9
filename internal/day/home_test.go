package day

import (
	"math"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/circuit"
	"tideover/internal/demo"
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
	j := demo.Job(t, name)
	j.Interruptions.Notice = job.No // the day of a bare interruption
	cat, profile := demo.Rows(t, j.Profile)
	a, err := assembly.Build(j, cat, profile)
	must(err)
	ci, err := circuit.New(a, circuit.Read(j))
	must(err)
	in := Read(j, a, profile)
	p, ok, err := Of(ci, in)
	must(err)
	if !ok {
		t.Fatal("no plant")
	}
	return homeRun{ci, p, in}
}

// TestFailingDay: on the day the water fails Kestrel Rise lives on its stores, and they
// are full again after the main is back; at Juniper Flat somebody turns the home over.
func TestFailingDay(t *testing.T) {
	for _, name := range []string{"kestrel-rise", "juniper-flat"} {
		h := home(t, name)
		d, err := booked(h)
		if err != nil || d.Result == nil || !d.Failing {
			t.Fatal(name, err, d)
		}
		r := d.Result
		closes(t, r)
		if r.Out < 0.2 || len(r.Starts) < 4 || len(r.Stops) > 0 || r.Spilled != 0 {
			t.Errorf("%s: %.3f m³ from the store, %d starts, %d dry-run stops, %g m³ spilled", name, r.Out, len(r.Starts), len(r.Stops), r.Spilled)
		}
		if took := d.Refilled(); took < 600 || took > 6*3600 || d.Lasted() != h.in.Fails {
			t.Errorf("%s: full again after %.0f s, lasted %.0f s", name, took, d.Lasted())
		}
		// What came in makes up for what went out, but for the last of the float's band.
		if math.Abs(r.In-r.Out) > 0.01 {
			t.Errorf("%s: %.4f m³ in, %.4f m³ out", name, r.In, r.Out)
		}
	}
}
