package commission

import (
	"math"

	"tideover/internal/quantity"
)

// How often a reading is taken for its mean when it is compared with the first one on the same
// gauge, and how alike a thing reads twice by itself. A gauge's bias is the same both times and
// falls out. Trade knowledge, recalled.
const (
	Times         = 5      // a switch started and stopped so often; a pump run up
	switchRepeats = 0.03e5 // Pa, of a pressure switch or sensor
	levelRepeats  = 0.03e5 // Pa, of the water over a pump's inlet: both with a full store
	tQuantile     = 2.776  // of Student's t of 4 degrees of freedom, 97.5 %
)

// Again is a reading of the hand-over that upkeep takes again on the same gauge: by how much
// it may differ from the first, and the mildest failure that is looked for.
type Again struct {
	ID, Tag string
	First   quantity.Quantity // what was expected; what was read is written beside it
	Limit   float64           // accepted either way, in the figure's unit
	Mild    float64           // the failure's mildest size
	scale   float64
}

// again takes the set points and the pump's highest pressure, which no single reading tells
// well enough for the mildest failures.
func again(list []Expected) []Again {
	var out []Again
	for i := range list {
		e := &list[i]
		off, ok := e.Mild()
		if !ok || e.Lacks != "" || !(e.Figure.SI > 0) {
			continue
		}
		own := 0.0
		switch e.ID {
		case "cut-in", "cut-out", "set-pressure", "lock-on", "lock-off":
			own = switchRepeats / math.Sqrt(Times)
		case "shut-off":
			own = levelRepeats
		default:
			continue
		}
		read := float64(e.Span()) / 120 / math.Sqrt(3) / math.Sqrt(Times)
		a := Again{ID: e.ID, Tag: e.Tag, First: e.Figure, Mild: math.Abs(off), scale: math.Sqrt2 * math.Hypot(own, read)}
		a.Limit = tQuantile * a.scale
		out = append(out, a)
	}
	return out
}

// Out is the probability that the two readings differ by more than is accepted when the thing
// has changed by so much.
func (a *Again) Out(off float64) float64 {
	return 1 - student4((a.Limit-off)/a.scale) + student4((-a.Limit-off)/a.scale)
}

// Proven reports whether the comparison finds the mildest failure.
func (a *Again) Proven() bool { return a.Out(a.Mild) >= surelyFound && a.Out(0) <= falseAlarm+1e-4 }

// What a water meter and a gauge that is watched can find. A meter does not turn below some
// flow: it is met with half of all meters, and spreads as a log-normal of that size. Trade
// knowledge, recalled.
const (
	meterBlind  = 6e-3 / 3600 // m³/s
	meterSpread = 0.4         // of its logarithm
	airLeft     = 1e-3        // m³ of air still in the pipe when it is watched, at most
	oneAtm      = 101325.0    // Pa
)

// MeterFound is the probability that a meter shows a flow at all.
func MeterFound(q float64) float64 {
	return 0.5 * math.Erfc(-math.Log(q/meterBlind)/meterSpread/math.Sqrt2)
}

// MeterFinds is the least flow that four meters of five show.
func MeterFinds() quantity.Flow {
	return quantity.Flow(meterBlind * math.Exp(meterSpread*math.Sqrt2*math.Erfinv(2*surelyFound-1)))
}

// finds is the least leak that lets a gauge at pressure p fall so far that four of five
// readings say so, with air left in the pipe that gives as it expands (Boyle): the pipe's own
// stretch makes it less.
func (l *Leak) finds(p quantity.Pressure) quantity.Flow {
	e := Expected{ID: "leak", Figure: quantity.Of(p)}
	read := math.Sqrt2 * float64(e.Span()) / 120 / math.Sqrt(3) // twice on one gauge: its bias falls out
	fall := float64(l.Drop) + 0.941*read                        // 80 % of Student's t of 4 degrees of freedom
	return quantity.Flow(airLeft * fall / (float64(p) + oneAtm) / float64(l.Time))
}
