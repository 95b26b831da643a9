package workers

import (
	"context"
	"sync/atomic"
	"testing"
)

// TestPanicComesBack: a worker's panic is met by whoever waits, also through a second group,
// after all other work has ended.
func TestPanicComesBack(t *testing.T) {
	var ended atomic.Int32
	defer func() {
		p, is := recover().(*Panic)
		if !is || p.What != "three" || len(p.Stack) == 0 {
			t.Errorf("met %v", p)
		}
		if ended.Load() != 9 {
			t.Errorf("%d others had ended, want 9", ended.Load())
		}
	}()
	var outer Group
	outer.Go(func() {
		_ = Each(context.Background(), 1, nil, func(int) {
			var inner Group
			for i := range 10 {
				inner.Go(func() {
					if i == 3 {
						panic("three")
					}
					ended.Add(1)
				})
			}
			inner.Wait()
		})
	})
	outer.Wait()
	t.Error("the panic was lost")
}

// TestEach: each index once, all told of, and none begun after the context ends.
func TestEach(t *testing.T) {
	seen := make([]atomic.Int32, 1000)
	last := 0
	err := Each(context.Background(), len(seen), func(done, total int) {
		if done != last+1 || total != len(seen) {
			t.Errorf("told %d of %d after %d", done, total, last)
		}
		last = done
	}, func(i int) { seen[i].Add(1) })
	for i := range seen {
		if seen[i].Load() != 1 {
			t.Errorf("%d was done %d times", i, seen[i].Load())
		}
	}
	if err != nil || last != len(seen) {
		t.Errorf("ended with %v after %d", err, last)
	}
	ctx, cancel := context.WithCancel(context.Background())
	var begun atomic.Int32
	if err := Each(ctx, 1000, nil, func(int) { begun.Add(1); cancel() }); err != context.Canceled || begun.Load() > 64 {
		t.Errorf("%v after %d", err, begun.Load())
	}
	if err := Each(context.Background(), 0, nil, func(int) { t.Error("nothing was asked for") }); err != nil {
		t.Error(err)
	}
}
