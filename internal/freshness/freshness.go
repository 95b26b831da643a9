// Package freshness is how old, how warm and how well chlorinated the water of a store
// is: exactly, over any trace of flows that are constant from one moment to the next.
//
// Stage: numerics under the seasons run. It takes spans of steady flow with the water
// that comes in and the weather around, and gives the state of the store, what left for
// the taps, and tallies over years. It knows nothing of homes, jobs or files. Left out:
// layers of warm water over cold (a store is taken as mixed, as plug flow, or as
// compartments between them), and ice once it has begun.
package freshness

import "math"

// Flow is a span of time with steady flows. [s, m³/s, m³/s]
type Flow struct{ Span, In, Out float64 }

// Water is the state of some water: since when it has been on the way, what free
// chlorine it has, how warm it is.
type Water struct {
	Age      float64 // s
	Chlorine float64 // kg/m³ (1 mg/L is 0.001)
	Heat     float64 // °C
}

// Around is what a store stands in during a span.
type Around struct {
	Outside float64 // °C: air and sun together, see SolAirEq
	Loss    float64 // W/K: U times the shell
}

// Drawn is what left for the taps during a span. First and Last are the water at its
// beginning and end; Mean is the mean over the volume.
type Drawn struct {
	Volume            float64 // m³
	First, Last, Mean Water
}

const (
	kelvin  = 273.15
	gas     = 8.314462618 // J/(mol·K), CODATA 2018
	heatCap = 4.18e6      // J/(m³·K), water at 20 °C, density times specific heat; 0.3 % over 5 to 40 °C
	fusion  = 3.34e8      // J/m³ of water turned to ice at 0 °C
)

// path is the course of a volume during a span: θ = ∫ dt/V is the time in which
// mixing runs. For V = V₀ + r t it is ln(V₁/V₀)/r, and t/V₀ where the volume stays.
type path struct{ v0, v1, r, t float64 }

func (f Flow) from(volume float64) path {
	r := f.In - f.Out
	p := path{volume, volume + r*f.Span, r, f.Span}
	if !(f.Span >= 0 && f.In >= 0 && f.Out >= 0) || math.IsInf(f.Span+f.In+f.Out, 1) {
		panic("freshness: flow: spans and flows must be 0 or above and finite")
	}
	if !(p.v0 > 0 && p.v1 > 0) {
		panic("freshness: flow: the store must keep some water: give it the litres below its outlet")
	}
	return p
}

// theta is ∫ dt/V over the first t of the span. [s/m³]
func (p path) theta(t float64) float64 {
	u := p.r * t / p.v0
	if math.Abs(u) < 1e-9 {
		return t / p.v0 * (1 - u/2)
	}
	return math.Log1p(u) / p.r
}

// content is ∫ V dt over the span. [m³·s]
func (p path) content() float64 { return (p.v0 + p.v1) / 2 * p.t }

// gap is (1 − e^−w)/w, 1 at w = 0.
func gap(w float64) float64 {
	if math.Abs(w) < 1e-9 {
		return 1 - w/2
	}
	return -math.Expm1(-w) / w
}
