package site

import (
	"tideover/internal/catalogue"
	"tideover/internal/quantity"
)

// Trade figures that more than one analysis rests on, so that they stand in one place.
// No paper on site says them; they are assumed, and shown as such.
const (
	SleepFlow = quantity.Flow(2.0 / 60000) // a speed control sleeps, a flow control stops, below this draw: 2 L/min
	RunOn     = quantity.Time(10)          // and runs on this long before it does

	// UsableShare is the share of its need below which an outlet does not serve at all: a
	// shower that only drips, a tap nobody waits for. Judgement, not a rule.
	UsableShare = 0.5

	// ShutBelowLip is how far below the overflow's lip the float valve is set shut where
	// the local rules leave it blank: the usual rule for warning pipes (trade, 25 mm).
	ShutBelowLip = quantity.Length(0.025)
)

// OverflowMargin is how far below the overflow's lip a store's float valve is set shut by
// a profile [m], or ShutBelowLip where it leaves that blank or there is no profile.
func OverflowMargin(p *catalogue.Profile) quantity.Length {
	if r := p.Rule("overflow-margin"); r.Set {
		return quantity.Length(r.Value)
	}
	return ShutBelowLip
}
