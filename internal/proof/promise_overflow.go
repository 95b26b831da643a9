package proof

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/hydraulics"
	"tideover/internal/quantity"
)

// overflow: the overflow carries off what a broken float valve lets in at the night
// maximum, its screen half blocked, and the air gap still stands above the water.
type overflow struct{}

// About says what is promised.
func (overflow) About() About {
	return About{ID: "overflow", Kind: Sign, Spread: EveryCase, Safety: true, Source: "en-1717"}
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
		q := float64(v.Flow(f))
		if !v.Solved() {
			return unjudged("no-answer")
		}
		w, ok := in.spill(in.Assembly.Fills(f))
		switch {
		case !ok:
			return unjudged("no-overflow-bore")
		case w.Needs <= 0:
			return unjudged("no-air-gap-rule")
		}
		if q > trickle && v.Upset(circuit.OverflowBlocked, circuit.ScreensBlocked) {
			left := 0.0 // the mouth goes under
			if exact {
				left = math.Min(0, w.Inlet-w.Lip-w.Head(q))
			}
			return least(quantity.LengthDim, left, w.Needs, w.Store)
		}
		if !exact {
			j := least(quantity.FlowDim, in.carried()[in.Assembly.Fills(f)], q, w.Store) // by flow alone: no figure to show
			return Judgement{Outcome: j.Outcome, Margin: j.Margin, Where: w.Store}
		}
		return least(quantity.LengthDim, w.Inlet-w.Lip-w.Head(q), w.Needs, w.Store)
	}
	return none()
}

// full asks whether the store under a float valve is full.
func (in *Input) full(v *View, float int) bool {
	if h := in.Assembly.Header(); h >= 0 && in.Assembly.Fills(float) == h {
		return v.Header(Full)
	}
	return v.Store(Full)
}

// carries is what the overflow of each store carries.
func (in *Input) carries() map[int]float64 {
	all := map[int]float64{}
	for _, s := range in.Assembly.Of(assembly.Store) {
		w, _ := in.spill(s)
		all[s] = w.carries()
	}
	return all
}

// spillMost is more than any float valve passes [m³/s].
const spillMost = 0.02

// carries is the greatest inflow with which the air gap still stands [m³/s], −1 when it
// does not even with none. What the water stands over the lip rises with the flow, so that
// halving finds it, to a hundredth of a litre per hour.
func (w Spill) carries() float64 {
	stands := func(q float64) bool { return w.Inlet-w.Lip-w.Head(q) >= w.Needs }
	if !stands(0) {
		return -1
	}
	lo, hi := 0.0, spillMost
	for hi-lo > 2e-9 {
		if q := (lo + hi) / 2; stands(q) {
			lo = q
		} else {
			hi = q
		}
	}
	return lo
}

// screenOpen is the share of the overflow's screen that is free when it is half blocked:
// fine mesh leaves 0.4 of its area, half of that is left (an assumption).
const screenOpen = 0.2

// flush is the loss at the entry of an overflow cut flush with the wall.
const flush = 0.5

// Head is how high the water stands over the bottom of the overflow's bore when q [m³/s]
// runs off [m]: what the pipe itself needs or, if more, what the screen holds up with what
// entering costs on top.
func (w Spill) Head(q float64) float64 {
	pipe := w.Pipe.Head(q)
	y, err := hydraulics.ScreenHead(w.Store, w.Pipe.Bore, screenOpen, q)
	if err != nil {
		return math.Inf(1)
	}
	return math.Max(pipe, y+w.entering(q, y))
}

// entering is the velocity head and the loss at the entry with the bore filled to y [m].
func (w Spill) entering(q, y float64) float64 {
	r := w.Pipe.Bore / 2
	section := math.Pi * r * r
	if y < 2*r && y > 0 {
		half := math.Acos(1 - y/r)
		section = r * r * (half - math.Sin(half)*math.Cos(half))
	}
	v := q / section
	if !(section > 0) {
		v = 0
	}
	return (1 + flush) * v * v / (2 * hydraulics.Gravity)
}

// Spill is a store's overflow with what matters about it.
type Spill struct {
	Store      string
	Pipe       hydraulics.Overflow
	Inlet, Lip float64 // m above the base: the float valve's mouth, the bottom of the overflow's bore
	Needs      float64 // air gap the local rules ask for [m]; 0: blank
	Bore       float64 // of the feed [m]
}

// spill reads the overflow of a store. Linked stores do not count as a second overflow: the
// link is narrow.
func (in *Input) spill(s int) (Spill, bool) {
	row, ok := in.storeRow(s)
	if !ok {
		return Spill{}, false
	}
	w := Spill{Store: in.tag(s), Inlet: float64(row.Inlet), Lip: float64(row.Overflow)}
	bore := row.OverflowBore
	if given := in.overflowGiven(s); given > 0 {
		bore = given
	}
	pipe, err := hydraulics.NewOverflow(w.Store, float64(bore), flush, 1)
	if err != nil {
		return w, false
	}
	w.Pipe = pipe
	role := assembly.Feed
	if s == in.Assembly.Header() {
		role = assembly.Boost // what the pump lifts comes by the pipe from it
	}
	for i := range in.Assembly.Parts {
		if r, is := in.Assembly.Parts[i].Row.(catalogue.Pipe); is && in.Assembly.Parts[i].Role == role {
			w.Bore = math.Max(w.Bore, float64(r.Bore))
		}
	}
	k, g := in.Profile.Rule("air-gap-factor"), in.Profile.Rule("air-gap-least")
	if k.Set && g.Set {
		w.Needs = math.Max(k.Value*w.Bore, g.Value) // EN 1717's form, as the air-gap finding
	}
	return w, true
}

// overflowGiven is the bore of a store's overflow as the job measured it; 0 where it did not.
func (in *Input) overflowGiven(store int) quantity.Length {
	if store == in.Assembly.Header() {
		return in.Job.Choices.HeaderOver.V
	}
	return in.Job.Choices.Overflow.V
}

// DrillLip is how high above the base the bottom of the overflow's bore may be at most,
// for the gap to stand with q [m³/s] running in [m].
func (w Spill) DrillLip(q float64) float64 { return w.Inlet - w.Needs - w.Head(q) }
