package appraise

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/workers"
)

// nearest is how many of a finding's cures that come near without clearing it are paired: each with
// each other, three pairs at the most.
const nearest = 3

// pairs tries two changes at once for the findings asked for that no single one clears: of those
// cures that bring the figure nearer to its limit the nearest, each with each other. The first
// pair that holds for the whole job is offered.
func (r *reruns) pairs(ctx context.Context, in Input, asked []bool) error {
	of := make([][][]job.Edit, len(asked)) // per finding
	var tries [][]job.Edit
	for i := range asked {
		if !asked[i] || r.cleared(i) {
			continue
		}
		of[i] = r.paired(i)
		for _, edits := range of[i] {
			if key := fmt.Sprintf("%q", edits); r.number[key] == 0 {
				tries = append(tries, edits)
				r.number[key] = len(r.after) + len(tries)
			}
		}
	}
	if len(tries) == 0 {
		return nil
	}
	from, first := in.after(r.base), len(r.after)
	r.after = append(r.after, make([]*Appraisal, len(tries))...)
	err := workers.Each(ctx, len(tries), nil, func(k int) { r.after[first+k] = attempt(from, tries[k]) })
	if err != nil {
		return err
	}
	b := newBench(in, r)
	return workers.Each(ctx, len(asked), nil, func(i int) {
		f := &r.base.Findings[i]
		for _, edits := range of[i] {
			m := r.helps(i, edits)
			if m == nil {
				continue
			}
			if t := b.try(ctx, edits); t != nil {
				b.past.hold(m, t)
				f.Remedies = []finding.Remedy{*m}
				return
			}
		}
	})
}

// cleared reports whether one cure alone clears finding i, by the taps.
func (r *reruns) cleared(i int) bool {
	return slices.ContainsFunc(r.base.Findings[i].Cures, func(edits []job.Edit) bool { return r.helps(i, edits) != nil })
}

// paired are the pairs worth trying for finding i, those of the nearest cures first.
func (r *reruns) paired(i int) (list [][]job.Edit) {
	type near struct {
		edits []job.Edit
		left  float64
	}
	f := &r.base.Findings[i]
	if f.Limit.Dim == quantity.NoDim || f.Figure.Dim != f.Limit.Dim {
		return nil
	}
	var cures []near
	for _, edits := range f.Cures {
		tried := r.after[r.number[fmt.Sprintf("%q", edits)]-1]
		if tried == nil {
			continue
		}
		now := r.known.read(tried.Findings)[i]
		if left := math.Abs(now.figure - now.limit); now.arose && left < math.Abs(f.Figure.SI-f.Limit.SI) {
			cures = append(cures, near{edits, left})
		}
	}
	slices.SortStableFunc(cures, func(a, b near) int { return cmp.Compare(a.left, b.left) })
	cures = cures[:min(len(cures), nearest)]
	for k := range cures {
		for _, other := range cures[k+1:] {
			if unlike(cures[k].edits, other.edits) {
				list = append(list, slices.Concat(cures[k].edits, other.edits))
			}
		}
	}
	return list
}

// unlike reports whether two lists of edits touch no field in common.
func unlike(a, b []job.Edit) bool {
	paths := pathsOf(b)
	return !slices.ContainsFunc(a, func(e job.Edit) bool { return slices.Contains(paths, e.Path) })
}
