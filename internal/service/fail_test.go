package service

import (
	"errors"
	"testing"
)

// TestFailOnce: one case that does not certify is one finding, however often it is met.
func TestFailOnce(t *testing.T) {
	a := &run{r: &Result{}}
	for range 2 {
		a.fail("on-main", "tap-1, tap-3", errors.New("no"))
	}
	a.fail("on-main", "tap-1", errors.New("no"))
	if len(a.r.Failed) != 2 {
		t.Errorf("%d failures of two cases", len(a.r.Failed))
	}
}
