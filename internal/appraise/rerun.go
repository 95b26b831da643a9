package appraise

import (
	"context"
	"sync"

	"tideover/internal/catalogue"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/service"
	"tideover/internal/workers"
)

// reruns is the whole analysis run again: with inputs moved, for the spread of every
// figure, then with each cure that a finding suggests whose remedies are asked for.
type reruns struct {
	base  *Appraisal
	known ledger
	rows  *catalogue.Catalogue

	leaves []job.Leaf    // the inputs that are moved
	from   []stage       // per leaf: the first analysis that it can change
	still  []outcome     // per finding of the base run, with nothing moved
	alone  [][][]outcome // per leaf, per end it is moved to, per finding; nil where the job could not be built
	counts []count       // per finding, of the draws
	drawn  [][]outcome   // per draw of those that run everything, per finding

	number map[string]int // of a try, from 1, by its edits
	after  []*Appraisal   // per try; nil where the cure cannot be made
}

func rerunsOf(base *Appraisal, leaves []job.Leaf) *reruns {
	r := &reruns{base: base, known: know(base.Findings), leaves: leaves, from: make([]stage, len(leaves))}
	for i := range leaves {
		r.from[i] = firstFelt(fieldsOf(&leaves[i]))
	}
	return r
}

// batch is how many draws are made at once after the first leastDraws: enough for every
// core to have work, few enough that little is drawn in vain.
const batch = 8

// rerun runs everything again that tells how the base run's findings hold, on all cores;
// results do not depend on how many.
func rerun(ctx context.Context, in Input, base *Appraisal, tell func(done, total int)) (*reruns, error) {
	r := rerunsOf(base, inexact(in, base))
	r.rows = in.Catalogue
	r.counts = make([]count, len(base.Findings))
	if len(r.leaves) == 0 {
		return r, nil
	}
	moving := in.after(base)
	moving.atOnce, moving.moving = atOnce(base), true
	singles, of := oneAtATime(r.leaves)
	draws := drawn(r.leaves, mostDraws, uint64(in.Job.Seed))
	moves := append(append([]move{{}}, singles...), draws[:leastDraws]...)
	runs := make([][]outcome, len(moves))
	rooms := &sync.Pool{New: func() any { return new([]finding.Finding) }}
	err := workers.Each(ctx, len(moves), tell, func(i int) { runs[i] = r.move(moving, moves[i], rooms) })
	if err != nil {
		return r, err
	}
	r.still, r.alone = runs[0], make([][][]outcome, len(r.leaves))
	for i, leaf := range of {
		r.alone[leaf] = append(r.alone[leaf], runs[1+i])
	}
	r.drawn = runs[1+len(singles):]
	r.tally(r.drawn, r.every())
	if err := r.drawOn(ctx, moving, draws[leastDraws:], rooms); err != nil {
		return r, err
	}
	return r, r.weigh(ctx, moving, draws, rooms)
}

// after is the input of a rerun that follows a base run.
func (in Input) after(base *Appraisal) Input {
	in.base, in.starts = base, base.Service.Answers
	return in
}

// drawOn draws until the rule has an answer for every finding that is fine, or the draws
// are used up. What no finding waits for is not worked out.
func (r *reruns) drawOn(ctx context.Context, in Input, draws []move, rooms *sync.Pool) error {
	for len(draws) > 0 {
		waiting := r.waiting()
		if len(waiting) == 0 {
			return nil
		}
		first := r.stageOf(waiting[0])
		in.until = r.stageOf(waiting[len(waiting)-1])
		in.unserved, in.only = first >= keeping, r.only(waiting)
		now := draws[:min(batch, len(draws))]
		runs := make([][]outcome, len(now))
		if err := workers.Each(ctx, len(now), nil, func(i int) { runs[i] = r.move(in, now[i], rooms) }); err != nil {
			return err
		}
		r.tally(runs, waiting)
		draws = draws[len(now):]
	}
	return nil
}

// waiting lists the findings that are fine and still wait for the rule's answer.
func (r *reruns) waiting() (list []int) {
	for i := range r.base.Findings {
		if r.waits(i) {
			list = append(list, i)
		}
	}
	return list
}

// every lists all findings.
func (r *reruns) every() []int {
	list := make([]int, len(r.base.Findings))
	for i := range list {
		list[i] = i
	}
	return list
}

