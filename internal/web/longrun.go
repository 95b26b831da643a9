package web

import (
	"context"
	"net/http"
	"strconv"
	"sync"
)

// runStage is how far a long run has come.
type runStage string

const (
	runWaits   runStage = "waits"   // for another long run
	runWorks   runStage = "works"   // figures are being worked out
	runSets    runStage = "sets"    // sheets are being set
	runDone    runStage = "done"    //
	runFailed  runStage = "failed"  //
	runStopped runStage = "stopped" // somebody stopped it
)

// longRun is work that goes on in the background: a page follows it, and anybody can stop it.
// It holds no desk while it works.
type longRun struct {
	of     string // revision of the file it is made of
	cancel context.CancelFunc

	mu    sync.Mutex
	stage runStage
	share int // of the work, in twentieths
	tick  int // grows with every change
	why   string
	bell  chan struct{}
}

// begin readies a run of a state of the file.
func (k *longRun) begin(of string, cancel context.CancelFunc) {
	k.of, k.cancel, k.stage, k.bell = of, cancel, runWaits, make(chan struct{})
}

func (k *longRun) end() { k.cancel() }

// move changes a run and wakes who waits for it.
func (k *longRun) move(change func()) {
	k.mu.Lock()
	defer k.mu.Unlock()
	change()
	k.tick++
	close(k.bell)
	k.bell = make(chan struct{})
}

// tell hears of progress.
func (k *longRun) tell(done, total int) {
	share := 20 * done / max(1, total)
	k.mu.Lock()
	same := share == k.share && k.stage == runWorks
	k.mu.Unlock()
	if !same {
		k.move(func() { k.stage, k.share = runWorks, share })
	}
}

// fail ends a run that went wrong.
func (k *longRun) fail(why error) {
	k.move(func() { k.stage, k.why = runFailed, why.Error() })
}

func (k *longRun) running() bool {
	k.mu.Lock()
	defer k.mu.Unlock()
	return k.stage == runWaits || k.stage == runWorks || k.stage == runSets
}

// await returns when a run has changed since tick, or the context ends.
func (k *longRun) await(ctx context.Context, tick int) {
	k.mu.Lock()
	bell, fresh := k.bell, k.tick != tick
	k.mu.Unlock()
	if fresh {
		return
	}
	select {
	case <-bell:
	case <-ctx.Done():
	}
}

// halt stops a run and gives it a moment to end.
func (k *longRun) halt(ctx context.Context) {
	k.cancel()
	ctx, cancel := context.WithTimeout(ctx, firstPatience)
	defer cancel()
	for k.running() && ctx.Err() == nil {
		k.mu.Lock()
		tick := k.tick
		k.mu.Unlock()
		k.await(ctx, tick)
	}
}

// follow waits, where a page asks to, until a run has changed since the page was made.
func (k *longRun) follow(r *http.Request) {
	tick, err := strconv.Atoi(r.URL.Query().Get("after"))
	if err != nil || !k.running() {
		return
	}
	ctx, cancel := context.WithTimeout(r.Context(), mostPatience)
	defer cancel()
	k.await(ctx, tick)
}
