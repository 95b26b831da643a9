package proof

import "sort"

// conclude reads the verdict off a walk.
func (s *Space) conclude(w *walk) Result {
	r := w.res
	r.Covered = s.share(w)
	for k, to := range [3]**Counterexample{&r.Smallest, &r.SmallestNamed, &r.OneMove} {
		if w.best[k] != nil {
			*to = &w.best[k].Counterexample
		}
	}
	r.Breakers = w.breakers()
	s.measured(w.p, r.Smallest, r.SmallestNamed, r.OneMove)
	for k := range r.Breakers {
		s.measured(w.p, &r.Breakers[k])
	}
	for b := range w.unsafe {
		r.Unsafe = append(r.Unsafe, []uint8(b))
	}
	sort.Slice(r.Unsafe, func(i, j int) bool { return string(r.Unsafe[i]) < string(r.Unsafe[j]) })
	r.Verdict, r.Reason = s.verdict(&r, w.cut)
	return r
}

// share is how much of the cases was covered.
func (s *Space) share(w *walk) float64 {
	if !w.cut {
		return 1
	}
	all := float64(s.Worlds()) * float64(len(s.Mishaps)+1)
	switch w.about.Spread {
	case EveryCase:
		all *= float64(s.Settings())
	case NamedOnly:
		all *= float64(len(s.Named))
	}
	return min(w.covered/all, 1)
}

// breakers is the smallest case of each mishap that breaks a promise in a named setting
// which keeps it while nothing has failed.
func (w *walk) breakers() []Counterexample {
	best := map[int]ranked{}
	for b, c := range w.breaker {
		if have, is := best[b.mishap]; !w.alone[b.named] && (!is || c.rank.less(have.rank)) {
			best[b.mishap] = c
		}
	}
	var list []Counterexample
	for m := 1; m <= len(w.o.s.Mishaps); m++ {
		if c, is := best[m]; is {
			list = append(list, c.Counterexample)
		}
	}
	return list
}

// verdict: what is broken is broken however much was left uncovered; nothing is kept that
// was not covered or could not be judged.
func (s *Space) verdict(r *Result, cut bool) (Verdict, string) {
	none, one := r.Named[0], r.Named[1]
	switch {
	case none.Broken > 0:
		return BrokenPromise, ""
	case cut:
		return NotJudged, "proof.reason.not-covered"
	case none.Unjudged+one.Unjudged+r.Other[0].Unjudged+r.Other[1].Unjudged+r.Beyond.Unjudged > 0:
		return NotJudged, r.Reason
	case one.Broken > 0:
		return UnlessPartFails, ""
	case r.Other[0].Broken+r.Other[1].Broken+r.Beyond.Broken > 0:
		return WhileHandsObey, ""
	case r.Kept() == 0:
		return NotJudged, "proof.reason.never-arises"
	}
	return KeptAlways, ""
}

// Broken is the number of cases that break the promise.
func (r *Result) Broken() uint64 {
	n := uint64(0)
	for k := range r.Named {
		n += r.Named[k].Broken + r.Other[k].Broken
	}
	return n
}

// Kept is the number of cases that keep the promise.
func (r *Result) Kept() uint64 {
	n := uint64(0)
	for k := range r.Named {
		n += r.Named[k].Kept + r.Other[k].Kept
	}
	return n
}
