// Package workers runs work side by side.
//
// Stage: below everything. It takes functions and runs them on goroutines of their own; it
// knows nothing of what they do. A panic in one of them is raised again in whoever waits,
// who can recover from it; left alone it would end the whole programme.
package workers

import (
	"context"
	"fmt"
	"runtime"
	"runtime/debug"
	"sync"
	"sync/atomic"
)

// Panic is a panic of a worker, as whoever waited meets it.
type Panic struct {
	What  any    // what the worker panicked with
	Stack []byte // where
}

// String returns what the worker panicked with and where.
func (p *Panic) String() string { return fmt.Sprintf("%v\n%s", p.What, p.Stack) }

// Group is work under way. The zero value is ready. It must not be copied once used.
type Group struct {
	wait  sync.WaitGroup
	first atomic.Pointer[Panic]
}

// Go runs work on a goroutine of its own.
func (g *Group) Go(work func()) {
	g.wait.Go(func() {
		defer func() {
			if what := recover(); what != nil {
				inner, is := what.(*Panic)
				if !is {
					inner = &Panic{what, debug.Stack()}
				}
				g.first.CompareAndSwap(nil, inner)
			}
		}()
		work()
	})
}

// Wait returns once all work has ended. It panics with the *Panic of the first worker that
// did, if any.
func (g *Group) Wait() {
	g.wait.Wait()
	if p := g.first.Load(); p != nil {
		panic(p)
	}
}

// Each runs work(0) … work(n−1) on as many goroutines as there are processors to run on. It
// begins nothing more once ctx ends, and returns the context's error. Which worker does which
// does not show where results go by index. told, if not nil, hears of each that is done, one
// at a time.
func Each(ctx context.Context, n int, told func(done, total int), work func(i int)) error {
	var (
		group Group
		next  atomic.Int64
		mu    sync.Mutex
		done  int
	)
	for range min(n, runtime.GOMAXPROCS(0)) {
		group.Go(func() {
			for {
				i := int(next.Add(1)) - 1
				if i >= n || ctx.Err() != nil {
					return
				}
				work(i)
				mu.Lock()
				done++
				if told != nil {
					told(done, n)
				}
				mu.Unlock()
			}
		})
	}
	group.Wait()
	return ctx.Err()
}
