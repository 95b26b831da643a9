package cli

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"tideover/internal/appraise"
)

// TestDearRunIsToldBeforehand: once ten seconds of a long run show what it costs, it is said, once;
// of a short one nothing is.
func TestDearRunIsToldBeforehand(t *testing.T) {
	for _, c := range []struct {
		each time.Duration // of one in 512
		want string
	}{{time.Second, "some 9 min"}, {10 * time.Millisecond, ""}} {
		var out, err bytes.Buffer
		w := streams{nil, &out, &err}.waiting(time.Now)
		at := w.begun
		w.now = func() time.Time { return at }
		for k := 1; k <= 512; k++ {
			at = at.Add(c.each)
			w.tell(k, 512)
			if k < 10 && err.Len() > 0 {
				t.Fatalf("said after %d of 512: %s", k, err.String())
			}
		}
		if got := err.String(); strings.Count(got, "\n") > 1 || !strings.Contains(got, c.want) || c.want == "" && got != "" {
			t.Errorf("%v each: %q, want %q", c.each, got, c.want)
		}
	}
}

// TestStoppedTellsWhatIsKnown: somebody who stops a run gets the headline so far, marked as a part;
// another error, and a run that ends, are left alone.
func TestStoppedTellsWhatIsKnown(t *testing.T) {
	var out, err bytes.Buffer
	w := streams{nil, &out, &err}.waiting(time.Now)
	var ask appraise.YearsAsk
	w.ask(&ask)
	ctx, stop := context.WithCancel(context.Background())
	if w.stopped(ctx, nil) != nil {
		t.Error("a run that ended was called stopped")
	}
	other := errors.New("no such file")
	if got := w.stopped(ctx, other); !errors.Is(got, other) {
		t.Errorf("%v", got)
	}
	stop()
	halted := fmt.Errorf("years: %w", ctx.Err())
	if got := w.stopped(ctx, halted); got == nil || errors.Is(got, errStopped) || out.Len() > 0 {
		t.Errorf("nothing was known: %v, %q", got, out.String())
	}
	ask.SoFar("So far: 20 of a hundred.")
	if got := w.stopped(ctx, halted); !errors.Is(got, errStopped) || out.String() != "So far: 20 of a hundred.\n" || !strings.Contains(err.String(), "part of an answer") {
		t.Errorf("%v, %q, %q", got, out.String(), err.String())
	}
}
