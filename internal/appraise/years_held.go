package appraise

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/seasons"
)

// mostHeld is how many changes are lived through years, those of what matters most first: each
// takes up to a second. The others say that they were not.
const mostHeld = 8

// What of the years counts as worse on the same futures. Judgement: less than that, nobody in
// the home would notice.
const (
	fewerRidden = 0.01 // share of the interruptions
	olderWater  = 0.05 // of its mean age
	shorterOf   = 0.05 // of the litres short
	leastShort  = 0.05 // m³ a year
)

// HoldTo takes years that were lived through into an appraisal, and holds its remedies to them:
// the job's own store lives the same few futures with each and without. What gets worse is named;
// a remedy that puts something in need of fixing is none. Those for what the years judge in place
// of plain arithmetic are offered for that where they clear it there too. The error is the
// context's.
func (a *Appraisal) HoldTo(ctx context.Context, in Input, y *Years, logs Logs) (*Appraisal, error) {
	h := &holding{ctx: ctx, in: in, logs: logs, with: map[string]*Years{}}
	own := *y
	own.Findings = slices.Clone(y.Findings)
	list := slices.Clone(a.Findings)
	for i := range list {
		f := &list[i]
		f.Remedies = h.all(f.Remedies)
		if k := slices.IndexFunc(own.Findings, func(g finding.Finding) bool { return g.ID == livedFor[f.ID] }); k >= 0 && y.replaces(*f) {
			own.Findings[k].Remedies = h.clear(f.Remedies, &own.Findings[k])
		}
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	held := *a
	held.Findings = list
	return held.Take(&own, nil), nil
}

// livedFor names the finding of the years that judges what plain arithmetic judged.
var livedFor = map[string]string{"turnover": "water-age", "carry-time": "carry-lived"}

// Awaits reports whether a remedy is not to be offered before it was held to years: one for what
// years judge in place of plain arithmetic, as long as they were not lived.
func (a *Appraisal) Awaits(f *finding.Finding, m *finding.Remedy) bool {
	return a.Years == nil && a.Unlived == nil && livedFor[f.ID] != "" && slices.Contains(m.Open, "years")
}

// holding holds remedies to years.
type holding struct {
	ctx  context.Context
	in   Input
	logs Logs
	base *Years            // as the job is; lived when the first remedy asks
	with map[string]*Years // by edits; nil where they could not be lived
}

// all holds remedies of one finding and keeps those that stand the years.
func (h *holding) all(list []finding.Remedy) []finding.Remedy {
	var kept []finding.Remedy
	for _, m := range list {
		if slices.Contains(m.Open, "years") && !h.one(&m) {
			continue
		}
		kept = append(kept, m)
	}
	return kept
}

// one holds a remedy; false where the years then have something to fix that they had not.
func (h *holding) one(m *finding.Remedy) bool {
	now := h.lives(m.Edits)
	if now == nil || h.base == nil {
		return true // it says that it was not held to them
	}
	m.Open = slices.DeleteFunc(slices.Clone(m.Open), func(id string) bool { return id == "years" })
	m.Worse = slices.Clone(m.Worse)
	for i := range now.Findings {
		f := &now.Findings[i]
		was := finding.Fine
		if old := h.base.finding(f.ID); old != nil {
			was = old.Verdict
		}
		switch {
		case f.ID == "size-window": // of other sizes
		case !worse(was, f.Verdict) && !(f.ID == "ride-through" && h.base.rides(now)) && !(f.ID == "water-age" && h.base.older(now)):
		case f.Verdict == finding.MustFix && was != finding.MustFix:
			return false
		default:
			m.Worse = append(m.Worse, f.Key())
		}
	}
	return true
}

// clear keeps of remedies held those that clear a finding of the years too.
func (h *holding) clear(list []finding.Remedy, f *finding.Finding) []finding.Remedy {
	var kept []finding.Remedy
	for _, m := range list {
		now := h.with[fmt.Sprintf("%q", m.Edits)]
		if now == nil {
			continue
		}
		if g := now.finding(f.ID); g != nil && g.Verdict == finding.Fine && f.Verdict != finding.Fine {
			m.Figure, m.Close = g.Figure, false
			kept = append(kept, m)
		}
	}
	return kept
}

// lives lives the job with edits, and the job as it is before the first; nil where that cannot be
// done, or enough was.
func (h *holding) lives(edits []job.Edit) *Years {
	key := fmt.Sprintf("%q", edits)
	if y, lived := h.with[key]; lived {
		return y
	}
	if h.base == nil && len(h.with) == 0 {
		h.base = h.live(h.in, 0)
	}
	if h.base == nil || len(h.with) >= mostHeld || h.ctx.Err() != nil {
		return nil
	}
	h.with[key] = nil
	next, err := h.in.With(edits...)
	if err != nil {
		return nil
	}
	h.with[key] = h.live(next, h.base.Answer.Futures)
	return h.with[key]
}

// live lives the own store of a job through a few futures; nil where it cannot.
func (h *holding) live(in Input, futures int) *Years {
	y, err := LiveThrough(h.ctx, in, YearsAsk{Brief: true, Logs: h.logs, alone: true, futures: futures}, nil)
	if err != nil {
		return nil
	}
	return y
}

// finding is the one of a kind, or nil.
func (y *Years) finding(id string) *finding.Finding {
	for i := range y.Findings {
		if y.Findings[i].ID == id {
			return &y.Findings[i]
		}
	}
	return nil
}

// rides reports whether fewer interruptions are ridden out, or more litres are short, in years
// lived on the same futures.
func (y *Years) rides(now *Years) bool {
	was, is := &y.Answer.Stores[y.Own].By, &now.Answer.Stores[now.Own].By
	short := is[seasons.ShortYear].Value - was[seasons.ShortYear].Value
	return is[seasons.RideThrough].Value < was[seasons.RideThrough].Value-fewerRidden || short > max(leastShort, shorterOf*was[seasons.ShortYear].Value)
}

// older reports whether the water is older in years lived on the same futures. An age that nobody
// could tell is none.
func (y *Years) older(now *Years) bool {
	was, is := y.Fresh[y.Own].Mean.Value, now.Fresh[now.Own].Mean.Value
	return is > (1+olderWater)*was || math.IsInf(is, 1) && !math.IsInf(was, 1)
}

// unlived lists the fields that years take no notice of; a path that ends in a dot stands for all
// below it. Every other may change what is lived.
// What the pump draws at is felt: it says how far down a store can be drawn.
var unlived = []string{"choices.heater-vessel", "choices.vessel."}

// yearsFeel reports whether years may be others with edits.
func yearsFeel(edits []job.Edit) bool {
	return slices.ContainsFunc(edits, func(e job.Edit) bool {
		f, known := job.FieldFor(e.Path)
		return !known || !slices.ContainsFunc(unlived, func(path string) bool {
			return f.Path == path || strings.HasSuffix(path, ".") && strings.HasPrefix(f.Path, path)
		})
	})
}
