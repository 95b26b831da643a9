package freshness

import "math"

// Criterion is a figure beside its limit: what the figure is, in SI, what it may be, and
// where the limit comes from (a message id names it). High is true where the figure must
// not be above the limit, false where it must not be below.
type Criterion struct {
	ID            string
	Figure, Limit float64
	High          bool
	Source        string
	Arriving      bool // the limit was lifted, or the verdict withheld, for the water that comes in is beyond it already
}

// Met reports whether the figure keeps its limit; a figure that is not a number does not.
func (c Criterion) Met() bool {
	if c.High {
		return c.Figure <= c.Limit
	}
	return c.Figure >= c.Limit
}

// The limits of stored water. Sources: cold water below 20 °C, temperature of the store
// against that at its float valve, stored volume near one day's use: UK HSE, Legionnaires'
// disease, technical guidance HSG274 part 2; storage below 25 °C and growth from 25 to
// 45 °C: WHO 2007, Legionella and the prevention of legionellosis; 0.2 mg/L at the point
// of use: WHO 2017, Guidelines for drinking-water quality, 4th ed. with addendum. Two
// weeks unused, and two kelvin of warming: practice, recalled.
const (
	ColdLimit     = 20.0         // °C
	WarmLimit     = 25.0         // °C
	GrowthFrom    = 25.0         // °C
	GrowthTo      = 45.0         // °C
	Warming       = 2.0          // K a store may add to the water that comes in
	StandingLimit = 14 * 86400.0 // s
	ResidualLimit = 0.2e-3       // kg/m³
)

// Warm judges the warmest day's mean of a store against the limit for stored water, or
// against the water that comes in where that is warmer: a store must not be blamed for
// the main. [°C]
func Warm(warmest, arriving float64) Criterion {
	limit := math.Max(WarmLimit, arriving+Warming)
	return Criterion{ID: "store-warm", Figure: warmest, Limit: limit, High: true, Source: "source.store-warm", Arriving: limit > WarmLimit}
}

// Standing judges the age of the water that reaches a tap, less what it had when it came
// in. [s]
func Standing(age, arriving float64) Criterion {
	return Criterion{ID: "store-standing", Figure: age - arriving, Limit: StandingLimit, High: true, Source: "source.store-standing"}
}

// Residual judges free chlorine at the tap. Where less arrives than the limit asks, no
// store could keep it, and the limit is what arrives. [kg/m³]
func Residual(left, arriving float64) Criterion {
	return Criterion{ID: "store-residual", Figure: left, Limit: math.Min(ResidualLimit, arriving), Source: "source.store-residual", Arriving: arriving < ResidualLimit}
}
