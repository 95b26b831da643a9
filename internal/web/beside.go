package web

import (
	"context"
	"time"

	"tideover/internal/appraise"
	"tideover/internal/proposal"
)

// sideTime is the most that making alternatives may take.
const sideTime = 20 * time.Second

// beside is designs being set side by side: at first by a look at each, then with their
// promises tried and their days lived through. It runs by itself, whoever looks at it.
type beside struct {
	of     string // the states of the files it is about
	cancel context.CancelFunc
	seen   chan struct{} // closed when the first look is there, or failed
	judged chan struct{} // closed when the rest is, or failed

	columns []proposal.Alternative // the job itself first; whole replaces them
	whole   []proposal.Alternative
	err     error // why there is nothing beside the job
	fault   error // why even the job itself cannot be shown
}

// set begins to set a job beside another, or beside its alternatives where there is none.
// What was begun for other states ends. The desk is locked.
func (d *desk) set(other *appraise.Input, of string) *beside {
	if d.beside != nil && d.beside.of == of {
		return d.beside
	}
	d.unset()
	ctx, cancel := context.WithCancel(d.pages.ctx)
	d.beside = &beside{of: of, cancel: cancel, seen: make(chan struct{}), judged: make(chan struct{})}
	b, in := d.beside, d.input
	go d.pages.guarded(func() { b.run(ctx, in, other) }, func(why error) {
		select {
		case <-b.seen: // the first look stands
		default:
			b.fault = why
			close(b.seen)
		}
	})
	return d.beside
}

func (d *desk) unset() {
	if d.beside != nil {
		d.beside.cancel()
		d.beside = nil
	}
}

func (b *beside) run(ctx context.Context, own appraise.Input, other *appraise.Input) {
	defer b.cancel()
	inputs := b.look(ctx, own, other)
	close(b.seen)
	defer close(b.judged)
	for i, in := range inputs {
		in.Proof = appraise.SoundProof
		a, err := appraise.Run(ctx, in, nil)
		if err != nil {
			return // the first look stands
		}
		one := proposal.Present(in, a)
		one.Name, one.Edits, one.For = b.columns[i].Name, b.columns[i].Edits, b.columns[i].For
		b.whole = append(b.whole, one)
	}
}

// look fills the columns with what a first look tells, and returns what each is made from.
func (b *beside) look(ctx context.Context, own appraise.Input, other *appraise.Input) []appraise.Input {
	inputs := []appraise.Input{own}
	if other != nil {
		inputs = append(inputs, *other)
	}
	for _, in := range inputs {
		a, err := appraise.Quick(in.Within(ctx))
		if err != nil {
			b.fault = err
			return nil
		}
		b.columns = append(b.columns, proposal.Present(in, a))
	}
	if other != nil {
		return inputs
	}
	ctx, cancel := context.WithTimeout(ctx, sideTime)
	defer cancel()
	var list []proposal.Alternative
	list, b.err = proposal.Propose(ctx, own)
	for i := range list {
		in := own
		in.Doc, in.Job = list[i].Doc, list[i].Doc.Job
		inputs = append(inputs, in)
	}
	b.columns = append(b.columns, list...)
	return inputs
}

// wait waits for the first look, and a moment for the rest, longer where somebody asked for
// it; it reports whether the rest is there. The error is the context's.
func (b *beside) wait(ctx context.Context, patience time.Duration) (whole bool, err error) {
	select {
	case <-b.seen:
	case <-ctx.Done():
		return false, ctx.Err()
	}
	select {
	case <-b.judged:
		return true, nil
	case <-ctx.Done():
		return false, ctx.Err()
	case <-time.After(patience):
		return false, nil
	}
}

// show is the columns as far as they are known; whole says whether the rest is there.
func (b *beside) show(whole bool) []proposal.Alternative {
	if whole && len(b.whole) == len(b.columns) {
		return b.whole
	}
	return b.columns
}
