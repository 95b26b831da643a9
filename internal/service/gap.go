package service

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/calc"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/hydraulics"
	"tideover/internal/quantity"
)

// Gap is the air under the float valve's mouth of a store, with the valve full open and the
// overflow running: of the store that the main fills, or of the header tank that a pump fills.
type Gap struct {
	Store, Float string // tags
	Upper        bool   // the header tank's: what runs in is the store's own water
	Spill        circuit.Spill

	Known bool // somebody has said what the overflow is
	Flow  bool // the feed's flow certified at every hour that counts

	Most  quantity.Flow   // through the open float valve at the highest pressure told
	Hours string          // at which that is: "usual" or "night"; "lift" where a pump fills
	Left  quantity.Length // then; negative: the mouth is under water

	Usual     quantity.Flow   // at the usual pressure, as on the day of the hand-over
	UsualLeft quantity.Length //

	Broken   quantity.Flow   // Most with the valve broken off its arm, the seat alone left
	HalfLeft quantity.Length // with that, and the overflow's screen half blocked

	Calc []calc.Step // of Left; base run only
}

// gap works out what is left of the air gap at the flows that refills found. Nil where no
// main fills a store.
func (a *run) gap() {
	ci := a.ci.Assembly
	float, store := -1, -1
	for _, i := range ci.Of(assembly.FloatValve) {
		if s := ci.Fills(i); s >= 0 && s != ci.Header() && float < 0 {
			float, store = i, s
		}
	}
	if float < 0 {
		return
	}
	w := a.in.Spill
	if w.Store != ci.Parts[store].Tag {
		return
	}
	g := &Gap{Store: w.Store, Float: ci.Parts[float].Tag, Spill: w, Known: w.Known(), Flow: true}
	for i := range a.r.Refills {
		r := &a.r.Refills[i]
		switch {
		case r.Hours == "peak":
			continue
		case !r.Certified:
			g.Flow = false
		case r.Hours == "usual":
			g.Usual = r.Flow
		}
		if r.Certified && (r.Flow > g.Most || g.Hours == "") {
			g.Most, g.Hours = r.Flow, r.Hours
		}
	}
	if g.Flow && g.Most <= 0 {
		g.Most, g.Hours = a.mostInto(float), "night"
	}
	a.r.Gap = g
	a.left(g, float)
}

// upperGap is gap for the header tank: the most a pump lifts is with the store below it full, and
// at full speed unless a control holds it back: a switch only starts and stops it.
func (a *run) upperGap() {
	float := a.headerFloat()
	if float < 0 || a.ci.Pump() < 0 {
		return
	}
	g := &Gap{Store: a.in.UpperSpill.Store, Float: a.ci.Assembly.Parts[float].Tag, Upper: true, Hours: "lift",
		Spill: a.in.UpperSpill, Known: a.in.UpperSpill.Known()}
	clear(a.open)
	k := circuit.Case{Setting: 0, MainOff: true, Level: a.in.Full, Lifting: true, Open: a.open, Pump: circuit.Running}
	if a.control != nil && a.control.Kind == assembly.SpeedControl {
		k.Pump, k.Hold = circuit.Holding, a.control.Off
	}
	if err := a.s.Solve(&k); err == nil && a.s.OK() {
		g.Flow, g.Most = true, max(0, a.s.Flow(float))
	}
	g.Usual = g.Most
	a.r.UpperGap = g
	a.left(g, float)
}

// left works out what the overflow leaves at the flows found. Nothing where nobody has said what
// the overflow is.
func (a *run) left(g *Gap, float int) {
	w, ci := g.Spill, a.ci.Assembly
	if !g.Known {
		return
	}
	sheet := a.sheet()
	g.Left = quantity.Length(w.Left(float64(g.Most), sheet))
	if w.Needs > 0 {
		sheet.Eval(circuit.GapEq, w.Factor, w.Feed, w.Least)
	}
	g.Calc = steps(sheet)
	if !a.in.Unwitnessed { // read at the hand-over, which no rerun has
		g.UsualLeft = quantity.Length(w.Left(float64(g.Usual), nil))
	}
	g.Broken = quantity.Flow(float64(g.Most) * seatShare(&ci.Parts[float]))
	g.HalfLeft = quantity.Length(w.HalfBlocked().Left(float64(g.Broken), nil))
}

// mostInto is the most that comes through an open float valve in any setting at the highest
// pressure: in the one the store is filled in a valve before it may stand shut.
func (a *run) mostInto(float int) quantity.Flow {
	most := quantity.Flow(0)
	for i := range a.ci.Assembly.Settings {
		k := circuit.Case{Setting: i, Main: max(a.in.Main.Night, a.in.Main.Usual), Level: a.in.Low, Filling: true}
		if err := a.s.Solve(&k); err == nil && a.s.OK() {
			most = max(most, a.s.Flow(float))
		}
	}
	return most
}

// seatShare is how much more the bare seat can pass than the open valve: a bound, for the
// pipe before it passes no more for that.
func seatShare(float *assembly.Part) float64 {
	row, ok := float.Row.(catalogue.Float)
	if !ok || !(row.Kv > 0) {
		return 1
	}
	bare, err := hydraulics.SeatKv(float.Tag, float64(row.Seat))
	if err != nil {
		return 1 // no seat is told: the row's own Kv is all there is
	}
	return math.Max(1, bare/float64(row.Kv))
}
