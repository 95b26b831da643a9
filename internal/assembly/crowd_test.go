package assembly

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"tideover/internal/job"
)

// TestCrowded: as many outlets as are worked out at once are laid out, one more is refused before
// anything is laid out, with how many there are and how many may be.
func TestCrowded(t *testing.T) {
	cat, p := rows(t)
	refused := func(j *job.Job, path string, figures ...int) {
		t.Helper()
		_, err := Build(j, cat, p)
		var faults Faults
		if !errors.As(err, &faults) || len(faults) != 1 || faults[0].Path != path {
			t.Fatalf("%s: %v", path, err)
		}
		for _, n := range figures {
			if !strings.Contains(err.Error(), fmt.Sprint(n)) {
				t.Errorf("%v: does not say %d", err, n)
			}
		}
	}
	j := readJob(t, "kestrel-rise")
	one := j.Outlets[0]
	j.Outlets = nil
	for n := range mostOutlets + 1 {
		one.Tag = fmt.Sprintf("tap-%d", n)
		j.Outlets = append(j.Outlets, one)
	}
	refused(j, "outlets", mostOutlets+1, mostOutlets)
	j.Outlets = j.Outlets[:mostOutlets]
	if _, err := Build(j, cat, p); err != nil {
		t.Errorf("%d outlets: %v", mostOutlets, err)
	}
	j = readJob(t, "lantern-row")
	j.Parts = append(j.Parts, make([]job.FreePart, mostListed)...)
	refused(j, "parts", len(j.Parts), mostListed)
}
