// Package disinfect works out how much product puts how much chlorine into new work
// before anybody drinks from it: volumes, grams, millilitres, what is left in an old
// bottle, and what takes the chlorine out again.
//
// Stage: an analysis without a home. It takes bare volumes, a bottle and a regime, and
// gives a Dose with its calculation. It does not decide whether the work may be drunk
// from: a strip, and where the local code asks for one a laboratory sample, does.
//
// Left out: the demand of dirty pipes (the strip finds it), temperature in the bottle's
// ageing (one reference temperature is assumed and said), and the water inside a
// pressure vessel and a heater (the vessel is flushed, the heater stays isolated).
package disinfect

import (
	"fmt"
	"math"
	"time"

	"tideover/internal/calc"
	"tideover/internal/quantity"
)

// Pipe is a run whose water is dosed too.
type Pipe struct {
	Bore, Length quantity.Length
}

// Bottle is the product in the fitter's hand.
type Bottle struct {
	Strength   quantity.Ratio // on the label, 0..1: share of available chlorine
	Convention string         // "w/w": by mass; "w/v": kg per litre, the trade's "per cent"
	Bought     string         // ISO date, or "" when nobody knows
	Used       string         // ISO date of the work
}

// Regime is how strong and how long.
type Regime struct {
	Dose     quantity.Dose // free chlorine at the start
	Hold     quantity.Time // it stands in store and pipes
	Least    quantity.Dose // free chlorine that must be left at the end, else again; 0: no figure is known, but some must show
	Source   string
	Standing string // what that source is to this place

	Thiosulphate, Ascorbic float64 // kg that take out a kilogram of chlorine
}

// Cautious is the regime used where the local rules are blank: the longest hold of the
// codes for this dose.
var Cautious = Regime{Dose: 0.050, Hold: 24 * 3600, Source: "ipc-610-1", Standing: "default",
	Thiosulphate: thiosulphateRate, Ascorbic: ascorbicRate}

// The ages of a bottle, as ids.
const (
	AgeKnown   = "known"   // the date is known and the loss is counted
	AgeUnknown = "unknown" // no date: the dose is a fresh bottle's, which is never too strong; the strip must confirm it
	AgeOld     = "old"     // past the half-life: the bottle is refused, and the dose is a fresh one's
)

// Dose is what to measure out, and everything said about it.
type Dose struct {
	Bottle Bottle
	Regime Regime

	Store, Pipes, Water quantity.Volume
	Chlorine            quantity.Mass  // in all that water
	Granules            bool           // a solid: weigh Product; else pour Liquid
	Density             float64        // kg/m³ of a liquid; 0 for granules
	Age                 quantity.Time  // of the bottle; 0 when unknown
	AgeState            string         // AgeKnown, AgeUnknown, AgeOld
	Left                quantity.Ratio // share of the label's strength the dose counts on; 1 unless AgeKnown

	// Of a bottle that is refused there is no amount anywhere: what is to be poured is a
	// fresh one's, so that no reader of a Dose can print a figure nobody may use.

	LabelLiquid quantity.Volume // at the label's strength; 0 for granules
	LabelMass   quantity.Mass
	Liquid      quantity.Volume // to pour, with a known loss made up; 0 for granules
	Product     quantity.Mass   // to weigh, with a known loss made up

	Thiosulphate quantity.Mass // sodium thiosulphate crystals (pentahydrate) that take all of it out
	Ascorbic     quantity.Mass // or ascorbic acid

	Calc []calc.Step
}

// The range of label strengths this arithmetic covers.
const (
	weakest   = 0.01
	liquidTop = 0.20 // above it a product is granules
	strongest = 0.80
)

// Work returns the dose for a store and its pipes from one bottle. An error says which
// figure lies outside what the arithmetic covers.
func Work(store quantity.Volume, pipes []Pipe, b Bottle, r Regime) (*Dose, error) {
	if err := check(store, pipes, b, r); err != nil {
		return nil, err
	}
	age, state, err := b.age()
	if err != nil {
		return nil, err
	}
	s := &calc.Sheet{}
	d := &Dose{Bottle: b, Regime: r, Store: store, Age: age, AgeState: state, Granules: b.Strength > liquidTop}
	for _, p := range pipes {
		d.Pipes += quantity.Volume(s.Eval(PipeVolume, float64(p.Bore), float64(p.Length)))
	}
	d.Water = d.Store + d.Pipes
	d.Chlorine = quantity.Mass(s.Eval(ChlorineMass, float64(d.Water), float64(r.Dose)))
	d.Left = 1
	if state == AgeKnown && !d.Granules {
		d.fade(s)
	}
	d.measure(s)
	d.Thiosulphate = quantity.Mass(s.Eval(NeutraliserMass, r.Thiosulphate, float64(d.Chlorine)))
	d.Ascorbic = quantity.Mass(s.Eval(NeutraliserMass, r.Ascorbic, float64(d.Chlorine)))
	d.Calc = s.Steps
	return d, nil
}

