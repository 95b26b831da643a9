package appraise

import (
	"context"
	"maps"
	"slices"
	"sync"

	"tideover/internal/catalogue"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/workers"
)

// reruns is the whole analysis run again: with inputs moved, for the spread of every
// figure, and with each cure that a finding suggests. They share the cores, so that none
// stands idle while the other kind ends.
type reruns struct {
	base  *Appraisal
	known ledger
	rows  *catalogue.Catalogue

	leaves []job.Leaf  // the inputs that are moved
	moved  [][]outcome // per move, per finding of the base run; nil where the job could not be built

	number map[string]int      // of a try, from 1, by its edits
	after  [][]finding.Finding // per try; nil where the cure cannot be made
}

// rerun runs everything again that tells how the base run's findings hold, on all cores;
// results do not depend on how many.
func rerun(ctx context.Context, in Input, base *Appraisal, tell func(done, total int)) (*reruns, error) {
	r := &reruns{base: base, known: know(base.Findings), rows: in.Catalogue, leaves: inexact(in, base)}
	in.base, in.starts = base, base.Service.Answers
	moving := in
	moving.atOnce, moving.moving = atOnce(base), true
	var moves []move
	if len(r.leaves) > 0 {
		moves = append(oneAtATime(r.leaves), hypercube(r.leaves, samples, uint64(in.Job.Seed))...)
	}
	var tries [][]job.Edit
	if in.Doc != nil {
		tries, r.number = suggested(base.Findings)
	}
	r.moved, r.after = make([][]outcome, len(moves)), make([][]finding.Finding, len(tries))
	rooms := sync.Pool{New: func() any { return new([]finding.Finding) }}
	err := workers.Each(ctx, len(tries)+len(moves), tell, func(i int) {
		if i < len(tries) { // these take longest: they come first
			r.after[i] = attempt(in, tries[i])
			return
		}
		room := rooms.Get().(*[]finding.Finding)
		r.moved[i-len(tries)] = r.move(moving, moves[i-len(tries)], room)
		rooms.Put(room)
	})
	return r, err
}

// move evaluates one move; room is where its findings are gathered. A move that leads to a
// job that cannot be built or solved gives nil.
func (r *reruns) move(in Input, m move, room *[]finding.Finding) []outcome {
	in, err := in.moved(m.paths)
	if err != nil {
		return nil
	}
	in.room, in.from = (*room)[:0], firstFelt(slices.Collect(maps.Keys(m.paths)))
	a, err := evaluate(in, false)
	if err != nil {
		return nil
	}
	*room = a.Findings
	return r.known.read(a.Findings)
}

// key identifies a finding across runs.
type key struct{ id, where, mode string }

func keyOf(f *finding.Finding) key { return key{f.ID, f.Where, f.Mode} }

// ledger says which finding of the base run has a key.
type ledger map[key]int

func know(list []finding.Finding) ledger {
	l := make(ledger, len(list))
	for i := range list {
		l[keyOf(&list[i])] = i
	}
	return l
}

// read sorts what a rerun found under the findings of the base run.
func (l ledger) read(list []finding.Finding) []outcome {
	out := make([]outcome, len(l))
	for i := range list {
		if k, known := l[keyOf(&list[i])]; known {
			out[k] = outcome{list[i].Figure.SI, list[i].Verdict, true}
		}
	}
	return out
}
