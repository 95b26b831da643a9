package outage

import (
	"errors"
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
)

// Seen is one length that was seen. Age is how long a Whole or Running one had lasted
// when the watch began (0: watched from its beginning). Weight counts equal ones; 0 is 1.
type Seen struct {
	Length float64 // s
	How    How
	Age    float64 // s
	Weight float64
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

// record is what a fit reads: lengths with their logarithms, a long log thinned.
type record struct {
	seen []Seen
	y    []float64
}

const (
	manyWhole = 400  // whole lengths from which on they are put together
	together  = 0.02 // in y: those nearer than this count as equal, an error of σ² below 4e-5
)

// newRecord sorts out the whole lengths of a long log into narrow classes at their mean
// logarithm, so that a log of 100,000 entries costs no more than one of a thousand.
func newRecord(seen []Seen) record {
	var r record
	var whole []float64
	for _, s := range seen {
		if s.Weight == 0 {
			s.Weight = 1
		}
		if len(seen) > manyWhole && s.How == Whole && s.Age == 0 && s.Weight == 1 {
			whole = append(whole, math.Log(s.Length))
			continue
		}
		r.add(s, math.Log(s.Length))
	}
	slices.Sort(whole)
	for i := 0; i < len(whole); {
		j, sum := i, 0.0
		for ; j < len(whole) && whole[j]-whole[i] < together; j++ {
			sum += whole[j]
		}
		y := sum / float64(j-i)
		r.add(Seen{Length: math.Exp(y), Weight: float64(j - i)}, y)
		i = j
	}
	return r
}

func (r *record) add(s Seen, y float64) {
	r.seen, r.y = append(r.seen, s), append(r.y, y)
}

func (r record) logLikelihood(l Length) float64 {
	sum := 0.0
	for i, s := range r.seen {
		sum += l.tells(s, r.y[i])
	}
	return sum
}
