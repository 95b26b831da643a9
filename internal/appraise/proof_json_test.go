package appraise

import (
	"encoding/json"
	"math"
	"testing"

	"tideover/internal/proof"
)

// A port whose pressure nothing bounds keeps its place in the list.
func TestPressuresByPort(t *testing.T) {
	got, err := json.Marshal(byPort([]proof.Interval{{Low: math.Inf(-1), High: math.Inf(1)}, {Low: 1e5, High: math.Inf(1)}, {Low: 2e5, High: 3e5}}))
	if want := "[[null,null],[100000,null],[200000,300000]]"; err != nil || string(got) != want {
		t.Errorf("got %s (%v), want %s", got, err, want)
	}
}
