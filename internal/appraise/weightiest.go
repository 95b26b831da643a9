package appraise

import (
	"context"
	"math"
	"slices"
	"sort"
	"sync"

	"tideover/internal/assume"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/workers"
)

// Weightiest are the few assumptions that a job hangs on most.
type Weightiest struct {
	List  []Rests
	Found int // so many of the list moved something here; the others come in the order of the register
	Drawn int // how many draws pointed at them
}

// mostWeighty is how many are told, and how many that the draws point at are moved alone: the draws
// say where to look (a correlation in a few dozen of them errs), the move alone says whether.
const mostWeighty = 3

// byChance is the square of a correlation, times the number of draws, from which on it is not taken
// for chance: three standard errors of one that is none (1/n).
const byChance = 9.0

// pull is what the draws show of one assumption.
type pull struct {
	leaf  int
	turns float64 // the most of how often a verdict turns that goes with it
	moves float64 // the most of a figure's scatter that goes with it, as a share of its limit
	end   float64 // the end that turns, or worsens, most: −1 or 1
}

// end is an assumption at one end of its range, as a leaf that moves.
type end struct {
	leaf job.Leaf
	at   float64 // −1 or 1
}

// weigh finds the assumptions that most hangs on: those that the draws of all inputs at once point
// at, each then moved alone to the end they point at, and what we ask of a home, which no draw moves,
// to the end that asks more.
func (r *reruns) weigh(ctx context.Context, in Input, draws []move, rooms *sync.Pool) error {
	ends := r.ends(in, draws)
	runs := make([][]outcome, len(ends))
	err := workers.Each(ctx, len(ends), nil, func(i int) {
		alone := *r
		alone.leaves, alone.from = []job.Leaf{ends[i].leaf}, []stage{readFrom(takenAt(ends[i].leaf.Path))}
		runs[i] = alone.move(in, move{ends[i].leaf.Path: ends[i].at}, rooms)
	})
	if err != nil {
		return err
	}
	w := &Weightiest{}
	for i := range r.counts {
		w.Drawn = max(w.Drawn, r.counts[i].tried)
	}
	for i, e := range ends {
		one := Rests{Assumption: takenAt(e.leaf.Path)}
		for k := range r.base.Findings {
			f := &r.base.Findings[k]
			if o := at(r.still, k); runs[i] != nil && o.arose && o.verdict == f.Verdict {
				one.feel(f, runs[i][k], one.Value+e.leaf.At(e.at)[0].V)
			}
		}
		if one.Felt || len(one.Turns) > 0 {
			w.List = append(w.List, one)
		}
	}
	weightiestFirst(w.List)
	w.List = w.List[:min(mostWeighty, len(w.List))]
	w.Found = len(w.List)
	w.fill(in)
	r.base.Weightiest = w
	return nil
}

// ends lists what is moved alone.
func (r *reruns) ends(in Input, draws []move) (list []end) {
	pulls := r.pulls(draws)
	for _, p := range pulls[:min(mostWeighty, len(pulls))] {
		list = append(list, end{r.leaves[p.leaf], p.end})
	}
	for _, a := range assume.All() {
		if a.Strict != 0 && readAgain(a) && !answered(in, a) {
			list = append(list, end{assumedLeaf(a), a.Strict})
		}
	}
	return list
}

// fill takes the rest in the order of the register: what the job does not tell and no rerun reads,
// for what it reads was looked at.
func (w *Weightiest) fill(in Input) {
	for _, a := range assume.Registered() {
		if len(w.List) < mostWeighty && !readAgain(a) && !answered(in, a) {
			w.List = append(w.List, Rests{Assumption: a, Years: yearsOnly(a)})
		}
	}
}

// pulls lists what the draws show of every assumption, the strongest first.
func (r *reruns) pulls(draws []move) (list []pull) {
	scatter := make([]sample, len(r.counts))
	for i := range scatter {
		scatter[i] = r.figure(i)
	}
	for k := range r.leaves {
		l := &r.leaves[k]
		if takenAt(l.Path) == nil {
			continue
		}
		stood := make([]float64, len(draws))
		for i := range stood {
			stood[i] = l.At(draws[i][l.Path])[0].V
		}
		p := pull{leaf: k}
		for i := range r.counts {
			p.turn(stood, &r.counts[i])
		}
		for i := range r.counts {
			p.move(stood, &r.base.Findings[i], &scatter[i])
		}
		if p.turns > 0 || p.moves > 0 {
			list = append(list, p)
		}
	}
	sort.SliceStable(list, func(i, j int) bool {
		if list[i].turns != list[j].turns {
			return list[i].turns > list[j].turns
		}
		return list[i].moves > list[j].moves
	})
	return list
}

// turn takes in how a verdict turns with where the assumption stood.
func (p *pull) turn(stood []float64, c *count) {
	failed := len(c.failed)
	if failed == 0 || failed == c.tried {
		return
	}
	turned := make([]float64, c.tried)
	for _, i := range c.failed {
		turned[i] = 1
	}
	g := newSample(turned).along(stood)
	if t := g * g * float64(failed) / float64(c.tried); g*g*float64(c.tried) >= byChance && t > p.turns {
		p.turns, p.end = t, math.Copysign(1, g)
	}
}

// move takes in how a figure moves with where the assumption stood, where no verdict turns.
func (p *pull) move(stood []float64, f *finding.Finding, s *sample) {
	if p.turns > 0 || s.sd == 0 || f.Sense == finding.NoLimit || f.Limit.SI == 0 {
		return
	}
	g := s.along(stood)
	if t := g * g * s.sd / math.Abs(f.Limit.SI); g*g*float64(len(s.off)) >= byChance && t > p.moves {
		p.moves, p.end = t, math.Copysign(1, g)
		if f.Sense == finding.AtLeast {
			p.end = -p.end
		}
	}
}

// figure is what the draws that ran everything made of a finding's figure; nothing, where one is
// not finite or the finding did not arise.
func (r *reruns) figure(i int) sample {
	list := make([]float64, len(r.drawn))
	for d := range r.drawn {
		o := at(r.drawn[d], i)
		if !o.arose || math.IsInf(o.figure, 0) || math.IsNaN(o.figure) {
			return sample{}
		}
		list[d] = o.figure
	}
	return newSample(list)
}

// sample is a list of values with their mean and how far they scatter.
type sample struct {
	off []float64 // less the mean
	sd  float64
}

func newSample(list []float64) sample {
	s := sample{off: list}
	s.sd = centre(s.off)
	return s
}

// centre takes the mean off a list and returns the root of its mean square; what scatters by the
// last bits alone does not.
func centre(list []float64) (sd float64) {
	mean := 0.0
	for _, x := range list {
		mean += x / float64(len(list))
	}
	for i := range list {
		list[i] -= mean
		sd += list[i] * list[i] / float64(len(list))
	}
	if sd = math.Sqrt(sd); sd <= noise*math.Abs(mean) {
		return 0
	}
	return sd
}

// along is the correlation of a sample with the first of a list of values, −1 to 1.
func (s sample) along(values []float64) (g float64) {
	other := slices.Clone(values[:len(s.off)])
	sd := centre(other)
	if sd == 0 || s.sd == 0 {
		return 0
	}
	for i := range other {
		g += other[i] * s.off[i] / float64(len(other))
	}
	return g / (sd * s.sd)
}
