package appraise

import (
	"context"
	"strings"
	"testing"

	"tideover/internal/words"
)

// TestUnlooked: an order of movements says which safety promise it was not held to, and
// says nothing where it was held to all.
func TestUnlooked(t *testing.T) {
	notice := words.Say("promise.notice-shut.title", nil)
	for name, want := range map[string]bool{"lantern-row": true, "kestrel-rise": false} {
		a, err := Prove(context.Background(), input(t, name), SoundProof, nil)
		if err != nil {
			t.Fatal(err)
		}
		told := a.Proof.TellUnlooked()
		if len(a.Proof.Sequences) == 0 || strings.Contains(told, notice) != want || (told != "") != want {
			t.Errorf("%s: %d orders, told %q, want the notice named: %v", name, len(a.Proof.Sequences), told, want)
		}
	}
}
