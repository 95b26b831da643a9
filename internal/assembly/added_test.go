package assembly

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"tideover/internal/demo"
	"tideover/internal/job"
)

// TestAdded: a part can be put in beside any part of any layout, at any of its joined ends: all
// that was there keeps its tag and stays joined, what is put in stands between, a non-return
// valve has a drain before it, a hand valve is open in every named setting.
func TestAdded(t *testing.T) {
	c, p := rows(t)
	rapid.Check(t, func(t *rapid.T) {
		j := randomJob(t, c)
		plain, err := Build(j, c, p)
		if err != nil {
			t.Fatal(err)
		}
		ends := []End{}
		for i := range plain.Parts {
			for k := range plain.Parts[i].Ports {
				if _, met := plain.Meets(End{i, k}); met {
					ends = append(ends, End{i, k})
				}
			}
		}
		at := rapid.SampledFrom(ends).Draw(t, "end")
		kind := rapid.SampledFrom([]string{"non-return", "hand-valve", "vessel", "drain", "regulator"}).Draw(t, "kind")
		x := job.Added{Tag: "x9", Kind: kind, Beside: strings.ToLower(plain.Parts[at.Part].Tag), End: plain.Parts[at.Part].Ports[at.Port].Name}
		if kind == "vessel" {
			x.Row = "vessel-24"
		}
		with := j.Clone()
		with.Added = append(with.Added, x)
		with.Choices.RegSet.V = 3e5
		a, err := Build(with, c, p)
		if err != nil {
			for _, f := range err.(Faults) {
				if f.ID != "assembly.missing-row" && f.ID != "assembly.threads" && f.ID != "assembly.ends" { // no valve of that thread is made
					t.Fatalf("%s: %+v: %v", a0(plain), x, err)
				}
			}
			return
		}
		for i := range plain.Parts {
			was, now := &plain.Parts[i], &a.Parts[i]
			if was.Tag != now.Tag || was.Purpose != now.Purpose || was.Role != now.Role {
				t.Fatalf("%+v: %s became %s", x, was.Tag, now.Tag)
			}
			for k := range was.Ports {
				_, met := plain.Meets(End{i, k})
				if _, meets := a.Meets(End{i, k}); met != meets {
					t.Fatalf("%+v: %s.%s met something and does not", x, was.Tag, was.Ports[k].Name)
				}
			}
		}
		n := a.Index("X9")
		if n < 0 || len(a.Joins)-len(plain.Joins) != len(a.Parts)-len(plain.Parts) {
			t.Fatalf("%+v: %d parts more, %d joins more", x, len(a.Parts)-len(plain.Parts), len(a.Joins)-len(plain.Joins))
		}
		other, _ := plain.Meets(at)
		there, _ := a.Meets(at)
		if there == other {
			t.Fatalf("%+v: nothing stands between", x)
		}
		switch kind {
		case "non-return":
			k := slices.IndexFunc(a.BackTests(), func(b BackTest) bool { return b.Check == n })
			if d := a.BackTests()[k].Drain; d < len(plain.Parts) {
				t.Fatalf("%+v: its drain is %d", x, d)
			}
		case "hand-valve":
			for _, s := range a.Settings {
				if s.Positions["X9"] != open && s.Name != Drained {
					t.Fatalf("%+v: %s in %s", x, s.Positions["X9"], s.Name)
				}
			}
		}
	})
}

func a0(a *Assembly) string { return a.Arrangement }

// TestAddedFaults: what cannot be put in is a fault with its path.
func TestAddedFaults(t *testing.T) {
	c, p := rows(t)
	for _, x := range []struct {
		added job.Added
		path  string
	}{
		{job.Added{Tag: "n9", Kind: "non-return", Beside: "n33", End: "out"}, "added.n9.beside"},
		{job.Added{Tag: "n9", Kind: "non-return", Beside: "v1", End: "side"}, "added.n9.end"},
		{job.Added{Tag: "kitchen", Kind: "hand-valve", Beside: "v1", End: "out"}, "added.kitchen"},
		{job.Added{Tag: "e9", Kind: "vessel", Beside: "v1", End: "out"}, "added.e9"},
		{job.Added{Tag: "n9", Kind: "non-return", Row: "single-check-2", Beside: "v1", End: "out"}, "added.n9.row"},
	} {
		j := demo.Doc(t, "kestrel-rise").Job.Clone()
		j.Added = append(j.Added, x.added)
		_, err := Build(j, c, p)
		faults, _ := err.(Faults)
		if len(faults) == 0 || faults[0].Path != x.path {
			t.Errorf("%+v: %v", x.added, err)
		}
	}
}
