package appraise

import (
	"math"
	"math/rand/v2"
	"sort"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/finding"
	"tideover/internal/job"
)

// samples is how many points of the input range the share "stands" is counted over:
// enough to tell 80 % from 95 %, few enough to answer within a blink.
const samples = 32

// move is one rerun: inputs taken from their stated values.
type move struct{ paths map[string]float64 }

// outcome is what one rerun made of one finding.
type outcome struct {
	figure  float64
	verdict finding.Verdict
	arose   bool
}

// spread fills Half, Stands and Moves of every finding of base by running the whole
// analysis again with inputs moved inside their own spread:
//
//   - once up and once down for each inexact input by its half-width: the half-width of
//     a figure is the root of the sum of the squared larger shifts (independent inputs;
//     ISO/IEC Guide 98-3:2008, eq. 10, with finite differences for the sensitivities);
//   - at a fixed, seeded Latin hypercube of points over all inputs at once (McKay,
//     Beckman and Conover 1979): the share of points at which the verdict is the same.
func (r *reruns) spread() {
	if len(r.leaves) == 0 {
		return
	}
	for i := range r.base.Findings {
		widen(&r.base.Findings[i], i, r.leaves, r.moved)
	}
}

// Paths of the general uncertainties; they stand in Moves beside the paths of the job.
const (
	lossFactor = "catalogue.fitting-losses"
	pumpFactor = "catalogue.pump-head"
)

// inexact lists every input with a spread: the job's own, then the tables'.
func inexact(in Input, base *Appraisal) []job.Leaf {
	leaves := in.Job.Inexact()
	if r := in.Profile.Rule("loss-scatter"); r.Set && r.Value > 0 {
		leaves = append(leaves, job.Leaf{Path: lossFactor, Half: r.Value})
	}
	for _, i := range base.Assembly.Of(assembly.Pump) {
		if p, ok := base.Assembly.Parts[i].Row.(catalogue.Pump); ok && p.HeadBand > 0 {
			return append(leaves, job.Leaf{Path: pumpFactor, Half: p.HeadBand})
		}
	}
	return leaves
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

// moved returns the input with each path at its new value.
func (in Input) moved(paths map[string]float64) (Input, error) {
	shifts := make([]job.Shift, 0, len(paths))
	for _, path := range sortedPaths(paths) {
		v := paths[path]
		switch path {
		case lossFactor:
			in.Factors.Losses = v
		case pumpFactor:
			in.Factors.Pump = v
		default:
			shifts = append(shifts, job.Shift{Path: path, V: v})
		}
	}
	var err error
	in.Job, err = in.Job.WithAll(shifts...)
	return in, err
}

func oneAtATime(leaves []job.Leaf) []move {
	var list []move
	for _, l := range leaves {
		list = append(list, move{map[string]float64{l.Path: l.V - l.Half}}, move{map[string]float64{l.Path: l.V + l.Half}})
	}
	return list
}

// hypercube draws n points over the ranges of all leaves: each leaf's range is cut in n
// strips and each strip is used once. The same seed gives the same points.
func hypercube(leaves []job.Leaf, n int, seed uint64) []move {
	rng := rand.New(rand.NewPCG(seed, 0x7469646f76657200))
	list := make([]move, n)
	for i := range list {
		list[i].paths = make(map[string]float64, len(leaves))
	}
	for _, l := range leaves {
		for i, strip := range rng.Perm(n) {
			u := (float64(strip) + rng.Float64()) / float64(n)
			list[i].paths[l.Path] = l.V + l.Half*(2*u-1)
		}
	}
	return list
}

// widen reads the spread of finding k off the reruns: first two per leaf, then the samples.
func widen(f *finding.Finding, k int, leaves []job.Leaf, runs [][]outcome) {
	sum := 0.0
	type pull struct {
		path string
		size float64
	}
	var pulls []pull
	for i, l := range leaves {
		size := math.Max(shift(f, at(runs[2*i], k)), shift(f, at(runs[2*i+1], k)))
		if size > 0 {
			sum += float64(size * size)
			pulls = append(pulls, pull{l.Path, size})
		}
	}
	f.Figure.Half = math.Sqrt(sum)
	sort.SliceStable(pulls, func(i, j int) bool { return pulls[i].size > pulls[j].size })
	f.Moves = f.Moves[:0:0]
	for _, p := range pulls {
		f.Moves = append(f.Moves, p.path)
	}
	same, n := 0, 0
	for _, r := range runs[2*len(leaves):] {
		n++
		if o := at(r, k); o.arose && o.verdict == f.Verdict {
			same++
		}
	}
	f.Stands = float64(same) / float64(n)
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

// shift is how far a rerun moved the figure; 0 where either is not finite (a refill that
// never ends stays one), where the finding did not arise, or within the noise.
func shift(f *finding.Finding, o outcome) float64 {
	d := math.Abs(o.figure - f.Figure.SI)
	if math.IsNaN(d) || math.IsInf(d, 0) || !o.arose || d <= noise*math.Abs(f.Figure.SI) {
		return 0
	}
	return d
}

func sortedPaths(m map[string]float64) []string {
	list := make([]string, 0, len(m))
	for p := range m {
		list = append(list, p)
	}
	sort.Strings(list)
	return list
}
