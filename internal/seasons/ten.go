package seasons

import (
	"math"
	"slices"
)

// Pair is a measure of one future: Num over Den, nothing seen where Den is 0.
type Pair struct{ Num, Den float64 }

// Range is from one figure to another.
type Range struct{ Low, High float64 }

// What a range leaves out on each side. With leftOut 92 of a hundred futures lie within, told as
// nine of ten: the two in hand are for what nobody knows of a watch that nothing is said of, and
// of what is only remembered. Where a log says when somebody watched, 90 do. Both are held by
// towns of known laws (at least 85 of a hundred in the worst) and by towns drawn from the priors.
const (
	leftOut        = 0.04
	leftOutWatched = 0.05
)

// Next is the range in which a measure of the coming years lies in nine futures of ten (see next),
// and n of how many futures it is read. watched says that the interruptions are those of a log
// that says when somebody kept it.
func Next(futures []Pair, watched bool) (r Range, n int) {
	if watched {
		return next(futures, leftOutWatched)
	}
	return next(futures, leftOut)
}

// next is the range in which a measure of the coming years lies in nine futures of ten: luck,
// and what is not known of the place, for each future has parameters of its own. The coming
// years are one future more, as likely as those lived to be at any place in their order, so
// that they lie between the k-th smallest and the k-th largest of n with a chance of
// 1 − 2k/(n+1) whatever the law: k is as large as keeps that at 1 − 2·out. With fewer than
// 2/out − 1 futures it is the smallest to the largest, and n says what that is worth. n is
// how many futures saw anything; 0: no range.
// Source: David & Nagaraja 2003, "Order statistics", 3rd ed., section 7.2.
func next(futures []Pair, out float64) (r Range, n int) {
	var list []float64
	for _, p := range futures {
		if p.Den > 0 {
			list = append(list, p.Num/p.Den)
		}
	}
	n = len(list)
	if n == 0 {
		return Range{}, 0
	}
	slices.Sort(list)
	k := max(1, int(math.Floor(out*float64(n+1)+1e-9)))
	return Range{list[k-1], list[n-k]}, n
}

// Among is a measure over some of the futures lived, with what so few of them leave open. As a
// measure is a sum over a sum, that of all futures lies between those of its parts.
func Among(m Measure, futures []Pair, which func(future int) bool) Estimate {
	var s moments
	for k, p := range futures {
		if which(k) {
			s.add(p.Num, p.Den)
		}
	}
	return s.estimate(m)
}

// estimate reads a measure off its sums.
func (s *moments) estimate(m Measure) Estimate {
	if m.share() {
		return s.proportion()
	}
	e := s.mean()
	if e.Low < 0 {
		e.Low = 0 // none of the measures can be negative
	}
	return e
}
