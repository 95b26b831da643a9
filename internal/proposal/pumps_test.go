package proposal

import (
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/job"
)

// TestSparePump: where many share a pump the most assured design has a second on standby,
// and only that one; a family's has not, and what stands in pairs already is left alone.
func TestSparePump(t *testing.T) {
	s := func(name string, edits ...job.Edit) *search {
		s, err := newSearch(input(t, name, edits...))
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	many, family := s("osprey-house", job.Edit{Op: job.Unset, Path: "choices.pump.count"}), s("kestrel-rise")
	for _, test := range []struct {
		what        string
		s           *search
		name        Name
		arrangement string
		want        int
	}{
		{"many, assured", many, Assured, assembly.ThroughStore, 2},
		{"many, balanced", many, Balanced, assembly.ThroughStore, 0},
		{"many, by height", many, Assured, assembly.Raised, 0},
		{"a family", family, Assured, assembly.ThroughStore, 0},
		{"two already", s("osprey-house"), Assured, assembly.ThroughStore, 0},
	} {
		if got := test.s.spare(test.name, test.arrangement); len(got) != test.want {
			t.Errorf("%s: %v, want %d edits", test.what, got, test.want)
		}
	}
	for _, n := range []string{"9", "10"} { // the boundary
		in := s("kestrel-rise", job.Edit{Op: job.Set, Path: "home.people", Text: n})
		if got := in.spare(Assured, assembly.ThroughStore); (len(got) > 0) != (n == "10") {
			t.Errorf("%s people: %v", n, got)
		}
	}
}
