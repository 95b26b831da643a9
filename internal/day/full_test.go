package day

import (
	"errors"
	"testing"
)

// TestTooMuch: a day of more moments than are kept ends with a sentence, not with the memory.
func TestTooMuch(t *testing.T) {
	h := home(t, "kestrel-rise")
	s := Failing(h.ci, h.p, h.in)
	r, err := newRun(h.p, s)
	if err != nil {
		t.Fatal(err)
	}
	r.log.most = 50 * (8 + 2*len(h.p.Watch))
	if err := r.all(nil); !errors.Is(err, ErrTooMuch) || len(r.log.r.Moments) > 52 {
		t.Errorf("%d moments: %v", len(r.log.r.Moments), err)
	}
}
