package commission

import (
	"math"
	"sort"

	"tideover/internal/quantity"
)

// What a reading is taken with: scale of a Student t of 4 degrees of freedom. Gauges after
// EN 837-1 (class in per cent of the span, a bias that is somewhere within it), read to half
// a division of a sixtieth of the span; the rest trade knowledge, recalled.
const (
	gaugeClass   = 0.010 // the sheet asks for class 1.0
	chargeGauge  = 0.1e5 // Pa, a tyre gauge: each look lets air out as well
	bucketShare  = 0.02
	bucketHand   = 0.4  // s, a hand on the watch
	bucketLitres = 0.01 // m³
	meterShare   = 0.02
	clampShare   = 0.02
	clampDigits  = 0.05  // A
	stick        = 0.003 // m
	watchShare   = 0.03  // of a time to fill: the tank's area
	tooMany      = 1.5   // times the starts allowed: the mildest of what wears a motor out
	falseAlarm   = 0.05  // most of the sound readings that may be out of the band
	surelyFound  = 0.80  // least of the faulty ones that must be
)

// gauges are the spans sold [Pa]: the smallest that holds a reading with a third to spare.
var gauges = []float64{2.5e5, 4e5, 6e5, 10e5, 16e5}

// Span is the full scale of the gauge a pressure is read with.
func (e *Expected) Span() quantity.Pressure {
	for _, g := range gauges {
		if e.Figure.SI*4/3 <= g {
			return quantity.Pressure(g)
		}
	}
	return quantity.Pressure(gauges[len(gauges)-1])
}

// Instrument is the scale of what the instrument adds to a reading, in the figure's unit.
func (e *Expected) Instrument() float64 {
	v := math.Abs(e.Figure.SI)
	switch e.ID {
	case "charge":
		return chargeGauge
	case "outlet-flow":
		return v * math.Hypot(bucketShare, bucketHand*v/bucketLitres)
	case "refill":
		return v * meterShare
	case "lift":
		return v * watchShare
	case "current":
		return v*clampShare + clampDigits
	case "air-gap":
		return stick
	case "starts":
		return 3600 / float64(e.Over) / 2 // one start more or less at either end of the count
	}
	span := float64(e.Span())
	return math.Hypot(gaugeClass*span/math.Sqrt(3), span/120/math.Sqrt(3))
}

// student4 is the distribution of Student's t of 4 degrees of freedom.
func student4(t float64) float64 {
	if math.IsInf(t, 0) {
		return 0.5 + math.Copysign(0.5, t)
	}
	u := t / math.Sqrt(1+t*t/4)
	return 0.5 + 0.375*u*(1-u*u/12)
}

// normalNodes are 25 mid-quantiles of the standard normal: the survey's own spread is laid
// over a reading with them.
var normalNodes = func() [25]float64 {
	var z [25]float64
	for i := range z {
		z[i] = math.Sqrt2 * math.Erfinv(2*(float64(i)+0.5)/float64(len(z))-1)
	}
	return z
}()

// Out is the probability that a reading lies outside the band, when the true value is off
// the figure by so much: over the survey's spread and the instrument's own
// error.
func (e *Expected) Out(off float64) float64 {
	return e.outside(off, e.truths())
}

// outside is Out over truths worked out before.
func (e *Expected) outside(off float64, truths []float64) float64 {
	scale, sum := e.Instrument(), 0.0
	for _, v := range truths {
		truth := v + off
		inside := student4((e.High-truth)/scale) - student4((e.Low-truth)/scale)
		sum += 1 - inside
	}
	return sum / float64(len(truths))
}

// truths is what the figure may be over the survey's spread: as it was drawn and solved, else
// mid-quantiles of a normal with its half-width as 95 %.
func (e *Expected) truths() []float64 {
	if len(e.Drawn) >= len(normalNodes) {
		return e.Drawn
	}
	list := make([]float64, len(normalNodes))
	for i, z := range normalNodes {
		list[i] = e.Figure.SI + z*e.Figure.Half/1.96
	}
	return list
}

