package outage

import (
	"cmp"
	"math"
	"slices"

	"tideover/internal/stream"
)

// Against is what a log shows that the law fitted to it would hardly show.
type Against struct {
	Count int      // interruptions of the log, where there are enough to tell; 0 where not
	Says  []string // ids of what is said of it
}

const (
	rare     = 0.0125 // chance below which something shown counts as against the law: four are looked at, so that a law that is right is called wrong in one log of twenty
	shuffles = 2000   // orders that a sequence is held against
)

// FewTelled is how many interruptions a log needs to be held against the law fitted to it.
const FewTelled = 8

// against holds a log against the law fitted to it, which takes each length for itself,
// whatever the hour, the year and the lengths before it: whether gaps come in runs, whether gaps
// or interruptions grow or shrink from first to last, whether they begin at some hours of the
// day. The first three hold the order of the whole lengths against others, drawn by chance, by
// their ranks, which needs no law; the hours by the length R of the mean of their directions,
// chance e^−nR² (Rayleigh, good from some five on). How long the longest is says nothing
// against the law: one of two kinds may bring any, and the range counts with it.
// Sources: Wald & Wolfowitz 1943, "An exact test for randomness in the non-parametric case based
// on serial correlation", Ann. Math. Stat. 14:378; Phipson & Smyth 2010, Stat. Appl. Genet. Mol.
// Biol. 9:39 (chances by drawn orders); Mardia & Jupp 2000, "Directional statistics", section 6.3.1.
func (l *Log) against(down, up []Seen) *Against {
	gaps, breaks := whole(up), whole(down)
	if len(l.Entries) < FewTelled || len(gaps) < FewTelled-2 {
		return &Against{}
	}
	a := &Against{Count: len(l.Entries)}
	s := stream.Of(stream.Key{Process: stream.Posterior, Item: 6})
	if o := orderOf(gaps, &s); o.runs < rare {
		a.say("outage.amiss-runs")
	}
	a.trend("outage.amiss-rarer", "outage.amiss-oftener", gaps, &s)
	if len(breaks) >= FewTelled-2 {
		a.trend("outage.amiss-longer", "outage.amiss-shorter", breaks, &s)
	}
	if l.sameHour() < rare {
		a.say("outage.amiss-hours")
	}
	return a
}

func (a *Against) say(id string) { a.Says = append(a.Says, id) }

// trend says where lengths grow or shrink from first to last.
func (a *Against) trend(grow, shrink string, list []float64, s *stream.Stream) {
	switch o := orderOf(list, s); {
	case o.grows < rare/2:
		a.say(grow)
	case o.shrinks < rare/2:
		a.say(shrink)
	}
}

// whole lists the lengths seen from beginning to end, in their order.
func whole(seen []Seen) (list []float64) {
	for _, s := range seen {
		if s.How == Whole && s.Age == 0 {
			list = append(list, s.Length)
		}
	}
	return list
}

// order is how rarely chance brings what a sequence shows: neighbours so alike, and first and
// last so different.
type order struct{ runs, grows, shrinks float64 }

// orderOf holds a sequence against others of the same lengths in any order, by their ranks.
func orderOf(list []float64, s *stream.Stream) order {
	r := ranks(list)
	runs, slope := neighbours(r), slopeOf(r)
	o := order{1, 1, 1} // the sequence itself is one of the orders
	for range shuffles {
		for i := len(r) - 1; i > 0; i-- {
			k := int(s.Uint64() % uint64(i+1))
			r[i], r[k] = r[k], r[i]
		}
		now := slopeOf(r)
		o.runs += one(neighbours(r) >= runs)
		o.grows += one(now >= slope)
		o.shrinks += one(now <= slope)
	}
	return order{o.runs / (shuffles + 1), o.grows / (shuffles + 1), o.shrinks / (shuffles + 1)}
}

func one(yes bool) float64 {
	if yes {
		return 1
	}
	return 0
}

// neighbours is Σ rᵢ·rᵢ₊₁: large where like follows like. Twice a rank is a whole number, so sums
// of the same terms in any order are the same.
func neighbours(r []float64) (sum float64) {
	for i := range len(r) - 1 {
		sum += r[i] * r[i+1]
	}
	return sum
}

// slopeOf is Σ i·rᵢ: large where lengths grow.
func slopeOf(r []float64) (sum float64) {
	for i, v := range r {
		sum += float64(i) * v
	}
	return sum
}

// ranks are twice the ranks about their mean, equal ones sharing theirs.
func ranks(list []float64) []float64 {
	at := make([]int, len(list))
	for i := range at {
		at[i] = i
	}
	slices.SortFunc(at, func(a, b int) int { return cmp.Compare(list[a], list[b]) })
	r := make([]float64, len(list))
	for i := 0; i < len(at); {
		k := i
		for k < len(at) && list[at[k]] == list[at[i]] {
			k++
		}
		for _, n := range at[i:k] {
			r[n] = float64(i + k - len(at))
		}
		i = k
	}
	return r
}

// clock is when an interruption begins, by the clocks of the place. [s]
func (e *Entry) clock() float64 {
	t := e.From + e.East
	return t - Day*math.Floor(t/Day)
}

// byDay is the share of the beginnings that falls in the day, as far as a log tells it: a beta law's
// mean and twice its spread, one of each kind taken as seen beforehand. One that was begun by the
// first outage tells as much as another: by which hour it began is no reason to write.
func (l *Log) byDay() Hours {
	n, day := float64(len(l.Entries)), 0.0
	for i := range l.Entries {
		if t := l.Entries[i].clock(); t >= dawn && t < dusk {
			day++
		}
	}
	mean := (day + 1) / (n + 2)
	wide := 2 * math.Sqrt(mean*(1-mean)/(n+3))
	return Hours{math.Max(0.02, mean-wide), math.Min(0.98, mean+wide)}
}

// sameHour is how rarely chance brings beginnings so much at one time of the day.
func (l *Log) sameHour() float64 {
	var c, s float64
	for _, e := range l.Entries {
		sin, cos := math.Sincos(2 * math.Pi * e.clock() / Day)
		c, s = c+cos, s+sin
	}
	return math.Exp(-(c*c + s*s) / float64(len(l.Entries)))
}
