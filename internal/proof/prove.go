package proof

import (
	"context"
	"runtime"
	"sync"
	"sync/atomic"
	"tideover/internal/workers"
)

// unit is a share of the work: a promise with a set of mishaps.
type unit struct {
	promise int
	cards   bool
	named   uint64 // the named settings it is about; 0 for all
	failed  []uint64
	fixed   int
	near    int  // as oracle's: beside the counts
	all     bool // every set of drains together: beside the counts
	done    *walk
}

// Prove judges every promise over every case. tell may be nil; it is called from one
// goroutine at a time, and for the first broken case of each promise at once. A cancelled
// proof returns what it has with the context's error; what was not finished is not judged.
func Prove(ctx context.Context, in Input, tell func(Progress)) (*Report, error) {
	if in.Promises == nil {
		in.Promises = Promises()
	}
	s, err := NewSpace(&in)
	if err != nil {
		return nil, err
	}
	if in.Budget == 0 {
		in.Budget = s.budget()
	}
	p := &proving{s: s, memo: newMemo(), tell: tell}
	p.work(ctx, p.singles())
	rep := &Report{Space: s, Cases: s.Cases(0) + s.Cases(1)}
	if in.Cards {
		rep.Cases = times(times(uint64(len(s.Named)), s.Worlds()), uint64(len(s.Mishaps)+1))
	}
	walks := p.gather(len(in.Promises))
	if units := p.togethers(walks); len(units) > 0 {
		p.work(ctx, units)
		walks = p.gather(len(in.Promises))
	}
	if in.Pairs && ctx.Err() == nil {
		p.work(ctx, p.pairs(walks))
		walks = p.gather(len(in.Promises))
	}
	for i := range in.Promises {
		r := s.conclude(walks[i])
		if in.Pairs {
			rep.Pairs = max(rep.Pairs, total(r.Named[2]))
		}
		rep.Results = append(rep.Results, r)
		rep.Boxes += r.Boxes
		rep.Solves += r.Solves
	}
	rep.Distinct = p.memo.distinct()
	return rep, ctx.Err()
}

func total(c Counts) uint64 { return c.Kept + c.Broken + c.Silent + c.Unjudged }

// proving is a proof in progress.
type proving struct {
	s     *Space
	memo  *memo
	tell  func(Progress)
	told  sync.Mutex
	units []*unit // all there were, in order
}

// singles are the units of all promises with no or one mishap.
func (p *proving) singles() []*unit {
	var units []*unit
	for i, pr := range p.s.in.Promises {
		spread := pr.About().Spread
		units = append(units, &unit{promise: i, cards: p.s.in.Cards || spread == NamedOnly || spread == SomeNamed, failed: p.s.all})
		if u := units[len(units)-1]; !u.cards && spread == EveryCase && p.s.crowd&p.s.unlike != 0 {
			units = append(units, &unit{promise: i, cards: true, named: p.s.crowd & p.s.unlike, failed: p.s.all})
			for n := range p.s.Named {
				if (p.s.crowd&p.s.unlike)>>n&1 != 0 {
					units = append(units, &unit{promise: i, near: n + 1, failed: p.s.all})
				}
			}
		}
	}
	return units
}

// pairs are the units with two mishaps: of each promise those that neither breaks alone, in
// the named settings. A setting no card names with two mishaps is three things at once.
func (p *proving) pairs(walks []*walk) []*unit {
	var units []*unit
	for i, w := range walks {
		if w.about.Spread == OnceForAll || w.cut {
			continue
		}
		free := append([]uint64(nil), p.s.all...)
		free[0] &^= 1
		for b := range w.breaker {
			free[b.mishap/64] &^= 1 << (b.mishap % 64)
		}
		for m := 1; m <= len(p.s.Mishaps); m++ {
			if free[m/64]>>(m%64)&1 == 0 {
				continue
			}
			free[m/64] &^= 1 << (m % 64)
			later := append([]uint64(nil), free...)
			if w.about.Spread != SomeNamed || !empty(later) {
				units = append(units, &unit{promise: i, cards: true, failed: later, fixed: m})
			}
		}
	}
	kept := units[:0]
	for _, u := range units {
		if !empty(u.failed) {
			kept = append(kept, u)
		}
	}
	return kept
}

func empty(mask []uint64) bool {
	for _, d := range mask {
		if d != 0 {
			return false
		}
	}
	return true
}