// fade counts what the bottle has lost, as far as that can be reckoned: past its half-life
// it cannot, and the bottle is refused.
func (d *Dose) fade(s *calc.Sheet) {
	half := s.Eval(HalfLife, float64(d.Bottle.Strength))
	if float64(d.Age) > half {
		d.AgeState = AgeOld
		return
	}
	d.Left = quantity.Ratio(s.Eval(StrengthLeft, float64(d.Age), half))
}

// measure turns grams of chlorine into grams and millilitres of product, fresh and as
// the bottle is now.
func (d *Dose) measure(s *calc.Sheet) {
	m, w, left := float64(d.Chlorine), float64(d.Bottle.Strength), float64(d.Left)
	if d.Granules {
		d.LabelMass = quantity.Mass(s.Eval(ProductMass, m, w))
		d.Product = d.LabelMass
		return
	}
	d.Density = s.Eval(LiquidDensity, w)
	if d.Bottle.Convention == "w/v" {
		d.LabelLiquid = quantity.Volume(s.Eval(LiquidByVolume, m, w, 1))
		d.Liquid = quantity.Volume(s.Eval(LiquidByVolume, m, w, left))
	} else {
		d.LabelLiquid = quantity.Volume(s.Eval(LiquidByMass, m, w, d.Density, 1))
		d.Liquid = quantity.Volume(s.Eval(LiquidByMass, m, w, d.Density, left))
	}
	d.LabelMass = quantity.Mass(s.Eval(LiquidMass, d.Density, float64(d.LabelLiquid)))
	d.Product = quantity.Mass(s.Eval(LiquidMass, d.Density, float64(d.Liquid)))
}

func check(store quantity.Volume, pipes []Pipe, b Bottle, r Regime) error {
	switch w := float64(b.Strength); {
	case !(store > 0) || math.IsInf(float64(store), 0):
		return fmt.Errorf("disinfect: store volume %v m³: a finite volume above 0 is required", float64(store))
	case !(w >= weakest && w <= strongest):
		return fmt.Errorf("disinfect: strength %v: a share of 0.01 to 0.80 is covered", w)
	case b.Convention != "w/w" && b.Convention != "w/v":
		return fmt.Errorf("disinfect: convention %q: w/w or w/v is required", b.Convention)
	case b.Convention == "w/v" && w > liquidTop:
		return fmt.Errorf("disinfect: strength %v by volume: granules are labelled w/w, liquids reach 0.20", w)
	case !(r.Dose > 0 && r.Dose <= 0.2) || !(r.Hold > 0) || !(r.Least >= 0 && r.Least <= r.Dose) || !(r.Thiosulphate > 0 && r.Thiosulphate < 100) || !(r.Ascorbic > 0 && r.Ascorbic < 100):
		return fmt.Errorf("disinfect: regime %v kg/m³ for %v s, least %v: a dose up to 0.2 and a least not above it are required",
			float64(r.Dose), float64(r.Hold), float64(r.Least))
	}
	for i, p := range pipes {
		if !(p.Bore > 0 && p.Bore < 1) || !(p.Length >= 0 && p.Length < 1e5) {
			return fmt.Errorf("disinfect: pipe %d: bore %v m, length %v m: outside what is covered", i, float64(p.Bore), float64(p.Length))
		}
	}
	return nil
}

// age returns how old the bottle is on the day of the work. A date in the future or one
// that is no date is an error; a blank one is unknown.
func (b Bottle) age() (quantity.Time, string, error) {
	if b.Bought == "" || b.Used == "" {
		return 0, AgeUnknown, nil
	}
	from, err := time.Parse(time.DateOnly, b.Bought)
	if err != nil {
		return 0, "", fmt.Errorf("disinfect: date bought %q: a date like 2026-01-20 is required", b.Bought)
	}
	to, err := time.Parse(time.DateOnly, b.Used)
	if err != nil {
		return 0, "", fmt.Errorf("disinfect: date of the work %q: a date like 2026-01-20 is required", b.Used)
	}
	if to.Before(from) {
		return 0, "", fmt.Errorf("disinfect: the bottle was bought on %s, after the work on %s", b.Bought, b.Used)
	}
	return quantity.Time(to.Sub(from).Seconds()), AgeKnown, nil
}
