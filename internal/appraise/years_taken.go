package appraise

import (
	"context"
	"slices"

	"tideover/internal/finding"
)

// OfYears reports whether a finding comes of years lived through.
func OfYears(id string) bool {
	switch id {
	case "ride-through", "water-age", "size-window", "seasons-hopeless", "store-residual", "store-standing", "store-warm", "store-freeze", "carry-lived":
		return true
	}
	return false
}

// AddYears has a short run of years lived through and returns the appraisal with what came of
// them. That they could not be lived (a log that cannot be read, nothing stored) is no
// reason to give nothing: the appraisal then says why. The error is the context's.
func AddYears(ctx context.Context, in Input, a *Appraisal, logs Logs, tell func(done, total int)) (*Appraisal, error) {
	y, err := LiveThrough(ctx, in, YearsAsk{Brief: true, Logs: logs}, tell)
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	if y == nil {
		return a.Take(nil, err), nil
	}
	return a.HoldTo(ctx, in, y, logs)
}

// replaces reports whether the years lived through judge what plain arithmetic judged: one
// question has one answer. Where they say nothing of the age of the water, the arithmetic stays.
func (y *Years) replaces(f finding.Finding) bool {
	switch f.ID {
	case "carry-time":
		return true
	case "turnover":
		return slices.ContainsFunc(y.Findings, func(g finding.Finding) bool { return g.ID == "water-age" && g.Verdict != finding.NotJudged })
	}
	return false
}

// Take returns an appraisal with the years that were lived through, or with why they could
// not be: their findings among its own, and how long the store lasts and how old its water is
// off them in place of the plain arithmetic. The appraisal itself stays as it is: others may be reading it.
func (a *Appraisal) Take(y *Years, why error) *Appraisal {
	with := *a
	with.Years, with.Unlived = y, why
	if y == nil {
		return &with
	}
	with.Findings = slices.DeleteFunc(slices.Clone(a.Findings), y.replaces)
	with.Findings = append(with.Findings, y.Findings...)
	finding.Order(with.Findings)
	with.Verdict = finding.Overall(with.Findings)
	return &with
}
