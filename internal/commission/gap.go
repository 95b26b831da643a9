package commission

import (
	"math"

	"tideover/internal/quantity"
	"tideover/internal/sitework"
)

// gapLeast is how exactly the air over running water is read with a rule: trade. [m]
const gapLeast = 0.005

// gap is the air under the float valve's mouth with the feed full open at the usual pressure
// and the overflow running. Less than the local rules ask for is never accepted; where less is
// expected, whatever keeps the rules is.
func (c *Context) gap() []Expected {
	if c.Service == nil || c.Service.Gap == nil {
		return nil
	}
	g := c.Service.Gap
	e := Expected{ID: "air-gap", Tag: g.Store, Low: g.Spill.Needs, High: math.Inf(1)}
	if !(g.Spill.Needs > 0) {
		e.Low = math.Inf(-1)
	}
	if !g.Known || !g.Flow {
		e.Lacks = "choices.store.overflow"
		return []Expected{e}
	}
	e.Figure = quantity.Of(g.UsualLeft)
	for i := range c.Findings {
		if f := &c.Findings[i]; f.ID == "air-gap" && f.Where == g.Store {
			e.Figure.Half = f.Figure.Half
		}
	}
	if b := sitework.Accept(e.Figure.SI, e.Figure.Half, PressureShare, gapLeast); math.Max(b.Low, g.Spill.Needs) < b.High {
		e.Low, e.High = math.Max(b.Low, g.Spill.Needs), b.High
	}
	return []Expected{e}
}
