package seasons

import (
	"math"
	"slices"
)

// Pair is a measure of one future: Num over Den, nothing seen where Den is 0.
type Pair struct{ Num, Den float64 }

// Range is from one figure to another.
type Range struct{ Low, High float64 }

// shareLeftOut is what a range leaves out on each side: 92 of a hundred futures lie within, told
// as nine of ten. The two in hand are for towns that are not like the priors, where a range
// holds less than it is meant to.
const shareLeftOut = 0.04

// Next is the range in which a measure of the coming years lies in nine futures of ten: luck,
// and what is not known of the place, for each future has parameters of its own. The coming
// years are one future more, as likely as those lived to be at any place in their order, so
// that they lie between the k-th smallest and the k-th largest of n with a chance of
// 1 − 2k/(n+1) whatever the law: k is as large as keeps that at 0.92. With fewer than
// 24 futures it is the smallest to the largest, and n says what that is worth. n is
// how many futures saw anything; 0: no range.
// Source: David & Nagaraja 2003, "Order statistics", 3rd ed., section 7.2.
func Next(futures []Pair) (r Range, n int) {
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
	k := max(1, int(math.Floor(shareLeftOut*float64(n+1)+1e-9)))
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