// honest widens a band until a sound reading lies outside it no more often than one time in
// twenty. A band open on one side stays open there.
func (e *Expected) honest() {
	if e.Lacks != "" || e.Figure.SI == 0 || e.ID == "air-gap" || e.ID == "starts" { // the rules' limit and the maker's are no bands to be widened
		return
	}
	truths := e.truths()
	holds := func(n int) bool {
		wider := e.widened(n)
		return wider.outside(0, truths) <= falseAlarm
	}
	many := 0 // steps that are enough: doubled, for most bands are honest or nearly so
	for few := 1; many < mostSteps && !holds(many); few *= 2 {
		many = min(few, mostSteps)
	}
	least := many / 2 // and half as many were not
	e.Low, e.High = e.widenedTo(least + sort.Search(many-least, func(n int) bool { return holds(least + n) }))
}

// mostSteps is how far a band is widened at most; each step is a twentieth of the instrument's error.
const mostSteps = 2000

// widenedTo are the ends of a band n steps wider.
func (e *Expected) widenedTo(n int) (low, high float64) {
	low, high = e.Low, e.High
	step := e.Instrument() / 20
	for range n {
		if !math.IsInf(low, -1) && low > 0 {
			low = math.Max(0, low-step)
		}
		if !math.IsInf(high, 1) {
			high += step
		}
	}
	return low, high
}

// widened is a reading whose band is n steps wider.
func (e *Expected) widened(n int) Expected {
	wider := *e
	wider.Low, wider.High = e.widenedTo(n)
	return wider
}

// Finds is the least fault that a reading shows in four of five cases: how far below and how
// far above the figure the true value must be. +Inf: that side is never found.
func (e *Expected) Finds() (below, above float64) {
	find := func(sign float64) float64 {
		low, high := 0.0, 10*math.Abs(e.Figure.SI)+10*e.Instrument()
		if e.Out(sign*high) < surelyFound {
			return math.Inf(1)
		}
		for range 60 {
			if mid := (low + high) / 2; e.Out(sign*mid) < surelyFound {
				low = mid
			} else {
				high = mid
			}
		}
		return high
	}
	below, above = math.Inf(1), math.Inf(1)
	if !math.IsInf(e.Low, -1) && e.Low > 0 {
		below = find(-1)
	}
	if !math.IsInf(e.High, 1) {
		above = find(1)
	}
	if below > math.Abs(e.Figure.SI) { // no reading is less than nothing
		below = math.Inf(1)
	}
	return below, above
}

// Mild is the mildest size of the failure a reading is taken for, as a change of the true
// value; false where the reading confirms the survey or a choice and no part's failure has a
// size of its own there. Trade knowledge, recalled.
func (e *Expected) Mild() (off float64, ok bool) {
	v := e.Figure.SI
	switch e.ID {
	case "static":
		return -0.5e5, true // the survey's hour was another
	case "charge":
		return -0.2 * v, true // a vessel that lost a fifth
	case "regulator":
		return 0.5e5, true // a seat that lets by: in ten minutes the main's pressure creeps up behind it
	case "cut-in", "cut-out", "set-pressure", "lock-on", "lock-off":
		return 0.1e5, true // a switch that drifted by a tenth of a bar
	case "shut-off":
		return -0.05 * v, true // an impeller worn by a twentieth
	case "outlet-flow":
		return -0.3 * v, true // an aerator or a stop valve that passes seven tenths
	case "refill":
		return -0.3 * v, true // a strainer or a seat that passes seven tenths
	case "lift":
		return v * (1/0.7 - 1), true // a pump or a strainer that gives seven tenths
	case "starts":
		return math.Max(v, tooMany*e.High-v), true // a vessel that holds half as much, or so little that the motor wears
	case "current":
		return 0.1 * v, true // a rubbing impeller, a low voltage
	}
	return 0, false
}

// Proven reports whether the reading finds the mildest failure it is taken for.
func (e *Expected) Proven() bool {
	off, ok := e.Mild()
	return ok && e.Out(off) >= surelyFound && e.Out(0) <= falseAlarm
}
