package diagnose

import (
	"tideover/internal/assume"
	"tideover/internal/calc"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/quantity"
)

// Need is what the home calls for. Its words are "need.<Need>".
type Need string

// What a home can call for.
const (
	Unknown    Need = "unknown"     // nobody was asked how the main behaves
	Nothing    Need = "nothing"     // the main serves the home and never fails
	CleanFirst Need = "clean-first" // something is in the way: put it right, test again
	Reserve    Need = "reserve"     // a few litres in the kitchen ride out what happens here
	StoreFor   Need = "store"       // the main fails for longer than a reserve lasts
	BoostFor   Need = "boost"       // the main does not press enough, at some hour or at all
)

// Home is what the home gets straight from the main, and what that calls for.
type Home struct {
	Outlets  int // all of them
	Served   int // that get half of what they need or more, alone, in the good hours
	AtPeak   int // and in the worst hours
	PeakSeen bool
	Worst    string        // tag of the outlet that gets the least share of its need, in the worst hours that are known
	Gets     quantity.Flow // that outlet
	Wants    quantity.Flow

	Basic quantity.Volume // that drinking, cooking, washing by hand and flushing by bucket take over the longest interruption
	Work  []calc.Step
	Need  Need
}

// The kitchen reserve.
const (
	// basicUse is what one person uses a day when water is carried, at the upper end of
	// basic to intermediate access (Howard and Bartram 2003, Domestic Water Quantity,
	// Service Level and Health, WHO, table S1). [m³/d]
	basicUse = 0.05
	// Kitchen is as much as stands in a kitchen without a stand or a pump: eight cans of
	// 25 L. Judgement. [m³]
	Kitchen quantity.Volume = 0.2
)

var basicEq = calc.Register(calc.Equation{
	Key: "kitchen-reserve", Section: "Store",
	Title:   "Water a home must have at hand to sit out an interruption without a store",
	Formula: "V = n w t",
	Result:  calc.Symbol{Name: "V", Meaning: "water wanted", Dim: quantity.VolumeDim, Unit: "m³"},
	Args: []calc.Symbol{
		{Name: "n", Meaning: "people", Dim: quantity.NoDim, Unit: "–"},
		{Name: "w", Meaning: "basic use of one person", Dim: quantity.FlowDim, Unit: "m³/s"},
		{Name: "t", Meaning: "longest interruption told", Dim: quantity.TimeDim, Unit: "s"},
	},
	Range:  "taps shut, WC flushed by bucket, washing by hand; no laundry, no garden",
	Source: "Howard and Bartram 2003, Domestic Water Quantity, Service Level and Health (WHO), table S1: 50 L a person a day is intermediate access",
	Fn:     func(a []float64) float64 { return a[0] * a[1] * a[2] },
})

// home asks what each outlet gets straight from the main, and what that calls for.
func (l *line) home(r *Result) error {
	ci, err := l.direct()
	if err != nil {
		return err
	}
	h := &r.Home
	h.Outlets, h.PeakSeen = len(ci.Outlets), l.in.WorstTold
	good, err := l.served(ci, h, l.in.Static)
	if err != nil {
		return err
	}
	h.Served, h.AtPeak = good, good
	if l.in.WorstTold {
		if h.AtPeak, err = l.served(ci, h, l.in.Worst); err != nil {
			return err
		}
	}
	var sheet calc.Sheet
	h.Basic = quantity.Volume(sheet.Eval(basicEq, l.in.People, basicUse/86400, float64(l.in.Longest)))
	h.Work = sheet.Steps
	h.Need = l.need(r)
	return nil
}

// served counts the outlets that get enough at a pressure of the main, each alone, and
// remembers the worst off.
func (l *line) served(ci *circuit.Circuit, h *Home, main quantity.Pressure) (n int, err error) {
	s := ci.NewSolver()
	least := 0.0
	for k, i := range ci.Outlets {
		open := make([]bool, len(ci.Outlets))
		open[k] = true
		if err := s.Solve(&circuit.Case{Main: main, Open: open}); err != nil {
			return 0, err
		}
		row, _ := ci.Assembly.Parts[i].Row.(catalogue.Outlet)
		gets, _ := s.Draw(k)
		share := float64(gets / row.Need)
		if share >= assume.Usable.Value {
			n++
		}
		if k == 0 || share < least {
			least = share
			h.Worst, h.Gets, h.Wants = ci.Assembly.Parts[i].Tag, gets, row.Need
		}
	}
	return n, nil
}

// need decides. What is in the way comes first: no store cures a half-shut valve, and what
// the home gets without it is not known until it is gone.
func (l *line) need(r *Result) Need {
	h := &r.Home
	weak := h.AtPeak < h.Outlets
	switch {
	case r.InTheWay && !l.in.Told:
		return CleanFirst
	case l.in.Told && h.Basic > Kitchen:
		return StoreFor
	case weak:
		return BoostFor
	case l.in.Told:
		return Reserve
	case l.in.WorstTold:
		return Nothing
	default:
		return Unknown
	}
}
