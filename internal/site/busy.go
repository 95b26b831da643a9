package site

import (
	"math"

	"tideover/internal/assume"
	"tideover/internal/calc"
	"tideover/internal/hydraulics"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// weight is the pressure of a metre of water [Pa/m].
const weight = quantity.StandardDensity * quantity.StandardGravity

// growthEq is how the sag of a square law grows with what others draw through the same pipe: they
// draw Q where a Q + b Q² is what the pressure at rest has fallen by, and the home's q then costs
// a q + b ((Q + q)² − Q²) = (a + 2 b Q) q + b q².
var growthEq = calc.Register(calc.Equation{
	Key: "busy-slope", Section: "The main", Title: "How much steeper a shared main sags while neighbours draw",
	Formula: "s = √(a² + 4 b D) − a",
	Result:  calc.Symbol{Name: "s", Meaning: "added to the linear part of the sag, all of it in pipes that neighbours share", Unit: "s/m²"},
	Args: []calc.Symbol{
		{Name: "a", Meaning: "linear part of the sag in the flow test", Unit: "s/m²"},
		{Name: "b", Meaning: "square part", Unit: "s²/m⁵"},
		{Name: "D", Meaning: "by how much less the main presses at rest than in the flow test", Dim: quantity.HeadDim, Unit: "m"},
	},
	Range:  "D ≥ 0, and all of it lost through what neighbours draw: an upper bound; none of it where the sag is in the home's own pipe",
	Source: "superposition of flows in one pipe under a quadratic law",
	Fn:     func(a []float64) float64 { return math.Sqrt(a[0]*a[0]+4*a[1]*math.Max(a[2], 0)) - a[0] },
})

// Busy is what is known of how a main sags while neighbours draw.
type Busy struct {
	Shared   float64           // of the growth of the sag, the share that is in pipes they draw on too, where nobody read it, 0 to 1
	Flow     quantity.Flow     // in the worst hours, with as good as nothing open
	Read     quantity.Pressure // the gauge then
	OpenFlow quantity.Flow     // and with a tap open; 0: nobody read it
	OpenRes  quantity.Pressure //
}

// BusyOf is that of a job.
func BusyOf(j *job.Job) Busy {
	s := &j.Supply
	b := Busy{Shared: assume.StreetSag.In(j.Assumed), Flow: s.PeakFlow.V, Read: s.PeakRes.V}
	if Told(s.PeakRes) && s.PeakOpenFlow.V > s.PeakFlow.V {
		b.OpenFlow, b.OpenRes = s.PeakOpenFlow.V, s.PeakOpenRes.V
	}
	return b
}

// Slope is by how much steeper than in its flow test a main sags, by what it presses at rest.
type Slope struct {
	static quantity.Pressure // in the flow test
	a, b   float64           // its law
	shared float64
	told   float64 // read in the worst hours [s/m²], at
	below  float64 // so much less at rest [m]; 0: nobody read it
	most   float64
}

// Steeper is the slope of a main: as two readings in the worst hours say, or, where there is no
// second, a share of the most it can be.
func (s Sag) Steeper() (Slope, error) {
	law, tested, err := s.Law("")
	if err != nil {
		return Slope{}, err
	}
	w := Slope{static: s.Static, shared: s.Busy.Shared}
	if tested {
		w.a, w.b = law.A, law.B
	}
	if b := s.Busy; b.OpenFlow > b.Flow {
		q1, q2 := float64(b.Flow), float64(b.OpenFlow)
		told := float64(b.Read-b.OpenRes)/weight/(q2-q1) - w.a - w.b*(q1+q2)
		told = math.Max(told, 0)
		rest := float64(b.Read)/weight + (w.a+told)*q1 + w.b*q1*q1
		if below := float64(s.Static)/weight - rest; below > 0 {
			w.told, w.below = told, below
		}
	}
	w.most = w.At(-quantity.Pressure(hydraulics.Atmosphere(0)))
	return w, nil
}

// At is what is added to the linear part of the sag under a pressure at rest at the gauge [s/m²], ≥ 0.
// What was read in the worst hours is taken to grow as the root of how far the pressure at rest has
// fallen, as neighbours' draw does in a square law.
func (s *Slope) At(rest quantity.Pressure) float64 {
	fallen := float64(s.static-rest) / weight
	switch {
	case fallen <= 0:
		return 0
	case s.below > 0:
		return s.told * math.Sqrt(fallen/s.below)
	}
	return s.shared * growthEq.Fn([]float64{s.a, s.b, fallen})
}

// Most is the most that is ever added, where a main is about to suck as hard as it can [s/m²].
func (s *Slope) Most() float64 { return s.most }

// Opening is 1 where nothing is added under a pressure at rest, and 0 where the most is.
func (s *Slope) Opening(rest quantity.Pressure) float64 {
	if s.most == 0 {
		return 1
	}
	return math.Max(0, 1-s.At(rest)/s.most)
}

// Drop is what the main loses up to the gauge at a flow, under a pressure at rest there: nothing where
// no test says so.
func (s Sag) Drop(q quantity.Flow, rest quantity.Pressure) quantity.Pressure {
	law, _, err := s.Law("")
	slope, bad := s.Steeper()
	if err != nil || bad != nil || q <= 0 || slope.a == 0 && slope.b == 0 && slope.told == 0 {
		return 0
	}
	h, _ := law.Crowded(slope.most).Drop(float64(q), slope.Opening(rest))
	return quantity.Pressure(h * weight)
}

// Rest is what a main presses at rest that shows so much with a flow running: what is lost by the
// flow hangs on the pressure at rest, which rises with what is lost; the lowest that fits is found by
// halving.
func (s Sag) Rest(read quantity.Pressure, q quantity.Flow) quantity.Pressure {
	if q <= 0 {
		return read
	}
	low, high := read, max(s.Static, read)
	if least := read + s.Drop(q, high); least >= high {
		return least
	}
	for range 60 {
		middle := (low + high) / 2
		if read+s.Drop(q, middle) > middle {
			low = middle
		} else {
			high = middle
		}
	}
	return high
}
