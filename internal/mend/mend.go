// Package mend puts the choices of a job right: it tries what the findings themselves
// suggest, and what its caller would try next, until nothing must be fixed or nothing
// helps.
//
// Stage: above the appraisal. It takes a job file that was read and gives another; every
// step is an edit of the file that was tried. It prints nothing and writes no file. Same
// file, same steps.
package mend

import (
	"context"
	"slices"

	"tideover/internal/appraise"
	"tideover/internal/catalogue"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// rounds is how many steps are taken at most.
const rounds = 24

// Ladder gives further edits worth trying for a finding that must be fixed, in order.
type Ladder func(doc *job.Doc, must *finding.Finding) [][]job.Edit

// Mended is a job as it came out.
type Mended struct {
	Doc       *job.Doc
	Appraisal *appraise.Appraisal
	Edits     []job.Edit         // that were made, in order
	Must      []*finding.Finding // what still must be fixed: none where it went well

	in appraise.Input
}

// Mend takes the first edit that leaves less to fix, and again, until nothing is left or
// nothing helps. The error is the context's, or that the job cannot be laid out.
func Mend(ctx context.Context, rows *catalogue.Catalogue, doc *job.Doc, ladder Ladder) (*Mended, error) {
	in, err := appraise.NewInput(rows, doc)
	if err != nil {
		return nil, err
	}
	at, err := judge(ctx, in)
	if err != nil {
		return nil, err
	}
	for range rounds {
		if len(at.Must) == 0 {
			break
		}
		next, err := better(ctx, at, ladder)
		if err != nil {
			return nil, err
		}
		if next == nil {
			break
		}
		next.Edits = append(slices.Clone(at.Edits), next.Edits...)
		at = next
	}
	return at, nil
}

// judge tries edits of a job, and proves its named settings where nothing else must be fixed:
// the look that decides is the one "check" takes.
func judge(ctx context.Context, in appraise.Input, edits ...job.Edit) (*Mended, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	t, err := appraise.Try(in.Within(ctx), edits...)
	if err != nil {
		return nil, err
	}
	m := &Mended{Doc: t.In.Doc, Appraisal: t.Appraisal, Must: mustFix(t.Findings), in: t.In}
	if len(m.Must) > 0 {
		return m, nil
	}
	promises, err := t.Prove(ctx)
	if err != nil {
		return nil, err
	}
	m.Must = mustFix(promises)
	return m, nil
}

// Wider are the edits that take the next two larger pipes of the job's own families, outdoors and
// indoors.
func Wider(rows *catalogue.Catalogue, doc *job.Doc) [][]job.Edit {
	var list [][]job.Edit
	p := &doc.Job.Pipework
	for _, run := range []struct {
		path string
		size quantity.Size
	}{{"pipework.outdoors", p.Outdoors}, {"pipework.indoors", p.Indoors}} {
		size := run.size
		for range 2 {
			next, ok := rows.Wider(size)
			if !ok {
				break
			}
			size = next
			list = append(list, []job.Edit{{Op: job.Set, Path: run.path, Text: size.String()}})
		}
	}
	return list
}

// mustFix lists what a design may not keep: what must be fixed, and an air gap that is not
// fine although another overflow or float valve makes it so. Whoever designs a tank chooses
// what is drilled into it, so that a gap which holds only with a clean screen, or one that
// nobody has worked out, is theirs to put right.
func mustFix(list []finding.Finding) []*finding.Finding {
	var must []*finding.Finding
	for i := range list {
		f := &list[i]
		if f.Verdict == finding.MustFix || f.ID == "air-gap" && f.Verdict != finding.Fine && len(f.Cures) > 0 {
			must = append(must, &list[i])
		}
	}
	return must
}

// better returns the job after the first change that leaves less to fix, or nil.
func better(ctx context.Context, at *Mended, ladder Ladder) (*Mended, error) {
	var tried [][]job.Edit
	for _, must := range at.Must {
		for _, edits := range append(slices.Clone(must.Cures), ladder(at.Doc, must)...) {
			if slices.ContainsFunc(tried, func(t []job.Edit) bool { return slices.Equal(t, edits) }) {
				continue
			}
			tried = append(tried, edits)
			after, err := judge(ctx, at.in, edits...)
			switch {
			case ctx.Err() != nil:
				return nil, ctx.Err()
			case err != nil: // a change this job does not take, or a design that cannot be laid out
			case worth(at) > worth(after):
				after.Edits = edits
				return after, nil
			}
		}
	}
	return nil, nil
}

// worth is how far a job is from having nothing to fix: by count, then by rank.
func worth(m *Mended) int {
	sum := 0
	for _, one := range m.Must {
		sum += 10 + 9 - min(one.Rank, 9)
	}
	return sum
}
