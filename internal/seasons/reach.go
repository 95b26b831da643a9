package seasons

import (
	"fmt"
	"math"
	"math/bits"
	"slices"

	"tideover/internal/demand"
)

// reaches checks what gets water to the taps.
func (in *Input) reaches() error {
	if in.Reach == nil {
		return nil
	}
	for i := range in.Home.Uses {
		n := in.Home.Uses[i].Taps
		if n < 0 || n >= len(in.Reach) {
			return fmt.Errorf("seasons: use %d: taps %d of %d", i, n, len(in.Reach))
		}
		if r := &in.Reach[n]; len(r.Main) != len(in.Mains) || len(r.Calls) != len(in.Mains) || r.Main[0] {
			return fmt.Errorf("seasons: taps %d: one answer for each of %d ways of the main is wanted, off giving nothing", n, len(in.Mains))
		}
	}
	return nil
}

// reach sorts the uses by what gets water to their taps.
func (w *Worker) reach() {
	in := w.in
	w.mains, w.calls = make([]uint64, len(in.Mains)), make([]uint64, len(in.Mains))
	for l := range demand.Lines {
		w.lines[l] = in.Home.On(l)
	}
	for s := range w.totals {
		w.totals[s] = make([]float64, len(in.Home.Uses))
	}
	for i := range in.Home.Uses {
		bit, u := uint64(1)<<i, &in.Home.Uses[i]
		if slices.Contains(in.OnMain, u.Key) {
			w.spare |= bit
		}
		if in.Reach == nil {
			w.store |= bit
			for m := range w.mains {
				if in.Mains[m].Serves {
					w.mains[m] |= bit
				}
			}
			continue
		}
		r := &in.Reach[u.Taps]
		if r.Store {
			w.store |= bit
		}
		if r.Dark {
			w.still |= bit
		}
		for m := range w.mains {
			if r.Main[m] {
				w.mains[m] |= bit
			}
			if r.Calls[m] && r.Store && u.Line == demand.Either {
				w.calls[m] |= bit
			}
		}
	}
}

// of sums what a set of uses asks for.
func of(uses []float64, set uint64) (sum float64) {
	for ; set != 0; set &= set - 1 {
		sum += uses[bits.TrailingZeros64(set)]
	}
	return sum
}

// onMain reports whether the main serves an automatic changeover's taps now, or whether it has
// gone over to the store: as soon as the main is too weak at rest, or a tap pulls it down so
// far; and back once the main presses hard enough with the taps shut.
func (w *Worker) onMain(main uint8) bool {
	switch m := &w.in.Mains[main]; {
	case !m.Serves:
		w.gone = true
	case !m.Clings:
		w.gone = false
	case w.calls[main] != 0:
		w.gone = true
	}
	return !w.gone
}

// quiet is until when, of a stretch in which the main serves and only taps which call the store
// could draw on it, none of their kind is opened; the stretch's beginning where one is, or more
// hangs on the store.
func (w *Worker) quiet(n *now) float64 {
	if !n.serves || n.lost != 0 || n.leak != 0 || n.routine || n.draws != w.calls[n.main] {
		return n.from
	}
	hour := int(n.from / Hour)
	last := int(math.Ceil(n.to / Hour))
	if k := w.reader.Quiet(hour, last-hour, n.draws); k > 0 {
		return math.Min(n.to, float64(hour+k)*Hour)
	}
	return n.from
}

// dry says that no tap of the store's side gets water out of the store: then no interruption is
// ridden out, opened or not.
func (w *Worker) dry() bool {
	taps := w.lines[demand.Either] | w.lines[demand.OnStore]
	return taps != 0 && taps&w.store == 0
}

// shares says where each tap's water comes from at the moment: out of the store (draws), or
// from nowhere though it should come from there (lost). on: the changeover stands on the store.
//
// In hours of the week in which the main is weak people live with what it gives; in a spell
// of weakness a tap that gets too little of the main and cannot have the store goes without.
func (w *Worker) shares(n *now, on, spell, dead bool) {
	from, either := w.store, w.lines[demand.Either]
	if dead {
		from = w.still
	}
	wants := w.lines[demand.OnStore]
	switch {
	case on || n.routine:
		wants |= either
	case n.serves && w.in.Change == Automatic && !dead:
		wants |= w.calls[n.main]
	}
	n.draws, n.lost = wants&from, wants&^from
	switch {
	case w.in.Change == Automatic:
		n.lost &^= w.mains[n.main] & either // where the pump gives too little, the main gets past it
	case !on && !n.routine && spell:
		n.lost |= either &^ w.mains[n.main]
	}
	if n.notice {
		n.draws, n.lost = n.draws&^w.spare, n.lost&^w.spare
	}
	line := w.in.Home.LeakLine
	if pressed := !dead || w.still != 0; pressed && (line == demand.OnStore || line == demand.Either && (on || n.routine)) {
		n.leak = w.in.Home.Leak
	}
	n.hangs = !n.routine && (on && n.draws&either != 0 || n.draws&w.lines[demand.OnStore] != 0 || n.leak > 0)
}
