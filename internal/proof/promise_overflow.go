package proof

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/circuit"
	"tideover/internal/finding"
	"tideover/internal/quantity"
)

// overflow: the overflow carries off what a broken float valve lets in at the night
// maximum, its screen half blocked, and the air gap still stands above the water.
type overflow struct{}

// About says what is promised.
func (overflow) About() About {
	return About{ID: "overflow", Kind: Sign, Spread: EveryCase, Safety: true, Source: "en-1717-gap"}
}

// Judge asks whether the float valve passes more, although the store is full, than the
// overflow carries with the gap still standing.
func (o overflow) Judge(v *View) Judgement { return o.judge(v, false) }

// Measure works out what is left of the gap.
func (o overflow) Measure(v *View) Judgement { return o.judge(v, true) }

func (overflow) judge(v *View, exact bool) Judgement {
	in := v.Input()
	for _, f := range in.Assembly.Of(assembly.FloatValve) {
		if !v.Failed(f, "float-broken-off", "float-passing") || !in.full(v, f) {
			continue
		}
		w, ok := in.spill(in.Assembly.Fills(f))
		switch {
		case !ok:
			return unjudged("no-overflow-bore")
		case w.Needs <= 0:
			return unjudged("no-air-gap-rule")
		}
		if carried := in.carried()[in.Assembly.Fills(f)]; !exact && !v.Upset(circuit.OverflowBlocked, circuit.ScreensBlocked) {
			if q, ok := v.FlowTight(f); ok && float64(q) <= carried*nearly { // open drains only take from what the float lets in
				return Judgement{Outcome: Kept, Margin: carried - float64(q), Where: w.Store}
			}
		}
		q := float64(v.Flow(f))
		if !v.Solved() {
			return unjudged("no-answer")
		}
		if q > trickle && v.Upset(circuit.OverflowBlocked, circuit.ScreensBlocked) {
			w.By = "none"
			if !exact { // the mouth goes under
				return air(math.Min(0, w.Left(q, nil)), w)
			}
		}
		if !exact {
			j := least(quantity.FlowDim, in.carried()[in.Assembly.Fills(f)], q, w.Store) // by flow alone: no figure to show
			return Judgement{Outcome: j.Outcome, Margin: j.Margin, Where: w.Store}
		}
		j := air(w.Left(q, nil), w)
		j.Flow = quantity.Flow(q)
		return j
	}
	return none()
}

// nearly keeps what a solver's tolerance could move from being taken for clear.
const nearly = 1 - 1e-6

// air holds what is left of the gap to what is needed.
func air(left float64, w circuit.Spill) Judgement {
	j := least(quantity.LengthDim, left, w.Needs, w.Store)
	j.Figure = finding.Air(quantity.Length(left))
	return j
}

// full asks whether the store under a float valve is full.
func (in *Input) full(v *View, float int) bool {
	if h := in.Assembly.Header(); h >= 0 && in.Assembly.Fills(float) == h {
		return v.Header(Full)
	}
	return v.Store(Full)
}

// carries is what the overflow of each store carries, its screen half blocked.
func (in *Input) carries() map[int]float64 {
	all := map[int]float64{}
	for _, s := range in.Assembly.Of(assembly.Store) {
		w, _ := in.spill(s)
		all[s] = w.Carries()
	}
	return all
}

// spill is the overflow of a store, its screen half blocked: the law is the one that the air
// gap is judged by.
func (in *Input) spill(s int) (circuit.Spill, bool) {
	w, ok := circuit.SpillOf(in.Assembly, in.Profile, s)
	return w.HalfBlocked(), ok && w.Known()
}
