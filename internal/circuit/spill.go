package circuit

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/assume"
	"tideover/internal/calc"
	"tideover/internal/catalogue"
	"tideover/internal/hydraulics"
	"tideover/internal/quantity"
)

// What is taken of overflows, each an assumption that is shown.
const (
	WideMesh  = 1.6  // of the bore's area that mesh in a housing twice as wide as the bore leaves free: 0.4 of it × 2²
	flushCut  = 0.5  // loss at the entry of an overflow cut flush with the wall
	SlotHigh  = 0.05 // m a slot is high under the lid, at least: more water over its sill than that leaves over the lid
	spillMost = 0.02 // m³/s, more than any float valve passes
)

// Spill is the overflow of a store, with what decides how much air is left under the float
// valve's mouth while water runs off.
type Spill struct {
	Store string  // tag
	By    string  // "pipe", "slot", "none"; "" nobody has looked
	Bore  float64 // of the pipe [m]; 0 not known
	Slot  float64 // width of the slot [m]; 0 not known
	Open  float64 // free area of the screen as a share of the bore's or the slot's; 0 no screen
	Taken bool    // nobody has looked at the screen: mesh across the mouth is taken

	Inlet float64 // float valve's mouth above the base [m]
	Lip   float64 // bottom of the bore, or sill of the slot, above the base [m]
	Rim   float64 // where water leaves by the lid [m]
	Feed  float64 // bore of the pipe that fills it [m]

	Factor, Least float64 // of the local rules: so many times Feed, but at least [m]; both 0: blank
	Needs         float64 // air gap they ask for [m]; 0: blank
}

// SpillOf reads how a store of an assembly lets off what it cannot hold. Linked stores do
// not count as a second overflow: the link is narrow. ok is false for what is no store.
func SpillOf(a *assembly.Assembly, p *catalogue.Profile, store int) (w Spill, ok bool) {
	part := &a.Parts[store]
	row, ok := part.Row.(catalogue.Store)
	if !ok {
		return w, false
	}
	w = Spill{Store: part.Tag, By: part.Spill.By, Bore: float64(part.Spill.Bore), Slot: float64(part.Spill.Slot),
		Inlet: float64(row.Inlet), Lip: float64(row.Overflow), Rim: float64(row.Height), Feed: float64(FeedBore(a, store))}
	switch part.Spill.Screen {
	case "none":
	case "wide":
		w.Open = WideMesh
	default:
		w.Open, w.Taken = assume.MeshOpen.In(a.Assumed), part.Spill.Screen == ""
	}
	k, g := p.Rule("air-gap-factor"), p.Rule("air-gap-least")
	if k.Set && g.Set {
		w.Factor, w.Least = k.Value, g.Value
		w.Needs = GapEq.Fn([]float64{w.Factor, w.Feed, w.Least})
	}
	return w, true
}

// FeedBore is the bore of the widest run that leads to a store's float valve: the cautious
// reading of "bore of the inlet". What a pump lifts into a header tank comes by the pipe from it.
func FeedBore(a *assembly.Assembly, store int) quantity.Length {
	role := assembly.Feed
	if store == a.Header() {
		role = assembly.Boost
	}
	bore := quantity.Length(0)
	for i := range a.Parts {
		if row, is := a.Parts[i].Row.(catalogue.Pipe); is && a.Parts[i].Role == role {
			bore = max(bore, row.Bore)
		}
	}
	return bore
}

// Known reports whether anybody can say what runs off: somebody has measured the overflow, or
// looked and found none.
func (w Spill) Known() bool {
	switch w.By {
	case "pipe":
		return w.Bore > 0
	case "slot":
		return w.Slot > 0
	}
	return w.By == "none"
}

// HalfBlocked is the overflow with half of its screen choked.
func (w Spill) HalfBlocked() Spill {
	w.Open /= 2
	return w
}

