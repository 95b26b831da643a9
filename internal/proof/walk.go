package proof

import (
	"context"
	"math"
	"math/bits"
)

// DefaultBudget is the most boxes a promise takes before it counts as sampled.
const DefaultBudget = 8_000_000

// Of an assembly with more than manySettings settings (two dozen valves) no promise that
// looks at all of them would come to an end: each takes sampledBudget boxes, its coverage is
// said, and nothing is called kept.
const (
	manySettings  = 1 << 24
	sampledBudget = 50_000
)

// budget is how many boxes a promise takes where the caller does not say.
func (s *Space) budget() int {
	if s.Settings() > manySettings {
		return sampledBudget
	}
	return DefaultBudget
}

// breath is how many boxes are judged between two looks at whether to go on.
const breath = 16

// tally is how many are judged between two words of progress.
const tally = 4096

// walk is one promise, or a share of it, going through its boxes.
type walk struct {
	o       *oracle
	p       Promise
	about   About
	view    *View
	budget  int
	res     Result
	covered float64
	best    [3]*ranked          // smallest: of all, of the named, one move from a named one
	breaker map[breaking]ranked // smallest per mishap and named setting
	alone   map[int]bool        // named settings broken with nothing failed
	unsafe  map[string]bool     // boxes of settings, once each
	cut     bool                // stopped before the end
	found   func(*ranked)       // told of the first counterexample
	each    func(Judgement)     // told of every box, for tests
	tick    func()              // called every so many boxes
}

// breaking is a mishap that breaks a promise in a named setting.
type breaking struct{ mishap, named int }

// ranked is a counterexample with what orders it.
type ranked struct {
	Counterexample
	rank rank
}

// rank orders counterexamples: fewest mishaps, then fewest hand movements, then the most
// ordinary world; what is left is decided by the order of the variables.
type rank struct {
	mishaps, moves, odd, far int
	rest                     string
}

func (r rank) less(t rank) bool {
	for _, d := range [4]int{r.mishaps - t.mishaps, r.moves - t.moves, r.odd - t.odd, r.far - t.far} {
		if d != 0 {
			return d < 0
		}
	}
	return r.rest < t.rest
}

func newWalk(o *oracle, p Promise, budget int) *walk {
	w := &walk{o: o, p: p, about: p.About(), view: &View{o}, budget: budget,
		breaker: map[breaking]ranked{}, alone: map[int]bool{}, unsafe: map[string]bool{}}
	w.res.About = w.about
	if w.about.Spread == OnceForAll {
		o.start = o.s.boxOf(o.s.Normal())
		o.cards = false
	}
	return w
}

// run judges box after box.
func (w *walk) run(ctx context.Context) {
	for {
		w.o.begin()
		j := w.judge()
		if w.o.unfold {
			return
		}
		w.count(j)
		if w.each != nil {
			w.each(j)
		}
		w.res.Boxes++
		if w.tick != nil && w.res.Boxes%tally == 0 {
			w.tick()
		}
		if w.res.Boxes%breath == 0 && ctx.Err() != nil || w.res.Boxes >= w.budget {
			w.cut = w.o.next()
			break
		}
		if !w.o.next() {
			break
		}
	}
	w.res.Solves = w.o.w.solves
}

// judge judges what is asked of the promise in the box now open.
func (w *walk) judge() Judgement {
	if w.about.Spread == SomeNamed {
		return w.some()
	}
	j := w.p.Judge(w.view)
	if j.Outcome == Broken && !w.o.steady() {
		return Judgement{} // the controls would not stay like this: no such case
	}
	return j
}

// some judges whether some named setting keeps the promise, whatever state its controls
// settle in. The first named setting's judgement tells how it is broken in all.
func (w *walk) some() Judgement {
	o := w.o
	var first Judgement
	for n := range o.s.Named {
		o.named = 1 << n
		j := w.settled()
		switch {
		case j.Outcome == Kept:
			o.named = o.start.named
			return j
		case first.Outcome == Silent, first.Outcome == Broken && j.Outcome == Unjudged:
			first = j
		}
	}
	o.named = o.start.named
	return first
}

