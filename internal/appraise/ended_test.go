package appraise

import (
	"context"
	"errors"
	"sync/atomic"
	"testing"

	"tideover/internal/day"
)

// patience is a context that ends once it has been looked at so many times, and counts the looks.
type patience struct {
	context.Context
	most, looks atomic.Int64
}

func lasting(looks int64) *patience {
	p := &patience{Context: context.Background()}
	p.most.Store(looks)
	return p
}

func (p *patience) Err() error {
	if p.looks.Add(1) > p.most.Load() {
		return context.Canceled
	}
	return nil
}

// TestEveryEvaluationLooks: whenever the context of a check ends, the check gives up with its error,
// after no more than a few looks by what was under way; nothing is found in place of it.
func TestEveryEvaluationLooks(t *testing.T) {
	in := input(t, "kestrel-rise")
	in.Proof = NamedProof
	all := lasting(1 << 40)
	if _, err := Run(all, in, nil); err != nil {
		t.Fatal(err)
	}
	for k := range int64(12) {
		ctx := lasting(all.looks.Load() * k / 12)
		a, err := Run(ctx, in, nil)
		if !errors.Is(err, context.Canceled) || a != nil {
			t.Errorf("ended at look %d of %d: %v", ctx.most.Load(), all.looks.Load(), err)
		}
		if late := ctx.looks.Load() - ctx.most.Load(); late > 400 {
			t.Errorf("ended at look %d: looked %d times more", ctx.most.Load(), late)
		}
	}
}

// TestLooksAreNear: one evaluation looks at its context at every case it solves, and a day at every
// event: no long work lies between two looks.
func TestLooksAreNear(t *testing.T) {
	in := input(t, "osprey-house")
	ctx := lasting(1 << 40)
	a, err := Quick(in.Within(ctx))
	if err != nil {
		t.Fatal(err)
	}
	if n := int64(len(a.Service.Answers)); ctx.looks.Load() < n {
		t.Errorf("%d looks at %d cases", ctx.looks.Load(), n)
	}
	d, err := day.Prepare(a.circuit, day.Read(in.Job, a.Assembly, in.Profile))
	if err != nil {
		t.Fatal(err)
	}
	ctx = lasting(1 << 40)
	if err := d.Run(ctx.Err); err != nil {
		t.Fatal(err)
	}
	if n := int64(len(d.Result.Moments)); 2*ctx.looks.Load() < n {
		t.Errorf("%d looks at %d moments", ctx.looks.Load(), n)
	}
	ctx = lasting(100)
	if err := d.Run(ctx.Err); !errors.Is(err, context.Canceled) || d.Result != nil || ctx.looks.Load() != 101 {
		t.Errorf("a day that ends: %v after %d looks", err, ctx.looks.Load())
	}
	ctx = lasting(20)
	if _, err := Try(in.Within(ctx)); !errors.Is(err, context.Canceled) {
		t.Errorf("a trial that ends: %v", err)
	}
}