// stageOf is the analysis that a finding of the base run is read off.
func (r *reruns) stageOf(i int) (at stage) {
	for i >= r.base.ends[at] {
		at++
	}
	return at
}

// only lists what findings are read off of those that the home is served by; nil where one of
// them takes all.
func (r *reruns) only(waiting []int) *service.Only {
	only := &service.Only{}
	for _, i := range waiting {
		switch at := r.stageOf(i); {
		case at == serving && !only.Add(r.base.Service, &r.base.Findings[i]):
			return nil
		case at > serving:
			only.AddInflow()
		}
	}
	return only
}

// waits reports whether a finding is fine, was run again, and has no answer yet.
func (r *reruns) waits(i int) bool {
	o := at(r.still, i)
	return o.arose && o.verdict == finding.Fine && r.base.Findings[i].Verdict == finding.Fine && r.counts[i].stands() == open
}

// tally counts draws, in their order, for those of some findings that have no answer yet: each
// stops where the rule stops it, whatever the others ask.
func (r *reruns) tally(runs [][]outcome, findings []int) {
	for _, run := range runs {
		for _, i := range findings {
			if c := &r.counts[i]; c.stands() == open {
				c.add(holds(&r.base.Findings[i], at(run, i)))
			}
		}
	}
}

// holds reports whether a draw bears a finding out: its verdict is the same. Something fine
// that draws nearer to its limit than a margin allows still keeps the limit, and that is
// what fine says.
func holds(f *finding.Finding, o outcome) bool {
	switch {
	case !o.arose:
		return false
	case f.Verdict == finding.Fine && o.verdict == finding.LookAt && f.Sense != finding.NoLimit && f.Limit.Dim != quantity.NoDim:
		return finding.Keeps(o.figure, o.limit, f.Sense)
	}
	return o.verdict == f.Verdict
}

// move evaluates one move. One that leads to a job that cannot be built or solved gives nil.
func (r *reruns) move(in Input, m move, rooms *sync.Pool) []outcome {
	in, err := in.moved(r.leaves, m)
	if err != nil {
		return nil
	}
	room := rooms.Get().(*[]finding.Finding)
	defer rooms.Put(room)
	in.room, in.from = (*room)[:0], r.felt(m)
	a, err := evaluate(in, false)
	if err != nil {
		return nil
	}
	*room = a.Findings
	return r.known.read(a.Findings)
}

// figures is what a finding's figure was in the draws that ran everything; a draw in which it
// did not arise tells nothing.
func (r *reruns) figures(f *finding.Finding) []float64 {
	k, known := r.known.at[keyOf(f)]
	if !known {
		return nil
	}
	var list []float64
	for _, run := range r.drawn {
		if o := at(run, k); o.arose {
			list = append(list, o.figure)
		}
	}
	return list
}

// felt is the first analysis that a move can change; with nothing moved all run again.
func (r *reruns) felt(m move) stage {
	first, still := keeping, true
	for i := range r.leaves {
		if _, moves := m[r.leaves[i].Path]; moves {
			first, still = min(first, r.from[i]), false
		}
	}
	if still {
		return laying
	}
	return first
}

// fieldsOf are the fields that a leaf moves.
func fieldsOf(l *job.Leaf) []string {
	paths := make([]string, len(l.Moves))
	for i := range l.Moves {
		paths[i] = l.Moves[i].Path
	}
	return paths
}

// key identifies a finding across runs.
type key struct{ id, where, mode string }

func keyOf(f *finding.Finding) key { return key{f.ID, f.Where, f.Mode} }

// ledger says which finding of the base run has a key, and how many there are: two with one key
// would be a fault, and the second then has no rerun of its own.
type ledger struct {
	at    map[key]int
	count int
}

func know(list []finding.Finding) ledger {
	l := ledger{make(map[key]int, len(list)), len(list)}
	for i := range list {
		l.at[keyOf(&list[i])] = i
	}
	return l
}

// read sorts what a rerun found under the findings of the base run.
func (l ledger) read(list []finding.Finding) []outcome {
	out := make([]outcome, l.count)
	for i := range list {
		if k, known := l.at[keyOf(&list[i])]; known {
			out[k] = outcome{list[i].Figure.SI, list[i].Limit.SI, list[i].Verdict, true}
		}
	}
	return out
}
