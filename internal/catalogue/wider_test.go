package catalogue

import (
	"testing"

	"tideover/internal/quantity"
)

// TestOldPipe: old pipe is narrower and rougher than new pipe of its size, is widened to new
// pipe, and never widens to old.
func TestOldPipe(t *testing.T) {
	c := loaded(t)
	n := 0
	for s, row := range c.Pipes {
		next, ok := c.Wider(s)
		if ok && AsFound(next) {
			t.Errorf("%s is widened to %s, which nobody sells", s, next)
		}
		if !AsFound(s) {
			continue
		}
		n++
		fresh := c.Pipes[quantity.Size{Family: "galvanised", Mark: s.Mark}]
		if share := float64(row.Bore / fresh.Bore); share < 0.79 || share > 0.81 || row.Roughness < 3.9*fresh.Roughness || row.Certainty != Recalled {
			t.Errorf("%s beside %s: %.3f of the bore, %g m rough, %v", row.Key, fresh.Key, share, float64(row.Roughness), row.Certainty)
		}
		if !ok || next != fresh.Size {
			t.Errorf("%s is widened to %s, want %s new", s, next, fresh.Size)
		}
	}
	if n != 6 {
		t.Errorf("%d rows of old pipe", n)
	}
}
