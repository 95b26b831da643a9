package outage

import (
	"errors"
	"maps"
	"math"
	"slices"
)

// How says how a length came to be seen, which decides what it tells.
type How uint8

// The ways of seeing a length.
const (
	Whole      How = iota // from beginning to end
	Running               // still going on when the watch ended: at least so long
	Recalled              // met at a random moment ("the last one"): the longer, the likelier to be met
	Met                   // met running at a random moment and watched from there to its end
	MetRunning            // met running, and still running when the watch ended
	Begun                 // the first of a log of which nobody says when it was begun: as likely met, and written down for that, as seen by plain chance
)

// Seen is one length that was seen. Age is how long a Whole or Running one had lasted
// when the watch began (0: watched from its beginning). Weight counts equal ones; 0 is 1.
type Seen struct {
	Length float64 // s
	How    How
	Age    float64 // s
	Weight float64
}

func (s Seen) weight() float64 {
	if s.Weight == 0 {
		return 1
	}
	return s.Weight
}

var (
	errNothing = errors.New("outage: fit: no length was given")
	errLength  = errors.New("outage: fit: a length must be above 0 and finite")
)

func check(seen []Seen) error {
	if len(seen) == 0 {
		return errNothing
	}
	for _, s := range seen {
		if !(s.Length > 0) || math.IsInf(s.Length, 0) || !(s.Age >= 0 && s.Age < s.Length) || !(s.Weight >= 0) {
			return errLength
		}
	}
	return nil
}

// tells is ln of the likelihood of what was seen, as densities of y = ln t.
func (l Length) tells(s Seen, y float64) float64 {
	var v float64
	switch s.How {
	case Whole:
		v = l.logDensity(y)
	case Running:
		v = l.logSurvival(y)
	case Recalled:
		v = l.logDensity(y) + y - l.logMean()
	case Begun:
		v = l.logDensity(y)
		v = mixed(0.5, v, 0.5, v+y-l.logMean())
	case Met:
		v = l.logSurvival(y) + y - l.logMean()
	case MetRunning:
		v = l.logBeyond(s.Length)
	}
	if s.Age > 0 && !math.IsInf(v, -1) {
		v += l.Hazard(s.Age)
	}
	return v * s.Weight
}

// record is what a fit reads. Of whole lengths the laws need only sums; the others stand
// one by one.
type record struct {
	whole, sum, square float64 // of the whole lengths: how many, Σ y − centre, Σ (y − centre)²
	centre             float64
	powered            []Seen    // whole and running, whose e^(y/σ) the Weibull adds up
	poweredY           []float64 // ln less centre
	seen               []Seen    // all others (for the log-normal the running ones too)
	y                  []float64
}

const (
	manyWhole = 400  // lengths from which on those that are nearly equal are put together
	together  = 0.02 // in y: nearer than this counts as equal, an error of σ² below 4e-5
)

// newRecord adds up the whole lengths. Those of a long log fall into narrow classes, so
// that 100,000 entries cost no more than a thousand.
func newRecord(seen []Seen) record {
	var r record
	for _, s := range seen {
		r.centre += math.Log(s.Length) / float64(len(seen))
	}
	for _, s := range seen {
		s.Weight = s.weight()
		r.add(s)
	}
	if len(seen) > manyWhole {
		r.thin()
	}
	return r
}

func (r *record) add(s Seen) {
	y := math.Log(s.Length) - r.centre
	simple := s.Age == 0 && (s.How == Whole || s.How == Running)
	if simple {
		r.powered, r.poweredY = append(r.powered, s), append(r.poweredY, y)
	}
	if simple && s.How == Whole {
		r.whole += s.Weight
		r.sum += s.Weight * y
		r.square += s.Weight * y * y
		return
	}
	r.seen, r.y = append(r.seen, s), append(r.y, y+r.centre)
}

// thin puts together what the Weibull adds up, at the mean logarithm of each class.
func (r *record) thin() {
	type class struct{ weight, sum float64 }
	classes := map[int]class{}
	for i, y := range r.poweredY {
		k := int(math.Floor(y / together))
		c := classes[k]
		classes[k] = class{c.weight + r.powered[i].Weight, c.sum + r.powered[i].Weight*y}
	}
	r.powered, r.poweredY = nil, nil
	for _, k := range slices.Sorted(maps.Keys(classes)) {
		c := classes[k]
		r.powered = append(r.powered, Seen{Weight: c.weight})
		r.poweredY = append(r.poweredY, c.sum/c.weight)
	}
}

// row is ln of the likelihood along μ, for one law and one σ.
func (r *record) row(law Law, sigma float64) func(mu float64) float64 {
	simple := r.rowNormal(sigma)
	if law != LogNormal {
		simple = r.rowPower(sigma)
	}
	return func(mu float64) float64 {
		sum := simple(mu - r.centre)
		l := Length{Law: law, Mu: mu, Sigma: sigma}
		for i, s := range r.seen {
			if law == LogNormal || s.How != Running || s.Age > 0 {
				sum += l.tells(s, r.y[i])
			}
		}
		return sum
	}
}

func (r *record) rowNormal(sigma float64) func(float64) float64 {
	fixed := -r.whole * (math.Log(sigma) + logRoot2Pi)
	return func(m float64) float64 {
		return fixed - (r.square-2*m*r.sum+r.whole*m*m)/(2*sigma*sigma)
	}
}

func (r *record) rowPower(sigma float64) func(float64) float64 {
	power := 0.0
	for i, y := range r.poweredY {
		power += r.powered[i].Weight * math.Exp(y/sigma)
	}
	fixed := -r.whole * math.Log(sigma)
	return func(m float64) float64 {
		return fixed + (r.sum-r.whole*m)/sigma - power*math.Exp(-m/sigma)
	}
}
