package assembly

import (
	"errors"
	"testing"

	"pgregory.net/rapid"
	"tideover/internal/job"
)

// pumped: as many pumps as the job says, alike, each behind a non-return valve; of several,
// any one can be shut off alone while the others still reach every outlet, and what another
// has lifted never gets into its outlet.
func pumped(t *rapid.T, a *Assembly, j *job.Job) {
	if a.Arrangement == Raised {
		return // by its height alone
	}
	n := int(j.Choices.Pumps.V)
	if got := len(a.Of(Pump)); got != n {
		t.Fatalf("%d pumps laid out of %d", got, n)
	}
	together := 1
	if j.Choices.PumpDuty == "assist" {
		together = n
	}
	if a.Together != together {
		t.Fatalf("%d run together of %d, %s", a.Together, n, j.Choices.PumpDuty)
	}
	if n == 1 {
		if a.Sets != nil {
			t.Fatal("a set of one pump")
		}
		return
	}
	for k, own := range a.Sets {
		s := a.Setting(PumpOut(k))
		from := a.Index(MainTag)
		if stores := a.Of(Store); len(stores) > 0 {
			from = stores[0]
		}
		fed := a.flood(from, s, true)
		for other, with := range a.Sets {
			if fed[with.Pump] != (other != k) {
				t.Fatalf("%s: water reaches pump %s: %v", s.Name, a.Parts[with.Pump].Tag, fed[with.Pump])
			}
		}
		reached := a.any(fed, Outlet)
		if !reached && a.Arrangement != HeaderTank { // there the pumps serve a tank
			t.Fatalf("%s: no outlet is served", s.Name)
		}
		out, _ := a.Meets(End{a.Sets[(k+1)%n].Pump, 1})
		if back := a.flood(out.Part, a.everything(), true); back[own.Pump] {
			t.Fatalf("what another pump has lifted gets into %s", a.Parts[own.Pump].Tag)
		}
	}
}

// TestFreePumps: a list of parts is judged with one pump, and says so.
func TestFreePumps(t *testing.T) {
	c, p := rows(t)
	j := &job.Job{}
	j.Choices.Arrangement = Free
	j.Choices.Pumps.V = 2
	_, err := Build(j, c, p)
	var faults Faults
	if !errors.As(err, &faults) {
		t.Fatalf("got %v, want faults", err)
	}
	for _, f := range faults {
		if f.Path == "choices.pump.count" {
			return
		}
	}
	t.Errorf("no fault names choices.pump.count: %v", err)
}
