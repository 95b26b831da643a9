package cli

import (
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"os/signal"
	"strconv"
	"sync"
	"time"

	"tideover/internal/appraise"
	"tideover/internal/words"
)

// dear is how long a run may take before somebody is told what it costs.
const dear = 30 * time.Second

// errStopped ends a command that somebody stopped and that told what it knew by then.
var errStopped = errors.New("stopped")

// waiting is what somebody hears who waits for years: on a terminal which part runs and how far all
// is, anywhere what a dear run will take, once a sixteenth shows it, and where it is stopped
// what is known by then.
type waiting struct {
	s     streams
	line  func(text string) // nil where there is no terminal
	now   func() time.Time
	begun time.Time

	mu     sync.Mutex
	part   appraise.Part
	share  int
	warned bool
	far    string
}

func (s streams) waiting(now func() time.Time) *waiting {
	return &waiting{s: s, line: s.rewritten(), now: now, begun: now()}
}

// ask has the years tell this what they are about.
func (w *waiting) ask(a *appraise.YearsAsk) {
	a.SoFar = func(text string) {
		w.mu.Lock()
		w.far = text
		w.mu.Unlock()
	}
	a.Part = w.begins
}

// begins hears which part begins.
func (w *waiting) begins(p appraise.Part) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.part = p
	w.show()
}

// tell hears how far the work is.
func (w *waiting) tell(done, total int) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.share = 100 * done / max(1, total)
	w.warn(done, total)
	w.show()
}

// warn says once what is still to be spent, as soon as enough is done to tell.
func (w *waiting) warn(done, total int) {
	if w.warned || done < 2 || 16*done < total && w.now().Sub(w.begun) < dear/3 {
		return
	}
	w.warned = true
	if whole := time.Duration(float64(w.now().Sub(w.begun)) * float64(total) / float64(done)); whole > dear {
		w.clear()
		fmt.Fprintln(w.s.err, words.Say("cli.progress.dear", words.Args{"minutes": strconv.Itoa(int(math.Ceil(whole.Minutes()))), "total": strconv.Itoa(total / 2)}))
	}
}

func (w *waiting) show() {
	if w.line != nil && w.part != "" {
		w.line(words.Say("cli.progress.part", words.Args{"part": words.Say("run."+string(w.part), nil), "share": strconv.Itoa(w.share)}))
	}
}

// clear takes the line away.
func (w *waiting) clear() {
	if w.line != nil {
		w.line("")
	}
}

// stopped tells what is known where somebody stopped the work; any other error it hands on.
func (w *waiting) stopped(ctx context.Context, err error) error {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.clear()
	if err == nil || ctx.Err() == nil || !errors.Is(err, context.Canceled) {
		return err
	}
	if w.far == "" {
		return errors.New(words.Say("cli.stopped-early", nil))
	}
	fmt.Fprintln(w.s.err, words.Say("cli.stopped", nil))
	fmt.Fprintln(w.s.out, w.far)
	return errStopped
}

// interrupted is a context that ends when somebody presses Ctrl-C.
func interrupted(ctx context.Context) (context.Context, context.CancelFunc) {
	return signal.NotifyContext(ctx, os.Interrupt)
}
