package homes_test

import (
	"bytes"
	"context"
	"os"
	"strconv"
	"testing"

	"tideover/internal/appraise"
	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/homes"
)

// count is how many homes a test draws: few in ./check, TIDEOVER_HOMES in a campaign.
func count(t *testing.T, few int) int {
	if n, err := strconv.Atoi(os.Getenv("TIDEOVER_HOMES")); err == nil {
		return n
	}
	return few
}

// TestHomes: each random home is a job file without faults, lays out, and spans what
// is promised.
func TestHomes(t *testing.T) {
	cat, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	outlets, valves, arrangements, units, logs := map[int]bool{}, map[int]bool{}, map[string]bool{}, map[string]bool{}, 0
	for n := range count(t, 300) {
		h := homes.Random(11, n)
		doc, faults := appraise.ReadDoc(cat, "random.job.yaml", h.Source)
		if len(faults) > 0 {
			t.Fatalf("%s: %v\n%s", h.Name, faults, h.Source)
		}
		in, err := appraise.NewInput(cat, doc)
		if err != nil {
			t.Fatal(err)
		}
		a, err := assembly.Build(in.Job, cat, in.Profile)
		if err != nil {
			t.Fatalf("%s: %v\n%s", h.Name, err, h.Source)
		}
		hand := 0
		for i := range a.Parts {
			if a.Parts[i].Kind == assembly.HandValve {
				hand++
			}
		}
		outlets[len(in.Job.Outlets)], arrangements[in.Job.Choices.Arrangement], units[in.Job.Units] = true, true, true
		if h.Valves > 0 {
			valves[h.Valves] = true
		}
		logs += len(h.Files)
	}
	if len(arrangements) != len(homes.Arrangements) || len(units) != 2 || logs == 0 || len(outlets) < 15 || len(valves) < 12 {
		t.Errorf("too narrow: arrangements %v, units %v, %d logs, outlets %v, valves %v", arrangements, units, logs, outlets, valves)
	}
}

// TestSame: the same seed and number give the same bytes.
func TestSame(t *testing.T) {
	for n := range 20 {
		a, b := homes.Random(3, n), homes.Random(3, n)
		if !bytes.Equal(a.Source, b.Source) {
			t.Errorf("home %d differs from itself", n)
		}
	}
}

// TestAppraised: each can be appraised, or is refused in words.
func TestAppraised(t *testing.T) {
	cat, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	homes.Each(t, 5, count(t, 10), func(t *testing.T, h homes.Home) {
		in, err := appraise.NewInput(cat, h.Doc(t))
		if err != nil {
			t.Fatal(err)
		}
		a, err := appraise.Run(context.Background(), in, nil)
		if err != nil {
			t.Fatalf("%s: %v", h.Name, err)
		}
		if len(a.Findings) == 0 {
			t.Errorf("%s: nothing was judged", h.Name)
		}
	})
}