// Head is how high the water stands over the lip while q ≥ 0 [m³/s] runs off [m]; +Inf where
// nothing runs off but over the lid. sheet may be nil.
func (w Spill) Head(q float64, sheet *calc.Sheet) float64 {
	free := w.Open
	if free == 0 {
		free = 1
	}
	switch {
	case !(q > float64(quantity.Standing)): // less than tells from standing water stands over no lip
		return 0
	case w.By == "slot" && w.Slot > 0:
		h := sheet.Eval(hydraulics.SlotEq, w.Slot, math.Min(free, 1), q)
		if h > SlotHigh {
			return math.Inf(1)
		}
		return h
	case w.By == "pipe" && w.Bore > 0:
		y := 0.0
		if w.Open > 0 {
			y = sheet.Eval(hydraulics.ScreenEq, w.Bore, w.Open, q)
		}
		return sheet.Eval(hydraulics.SpillEq, w.Bore, flushCut, y, q)
	}
	return math.Inf(1)
}

// Left is the air under the float valve's mouth while q ≥ 0 [m³/s] runs in and off again [m]:
// negative when the mouth is under water, and then no more than the lid lets it be, over which
// the water leaves. sheet may be nil.
func (w Spill) Left(q float64, sheet *calc.Sheet) float64 {
	h := w.Head(q, sheet)
	return sheet.Eval(LeftEq, w.Inlet, w.Lip, math.Min(h, w.Rim-w.Lip), w.Rim)
}

// Carries is the greatest inflow with which the air gap still stands [m³/s], −1 when it does
// not even with none. What the water stands over the lip rises with the flow, so that halving
// finds it, to a hundredth of a litre per hour.
func (w Spill) Carries() float64 {
	stands := func(q float64) bool { return w.Left(q, nil) >= w.Needs }
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

// DrillLip is how high above the base the lip may be at most, for the gap to stand with
// q [m³/s] running [m]; −Inf where no height does.
func (w Spill) DrillLip(q float64) float64 { return w.Inlet - w.Needs - w.Head(q, nil) }

// The air gap, registered so that a finding can show it.
var (
	GapEq = calc.Register(calc.Equation{
		Key: "air-gap", Section: "Overflow",
		Title:   "Air gap asked for under a float valve's mouth",
		Formula: "g = max(k d, g_0)",
		Result:  calc.Symbol{Name: "g", Meaning: "least air gap", Dim: quantity.LengthDim, Unit: "m"},
		Args: []calc.Symbol{
			{Name: "k", Meaning: "factor of the local rules", Unit: "–"},
			{Name: "d", Meaning: "bore of the inlet", Dim: quantity.LengthDim, Unit: "m"},
			{Name: "g_0", Meaning: "least gap of the local rules", Dim: quantity.LengthDim, Unit: "m"},
		},
		Range:  "d > 0",
		Source: "form of EN 1717:2000 for free outlets; factor and least gap from the local-rules profile",
		Fn:     func(a []float64) float64 { return math.Max(a[0]*a[1], a[2]) },
	})
	LeftEq = calc.Register(calc.Equation{
		Key: "air-gap-left", Section: "Overflow",
		Title:   "Air left under a float valve's mouth while the overflow runs",
		Formula: "a = max(z_m − z_l − h, z_m − z_r)",
		Result:  calc.Symbol{Name: "a", Meaning: "air under the mouth; negative: the mouth is under water", Dim: quantity.LengthDim, Unit: "m"},
		Args: []calc.Symbol{
			{Name: "z_m", Meaning: "float valve's mouth above the base", Dim: quantity.LengthDim, Unit: "m"},
			{Name: "z_l", Meaning: "lip of the overflow above the base", Dim: quantity.LengthDim, Unit: "m"},
			{Name: "h", Meaning: "water over the lip", Dim: quantity.LengthDim, Unit: "m"},
			{Name: "z_r", Meaning: "lid above the base, over which water leaves at the latest", Dim: quantity.LengthDim, Unit: "m"},
		},
		Range:  "water at rest in the store but for what falls in; ripples are not counted",
		Source: "EN 1717:2000: an air gap is measured from the highest level, with the inlet full open",
		Fn:     func(a []float64) float64 { return math.Max(a[0]-a[1]-a[2], a[0]-a[3]) },
	})
)
