package circuit

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// Drill is an overflow that lets off so much with the air gap standing: what the fitter
// drills or cuts into the tank, and the edits of the job that say so.
type Drill struct {
	By     string          // "pipe" or "slot"
	Width  quantity.Length // bore of the pipe, or width of the slot
	Lip    quantity.Length // bottom of the bore, or sill, above the base
	Lower  quantity.Length // how far that is below the one there now; 0 where it stays
	Housed bool            // its mesh sits in a housing at least twice as wide
	Wide   string          // Width as it is drilled: "68 mm", "2.07 in"
	High   string          // Lip as it is marked on the tank
	Edits  []job.Edit
}

// Bores of overflow pipe inside, as sold: waste pipe of 40, 50, 75 and 110 mm; US schedule 40
// of 1-1/2, 2, 3 and 4 in. [m]
var (
	metricBores = []float64{0.036, 0.046, 0.068, 0.100}
	usBores     = []float64{1.61 * inch, 2.07 * inch, 3.07 * inch, 4.03 * inch}
	slots       = []float64{0.2, 0.3, 0.4} // widths a saw cuts into the wall of a tank under its lid
)

// inch is one, [m]; heights are drilled to a mark on a rule: 5 mm, or a quarter of an inch.
const (
	inch       = 0.0254
	ruleMetric = 0.005
	ruleUS     = inch / 4
	leastDepth = 0.5 // share of the depth from outlet to lip that a lower overflow must leave: judgement
)

// drillSpare is how much more than the worst flow an overflow that is offered lets off with
// half of its screen blocked: for what tables and readings do not know. Judgement.
const drillSpare = 1.2

// Drills lists overflows with which the gap stands while q [m³/s] and a fifth more runs and
// half of the screen is blocked: behind mesh in a wide housing first, then behind the mesh that
// lies across the pipe now; of each the narrowest that loses little water first. outlet is how
// high the store's outlet is above its base [m], at is the part of the job's path before
// ".overflow".
func (w Spill) Drills(q, outlet float64, at string, sys quantity.System) []Drill {
	var list []Drill
	wide := w
	wide.Open = WideMesh
	list = wide.drills(q, outlet, at, sys)
	if w.Open == WideMesh {
		return list
	}
	for i := range list {
		list[i].Edits = append(list[i].Edits, job.Edit{Op: job.Set, Path: "choices.store.screen", Text: "wide"})
	}
	if w.Open > 0 {
		list = append(list, w.drills(q, outlet, at, sys)...)
	}
	return list
}

func (w Spill) drills(q, outlet float64, at string, sys quantity.System) []Drill {
	var list []Drill
	for _, by := range []string{"pipe", "slot"} {
		if by == "slot" && at != "choices.store" {
			continue
		}
		for _, width := range widths(by, sys) {
			if d, ok := w.HalfBlocked().drill(by, width, drillSpare*q, outlet, at, sys); ok {
				d.Housed = w.Open == WideMesh
				list = append(list, d)
			}
		}
	}
	return kept(list, w.Lip-outlet)
}

func widths(by string, sys quantity.System) []float64 {
	switch {
	case by == "slot":
		return slots
	case sys == quantity.US:
		return usBores
	}
	return metricBores
}

// drill is one overflow so wide, as high as the gap lets it be.
func (w Spill) drill(by string, width, q, outlet float64, at string, sys quantity.System) (Drill, bool) {
	next := w
	next.By, next.Bore, next.Slot = by, width, width
	rule := ruleMetric
	if sys == quantity.US {
		rule = ruleUS
	}
	lip := math.Min(next.DrillLip(q), w.Lip)
	if lip < w.Lip {
		lip = math.Floor(lip/rule+1e-9) * rule
	}
	same := by == w.By && math.Abs(width-w.Bore) < 5e-4
	if !(lip > outlet+leastDepth*(w.Lip-outlet)) || by == w.By && by == "pipe" && width < w.Bore-5e-4 {
		return Drill{}, false
	}
	d := Drill{By: by, Width: quantity.Length(width), Lip: quantity.Length(lip), Lower: quantity.Length(w.Lip - lip),
		Wide: assembly.Marked(quantity.Length(width), sys), High: assembly.Marked(quantity.Length(lip), sys)}
	if by != w.By && at == "choices.store" {
		d.Edits = append(d.Edits, job.Edit{Op: job.Set, Path: at + ".spill", Text: by})
	}
	field := map[string]string{"pipe": ".overflow", "slot": ".slot"}[by]
	if !same {
		d.Edits = append(d.Edits, job.Edit{Op: job.Set, Path: at + field, Text: d.Wide})
	}
	if lip < w.Lip {
		d.Edits = append(d.Edits, job.Edit{Op: job.Set, Path: at + ".overflow-height", Text: d.High})
	}
	return d, true
}

// littleLost is the share of the store's depth that is worth a narrower pipe: judgement.
const littleLost = 0.03

// kept drops what is wider and loses no less than one before it, and sorts the rest, pipes
// before slots: the narrowest that loses little, then the least loss first.
func kept(list []Drill, depth float64) []Drill {
	var out []Drill
	for _, by := range []string{"pipe", "slot"} {
		least := quantity.Length(math.Inf(1))
		var some []Drill
		for _, d := range list { // from the narrowest
			if d.By == by && d.Lower < least {
				least = d.Lower
				some = append([]Drill{d}, some...)
			}
		}
		for i := len(some) - 1; i > 0; i-- {
			if float64(some[i].Lower) <= littleLost*depth {
				some = append(append([]Drill{some[i]}, some[:i]...), some[i+1:]...)
				break
			}
		}
		out = append(out, some...)
	}
	return out
}
