package appraise

import (
	"hash/fnv"
	"math"
	"math/rand/v2"
	"slices"
	"sort"

	"tideover/internal/assembly"
	"tideover/internal/assume"
	"tideover/internal/catalogue"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// move is one rerun: where each input stands between the ends of its range, from −1 to 1;
// an input that is not there is not moved.
type move map[string]float64

// outcome is what one rerun made of one finding.
type outcome struct {
	figure  float64
	limit   float64
	verdict finding.Verdict
	arose   bool
}

// spread fills Half, Moves, Held and Tried of every finding of base, by running the whole
// analysis again with inputs moved inside their spread:
//
//   - one input at a time to its ends (one whose spread is only assumed, to the end that is
//     farther away): the half-width of a figure is the root of the sum of the squared larger
//     shifts (independent inputs; ISO/IEC Guide 98-3:2008, eq. 10, with finite differences
//     for the sensitivities);
//   - all at once, to points drawn evenly over the ranges: how often the verdict is the same,
//     in as many draws as share.go's rule asks.
//
// A finding that does not come out again when nothing is moved was not run again: it has
// neither. One that is fine and does not hold in nine tenths is marked close, and, where harm
// or service hangs on it, is something to look at; but of those that fail in the same draws
// only the one that matters most: they are one matter.
func (r *reruns) spread() {
	if len(r.leaves) == 0 {
		return
	}
	var close []int
	for i := range r.base.Findings {
		f := &r.base.Findings[i]
		if o := at(r.still, i); !o.arose || o.verdict != f.Verdict {
			continue
		}
		widen(f, i, r.leaves, r.alone)
		f.Held, f.Tried = r.counts[i].held, r.counts[i].tried
		if f.Verdict == finding.Fine && r.counts[i].stands() != above {
			f.Close = true
			close = append(close, i)
		}
	}
	r.look(close)
	r.base.Moved, r.base.Unmoved = r.leaves, r.base.Job.Unmoved()
}

// look makes findings that are close, by their numbers, something to look at.
func (r *reruns) look(close []int) {
	list := r.base.Findings
	sort.SliceStable(close, func(i, j int) bool {
		a, b := &list[close[i]], &list[close[j]]
		if a.Rank != b.Rank {
			return a.Rank < b.Rank
		}
		return a.Held*b.Tried < b.Held*a.Tried
	})
	var said []int
	for _, i := range close {
		known := slices.ContainsFunc(said, func(k int) bool { return r.counts[i].with(&r.counts[k]) })
		if !known && finding.KindOf(list[i].ID).Weighs() {
			list[i].TooClose()
			said = append(said, i)
		}
	}
}

// Paths of the general uncertainties; they stand in Moves beside the paths of the job.
const (
	lossFactor   = "catalogue.fitting-losses"
	pumpFactor   = "catalogue.pump-head"
	floatFactor  = "catalogue.float-valves"
	outletFactor = "catalogue.outlets"
)

// Scatter of what the tables say of a float valve's seat and of a draw-off fully open: the
// orifice law with a coefficient of 0.7 holds to 15 % (theory manual, seat-kv), and a class
// of EN 200 is the least of what its taps give. Judgement, not seen at a source.
const (
	floatScatter  = 0.15
	outletScatter = 0.15
)

// inexact lists every input with a spread: the job's own, then the tables'.
func inexact(in Input, base *Appraisal) []job.Leaf {
	leaves := in.Job.Inexact()
	table := func(path string, half float64) {
		leaves = append(leaves, job.Leaf{Path: path, Taken: true, Moves: []job.Move{{Path: path, Down: half, Up: half}}})
	}
	if r := in.Profile.Rule("loss-scatter"); r.Set && r.Value > 0 {
		table(lossFactor, r.Value)
	}
	for _, i := range base.Assembly.Of(assembly.Pump) {
		if p, ok := base.Assembly.Parts[i].Row.(catalogue.Pump); ok && p.HeadBand > 0 {
			table(pumpFactor, p.HeadBand)
			break
		}
	}
	if len(base.Assembly.Of(assembly.FloatValve)) > 0 {
		table(floatFactor, floatScatter)
	}
	if len(base.Assembly.Of(assembly.Outlet)) > 0 {
		table(outletFactor, outletScatter)
	}
	return append(leaves, taken(in)...)
}

// atOnce lists, mode by mode, the outlets the base run took as open at once.
func atOnce(base *Appraisal) map[string][]string {
	tags := map[string][]string{}
	for _, m := range base.Service.Modes {
		for _, d := range m.Together {
			tags[m.ID] = append(tags[m.ID], d.Outlet)
		}
	}
	return tags
}

// moved returns the input with each leaf that moves at its new place.
func (in Input) moved(leaves []job.Leaf, m move) (Input, error) {
	var shifts []job.Shift
	var assumed assume.Values
	for i := range leaves {
		l := &leaves[i]
		x, moves := m[l.Path]
		if !moves {
			continue
		}
		switch by := l.At(x); l.Path {
		case lossFactor:
			in.Factors.Losses = by[0].V
		case pumpFactor:
			in.Factors.Pump = by[0].V
		case floatFactor:
			in.Factors.Floats = by[0].V
		case outletFactor:
			in.Factors.Outlets = by[0].V
		default:
			if a := takenAt(l.Path); a == nil {
				shifts = append(shifts, by...)
			} else if assumed == nil {
				assumed = assume.Values{a.Key: a.Value + by[0].V}
			} else {
				assumed[a.Key] = a.Value + by[0].V
			}
		}
	}
	var err error
	if in.Job, err = in.Job.Shifted(shifts...); err == nil && assumed != nil {
		in.Job.Assumed = assumed // Shifted gave a copy
	}
	return in, err
}

// ends lists where a leaf is moved to alone: to both its ends, or, where its spread is only
// assumed, to the one that is farther away or, of the tables' own, to the worse.
func ends(l *job.Leaf) []float64 {
	m := l.Moves[0]
	switch {
	case !l.Taken:
		return []float64{-1, 1}
	case m.Down > m.Up || l.Path == pumpFactor || l.Path == floatFactor || l.Path == outletFactor:
		return []float64{-1} // less pump, less valve, less tap
	}
	return []float64{1}
}

// oneAtATime lists the moves of single leaves, and whose each is. Assumptions are moved alone only
// where the draws say that much hangs on them (foremost.go): there are as many as all the rest.
func oneAtATime(leaves []job.Leaf) (list []move, of []int) {
	for i := range leaves {
		if takenAt(leaves[i].Path) != nil {
			continue
		}
		for _, x := range ends(&leaves[i]) {
			list, of = append(list, move{leaves[i].Path: x}), append(of, i)
		}
	}
	return list, of
}

// drawn draws n points over the ranges of all leaves, evenly and independently. Each leaf
// has its own numbers, by its path: that another one moves as well changes none of them. The
// same seed gives the same points.
func drawn(leaves []job.Leaf, n int, seed uint64) []move {
	list := make([]move, n)
	for i := range list {
		list[i] = make(move, len(leaves))
	}
	for k := range leaves {
		h := fnv.New64a()
		h.Write([]byte(leaves[k].Path))
		rng := rand.New(rand.NewPCG(seed, h.Sum64()))
		for i := range list {
			list[i][leaves[k].Path] = leaves[k].Across(rng.Float64())
		}
	}
	return list
}

// widen reads the half-width of finding k, and what moves it or its limit, off the moves of
// single leaves.
func widen(f *finding.Finding, k int, leaves []job.Leaf, alone [][][]outcome) {
	sum := 0.0
	type pull struct {
		path string
		size float64
	}
	var pulls []pull
	for i := range leaves {
		size, room := 0.0, 0.0
		for _, run := range alone[i] {
			o := at(run, k)
			size = math.Max(size, shift(o, o.figure, f.Figure.SI))
			if by := o.limit - f.Limit.SI; math.Abs(by) > noise*math.Abs(f.Limit.SI) {
				room = math.Max(room, shift(o, o.figure-by, f.Figure.SI))
			}
		}
		sum += float64(size * size)
		if pulled := math.Max(size, room); pulled > 0 {
			pulls = append(pulls, pull{leaves[i].Path, pulled})
		}
	}
	f.Figure.Half = math.Sqrt(sum)
	sort.SliceStable(pulls, func(i, j int) bool { return pulls[i].size > pulls[j].size })
	f.Moves = f.Moves[:0:0]
	for _, p := range pulls {
		f.Moves = append(f.Moves, p.path)
	}
}

// narrow marks a cure that leaves less room than the half-width of the figure, which is taken
// to go with the figure: draws for each cure would cost more than all the rest.
func narrow(f *finding.Finding, m *finding.Remedy) {
	if m.Figure.Dim == quantity.NoDim || f.Sense == finding.NoLimit || f.Limit.Dim == quantity.NoDim {
		return
	}
	half := f.Figure.Half
	if f.Figure.SI != 0 && !math.IsInf(f.Figure.SI, 0) {
		half *= math.Abs(m.Figure.SI / f.Figure.SI)
	}
	room := m.Figure.SI - f.Limit.SI
	if f.Sense == finding.AtMost {
		room = -room
	}
	m.Close = room < half
}

// at is the outcome of finding k in a rerun, which is empty where the job could not be built.
func at(run []outcome, k int) outcome {
	if run == nil {
		return outcome{}
	}
	return run[k]
}

// noise is the share of a figure below which a shift is the solver's own rounding (a
// pump speed is found to about 1e-9), not the input's doing.
const noise = 1e-6

// shift is how far a rerun moved a figure; 0 where either is not finite (a refill that never
// ends stays one), where the finding did not arise, or within the noise.
func shift(o outcome, now, was float64) float64 {
	d := math.Abs(now - was)
	if math.IsNaN(d) || math.IsInf(d, 0) || !o.arose || d <= noise*math.Max(math.Abs(was), math.Abs(now)) {
		return 0
	}
	return d
}
