package assembly

import (
	"reflect"
	"slices"
	"testing"

	"tideover/internal/demo"
	"tideover/internal/homes"
	"tideover/internal/job"
)

// TestBuildLike: a job whose quantities all moved is laid out like the one before as it is by
// itself, value by value, in the examples and random homes, and mostly takes over what it may.
func TestBuildLike(t *testing.T) {
	examples := []string{"kestrel-rise", "juniper-flat", "osprey-house", "lantern-row"}
	shared, made := 0, 0
	likewise := func(name string, j *job.Job) {
		rows, law := demo.Rows(t, j.Profile)
		first, err := Build(j, rows, law)
		if err != nil {
			return
		}
		for _, x := range []float64{-1, 0.3, 1} {
			var shifts []job.Shift
			leaves := j.Inexact()
			for i := range leaves {
				shifts = append(shifts, leaves[i].At(x)...)
			}
			moved, err := j.Shifted(shifts...)
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			want, wrong := Build(moved, rows, law)
			got, err := BuildLike(first, moved, rows, law)
			if (wrong == nil) != (err == nil) {
				t.Fatalf("%s: %v, by itself %v", name, err, wrong)
			}
			if err != nil {
				continue
			}
			if !reflect.DeepEqual(want, got) {
				t.Errorf("%s, moved by %g: not what it is by itself", name, x)
			}
			if made++; got.SharesSettings(first) {
				shared++
			} else if slices.Contains(examples, name) {
				t.Errorf("%s, moved by %g: nothing is taken over", name, x)
			}
		}
	}
	for _, name := range examples {
		likewise(name, demo.Job(t, name))
	}
	for n := range 30 {
		h := homes.Random(83, n)
		likewise(h.Name, h.Doc(t).Job)
	}
	if made == 0 || 2*shared < made {
		t.Errorf("%d of %d take over what follows from their joins", shared, made)
	}
}