// togethers are the units of every set of open drains, of each promise that is kept always so far.
func (p *proving) togethers(walks []*walk) []*unit {
	var units []*unit
	for i, w := range walks {
		if p.s.in.Cards || len(p.s.drains) < 2 || w.about.Spread != EveryCase {
			continue
		}
		if v, _ := p.s.verdict(&w.res, w.cut); v == KeptAlways {
			units = append(units, &unit{promise: i, failed: p.s.all, all: true})
		}
	}
	return units
}

// work does the units on as many workers as there are. Which worker does which does not
// show in what comes of it.
func (p *proving) work(ctx context.Context, units []*unit) {
	p.units = append(p.units, units...)
	most := p.s.in.Workers
	if most <= 0 {
		most = runtime.GOMAXPROCS(0)
	}
	var next, done atomic.Int64
	var group workers.Group
	for range min(most, len(units)) {
		group.Go(func() {
			w := newWater(p.s, p.memo)
			for {
				k := int(next.Add(1)) - 1
				if k >= len(units) {
					return
				}
				p.one(ctx, units[k], w, func() float64 { return float64(done.Load()) / float64(len(units)) })
				share := float64(done.Add(1)) / float64(len(units))
				p.say(Progress{Promise: p.s.in.Promises[units[k].promise].About().ID, Share: share})
			}
		})
	}
	group.Wait()
}

// one does one unit; share is how much of all the work is done.
func (p *proving) one(ctx context.Context, u *unit, w *water, share func() float64) {
	pr := p.s.in.Promises[u.promise]
	id := pr.About().ID
	found := func(c *ranked) { p.say(Progress{Promise: id, Share: share(), Broken: &c.Counterexample}) }
	for _, folded := range [2]bool{pr.About().Spread == EveryCase && u.fixed == 0 && u.named == 0 && u.near == 0, false} {
		failed := u.failed
		if folded {
			failed = p.s.unswapped()
		}
		o := newOracle(p.s, u.cards, failed, u.fixed)
		o.w, o.folded, w.solves = w, folded, 0
		o.near, o.together = u.near, u.all
		if u.named != 0 {
			o.start.named = u.named
		}
		w.undo(-1)
		u.done = newWalk(o, pr, p.s.in.Budget)
		if u.all {
			u.done.budget = min(u.done.budget, togetherMost)
		}
		u.done.found, u.done.tick = found, func() { p.say(Progress{Promise: id, Share: share()}) }
		if ctx.Err() != nil {
			u.done.cut = true
			return
		}
		if u.done.run(ctx); !o.unfold {
			return
		}
	}
}

func (p *proving) say(g Progress) {
	if p.tell == nil {
		return
	}
	p.told.Lock()
	defer p.told.Unlock()
	p.tell(g)
}

// gather joins the units of each promise, in order.
func (p *proving) gather(promises int) []*walk {
	walks := make([]*walk, promises)
	for _, u := range p.units {
		if w := walks[u.promise]; w == nil {
			walks[u.promise] = u.done
		} else if w != u.done {
			w.join(u.done)
		}
	}
	p.units = nil
	for i, w := range walks {
		p.units = append(p.units, &unit{promise: i, done: w})
	}
	return walks
}

// join adds what another walk of the same promise found.
func (w *walk) join(t *walk) {
	for k := range w.res.Named {
		w.res.Named[k].join(t.res.Named[k])
		w.res.Other[k].join(t.res.Other[k])
	}
	w.res.Boxes += t.res.Boxes
	w.res.Solves += t.res.Solves
	w.res.Beyond.join(t.res.Beyond)
	if t.o.together {
		w.res.Apart = t.cut
	} else {
		w.cut = w.cut || t.cut
	}
	if t.o.fixed == 0 { // of the same promise in named settings that the first left out
		for b, c := range t.breaker {
			w.breakAt(b, &c)
		}
		for n := range t.alone {
			w.alone[n] = true
		}
	}
	w.covered += t.covered
	if w.res.Reason == "" || t.res.Reason != "" && t.res.Reason < w.res.Reason {
		w.res.Reason = t.res.Reason
	}
	for k, c := range t.best {
		if c != nil {
			w.keep(k, c)
		}
	}
}

func (c *Counts) join(t Counts) {
	c.add(Kept, t.Kept)
	c.add(Broken, t.Broken)
	c.add(Silent, t.Silent)
	c.add(Unjudged, t.Unjudged)
}
