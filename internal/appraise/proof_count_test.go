package appraise

import (
	"context"
	"slices"
	"testing"

	"tideover/internal/homes"
	"tideover/internal/proof"
)

// TestCircuitsCounted: how many different circuits a proof solves does not depend on which promise
// asks for them first. Home 19 has two non-return valves that both could bring water to a point
// at which it then stands.
func TestCircuitsCounted(t *testing.T) {
	for _, n := range []int{19, 20, 21} {
		h := homes.Random(77, n)
		in := homeInput(t, h)
		a, err := Quick(in)
		if err != nil {
			t.Fatal(err)
		}
		given, err := proofInput(in, a, NamedProof)
		if err != nil {
			t.Fatal(err)
		}
		given.Workers, given.Promises = 1, proof.Promises()
		var count [2]int
		for k := range count {
			slices.Reverse(given.Promises)
			r, err := proof.Prove(context.Background(), given, nil)
			if err != nil {
				t.Fatal(err)
			}
			count[k] = r.Distinct
		}
		if count[0] != count[1] {
			t.Errorf("%s: %d circuits, %d with the promises the other way round", h.Name, count[0], count[1])
		}
	}
}