// settled judges one named setting in every state its controls can stay in: the worst of
// them counts.
func (w *walk) settled() Judgement {
	o, n := w.o, len(w.o.s.Hands)
	var worst Judgement
	for pump := range uint8(3) {
		for lock := range uint8(2) {
			if o.start.open[n+vPump]>>pump&1 == 0 || o.start.open[n+vLock]>>lock&1 == 0 {
				continue
			}
			o.open[n+vPump], o.open[n+vLock] = 1<<pump, 1<<lock
			o.w.undo(-1) // the water followed last was another setting's
			if j := w.p.Judge(w.view); j.Outcome > worst.Outcome && j.Outcome != Silent && o.steady() {
				worst = j
			}
		}
	}
	o.open[n+vPump], o.open[n+vLock] = o.start.open[n+vPump], o.start.open[n+vLock]
	return worst
}

// sizes is the number of settings, named settings and worlds in the box.
func (o *oracle) sizes() (settings, named, worlds uint64) {
	n := len(o.s.Hands)
	settings, worlds = 1, 1
	for _, d := range o.open[n:] {
		worlds = times(worlds, uint64(bits.OnesCount8(d)))
	}
	if o.cards {
		named = uint64(bits.OnesCount64(o.named))
		return named, named, worlds
	}
	for h, d := range o.open[:n] {
		if !o.s.drain[h] {
			settings = times(settings, uint64(bits.OnesCount8(d)))
		}
	}
	settings = times(settings, o.drainWays())
	return settings, uint64(bits.OnesCount64(o.cardsIn())), worlds
}

// cardsIn is the named settings that lie in the box, as bits; of several with the same
// positions the first.
func (o *oracle) cardsIn() uint64 {
	if o.cards {
		return o.named
	}
	in := o.s.unlike &^ o.s.crowd
	for h := 0; h < len(o.s.Hands) && in != 0; h++ {
		if o.open[h] == o.s.first[h] {
			continue
		}
		var has uint64
		for k, w := range o.s.with[h] {
			if o.open[h]>>k&1 != 0 {
				has |= w
			}
		}
		in &= has
	}
	return in
}

// count adds the box to the counts.
func (w *walk) count(j Judgement) {
	o := w.o
	if o.near > 0 || o.together {
		w.res.Beyond.add(j.Outcome, 1)
		w.beyond(j)
		return
	}
	settings, named, worlds := o.sizes()
	if w.about.Spread == SomeNamed {
		settings, named = 1, 1
	}
	struck := 0
	for _, d := range o.failed {
		struck += bits.OnesCount64(d)
	}
	none := int(o.failed[0] & 1)
	base := 0
	if o.fixed > 0 {
		base = 1
	}
	for k, n := range [2]int{none, struck - none} {
		if n == 0 || base+k > 2 {
			continue
		}
		c := times(worlds, uint64(n))
		w.res.Named[base+k].add(j.Outcome, times(c, named))
		w.res.Other[base+k].add(j.Outcome, times(c, settings-named))
	}
	w.covered += float64(settings) * float64(worlds) * float64(struck)
	w.countSwapped(j, settings, worlds)
	switch j.Outcome {
	case Broken:
		w.broken(j)
	case Unjudged:
		w.blame(j)
	}
}

// blame keeps the first, in the order of the alphabet, of the reasons why a case was not judged.
func (w *walk) blame(j Judgement) {
	if w.res.Reason == "" || j.Reason < w.res.Reason {
		w.res.Reason = j.Reason
	}
}

func (c *Counts) add(o Outcome, n uint64) {
	at := [...]*uint64{Silent: &c.Silent, Kept: &c.Kept, Broken: &c.Broken, Unjudged: &c.Unjudged}[o]
	if *at+n < *at {
		n = math.MaxUint64 - *at
	}
	*at += n
}
