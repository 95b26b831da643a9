package appraise

import (
	"bytes"
	"context"
	"testing"

	"tideover/internal/homes"
)

// TestSharedIsPlain: what a check shares between a job and the remedies tried on it changes no
// byte of what it says: the same with nothing shared, each remedy judged from its file on. The
// examples and a few random homes, or as many as TIDEOVER_HOMES says.
func TestSharedIsPlain(t *testing.T) {
	remedies := 0
	for _, name := range []string{"kestrel-rise", "juniper-flat", "lantern-row"} {
		remedies += sharedIsPlain(t, name, input(t, name))
	}
	for n := range homesCount(t, 3) {
		h := homes.Random(78, n)
		in := homeInput(t, h)
		remedies += sharedIsPlain(t, h.Name, in)
	}
	if remedies < 15 {
		t.Errorf("%d remedies: the test says little", remedies)
	}
}

// sharedIsPlain checks both ways and counts the remedies.
func sharedIsPlain(t *testing.T, name string, in Input) (remedies int) {
	t.Helper()
	in.Proof = NamedProof
	var said [2][]byte
	for k := range said {
		in.plain = k == 1
		a, err := Run(context.Background(), in, nil)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if said[k], err = a.JSON(); err != nil {
			t.Fatal(err)
		}
		for i := range a.Findings {
			remedies += len(a.Findings[i].Remedies)
		}
	}
	if !bytes.Equal(said[0], said[1]) {
		t.Errorf("%s: %s", name, firstApart(said[0], said[1]))
	}
	return remedies / 2
}
