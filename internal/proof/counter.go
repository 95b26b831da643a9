package proof

import (
	"fmt"
	"math/bits"

	"tideover/internal/circuit"
)

// broken notes what a broken box tells: its smallest cases and its settings.
func (w *walk) broken(j Judgement) {
	o := w.o
	first := w.best[0] == nil
	w.keep(0, w.smallest(j, w.nearest(), o.least()))
	cards := o.cardsIn()
	if w.about.Spread == SomeNamed {
		cards = 1
	}
	for n := range o.s.Named {
		if cards>>n&1 == 0 {
			continue
		}
		at := o.s.Named[n].Position
		w.keep(1, w.smallest(j, at, o.least()))
		if o.sound0() {
			w.alone[n] = true
		}
		w.breaks(j, n, at)
	}
	if o.sound0() && w.about.Spread == EveryCase {
		w.unsafe[string(o.open[:len(o.s.Hands)])] = true
		if at := o.oneMove(); at != nil {
			w.keep(2, w.smallest(j, at, 0))
		}
	}
	if first && w.found != nil {
		w.found(w.best[0])
	}
}

// beyond notes what a box of settings that no card names, and that are not counted, tells.
func (w *walk) beyond(j Judgement) {
	switch j.Outcome {
	case Unjudged:
		w.blame(j)
	case Broken:
		first := w.best[0] == nil
		w.keep(0, w.smallest(j, w.nearest(), w.o.least()))
		if w.o.sound0() {
			if at := w.o.oneMove(); at != nil {
				w.keep(2, w.smallest(j, at, 0))
			}
		}
		if first && w.found != nil {
			w.found(w.best[0])
		}
	}
}

// sound0 reports whether the box holds cases in which nothing has failed.
func (o *oracle) sound0() bool { return o.fixed == 0 && o.failed[0]&1 != 0 }

// least is the first mishap in the box, 0 for none.
func (o *oracle) least() int {
	for k, d := range o.failed {
		if d != 0 {
			return 64*k + bits.TrailingZeros64(d)
		}
	}
	return 0
}

// breaks keeps the smallest case per mishap in a named setting.
func (w *walk) breaks(j Judgement, named int, at []uint8) {
	o := w.o
	for k, d := range o.failed {
		for ; d != 0; d &= d - 1 {
			m := 64*k + bits.TrailingZeros64(d)
			if m == 0 {
				continue
			}
			w.breakAt(breaking{m, named}, w.smallest(j, at, m))
		}
	}
}

func (w *walk) breakAt(b breaking, c *ranked) {
	if have, is := w.breaker[b]; !is || c.rank.less(have.rank) {
		w.breaker[b] = *c
	}
}

func (w *walk) keep(k int, c *ranked) {
	if w.best[k] == nil || c.rank.less(w.best[k].rank) {
		w.best[k] = c
	}
}

// nearest is the setting of the box with the fewest movements from the normal one, or from the
// named one that all of it lies about.
func (w *walk) nearest() []uint8 {
	o := w.o
	if o.cards {
		best, moves := o.s.Named[0].Position, -1
		for n := range o.s.Named {
			at := o.s.Named[n].Position
			if m := o.s.moves(at); o.named>>n&1 != 0 && (moves < 0 || m < moves) {
				best, moves = at, m
			}
		}
		return best
	}
	usual := o.s.Named[max(o.near-1, 0)].Position
	at := make([]uint8, len(o.s.Hands))
	for h := range at {
		at[h] = usual[h]
		if o.open[h]>>at[h]&1 == 0 {
			at[h] = uint8(bits.TrailingZeros8(o.open[h]))
		}
	}
	return at
}

// moves counts the hand movements from the normal setting.
func (s *Space) moves(at []uint8) int {
	n := 0
	for h := range at {
		if at[h] != s.Hands[h].Normal {
			n++
		}
	}
	return n
}

// oneMove is a setting of the box that no card names and that one movement from a named one
// leads to; nil when there is none.
func (o *oracle) oneMove() []uint8 {
	for n := range o.s.Named {
		if o.near > 0 && n != o.near-1 {
			continue
		}
		if at := o.away(o.s.Named[n].Position); at != nil {
			return at
		}
	}
	return nil
}

// away is a setting of the box one movement from the given one.
func (o *oracle) away(from []uint8) []uint8 {
	off := -1
	for h, k := range from {
		if o.open[h]>>k&1 == 0 {
			if off >= 0 {
				return nil
			}
			off = h
		}
	}
	for h := range from {
		if off >= 0 && h != off {
			continue
		}
		for k := range uint8(len(o.s.Hands[h].Positions)) {
			if k == from[h] || o.open[h]>>k&1 == 0 {
				continue
			}
			at := append([]uint8(nil), from...)
			at[h] = k
			if o.s.NameOf(at) == "" && (o.near > 0 || o.together || !o.s.crowded(at)) {
				return at
			}
		}
	}
	return nil
}

// smallest is the box's most ordinary case in a setting with a mishap, 0 for none.
func (w *walk) smallest(j Judgement, at []uint8, mishap int) *ranked {
	o := w.o
	n := len(o.s.Hands)
	r := &ranked{Counterexample: Counterexample{Named: o.s.NameOf(at), Moves: o.s.moves(at), Judgement: j}}
	c := &r.Case
	c.Setting = append([]uint8(nil), at...)
	var value [worldly]uint8
	for v := range value {
		d := o.open[n+v]
		bit := d & o.s.normal[n+v]
		if bit == 0 {
			bit = d & -d
			r.rank.odd++
		}
		value[v] = uint8(bits.TrailingZeros8(bit))
		r.rank.far += int(value[v])
	}
	c.World = World{Main(value[vMain]), Power(value[vPower]), Store(value[vStore]), Draw(value[vDraw]), value[vFrost] == 1, value[vHot] == 1, Store(value[vHeader]), value[vBack] == 1}
	c.Control = Control{circuit.Pumping(value[vPump]), circuit.LockState(value[vLock])}
	for _, m := range [2]int{o.fixed, mishap} {
		if m > 0 {
			c.Mishaps = append(c.Mishaps, m-1)
		}
	}
	r.rank.mishaps, r.rank.moves = len(c.Mishaps), r.Moves
	r.rank.rest = fmt.Sprintf("%v %v %04d", at, value, c.Mishaps)
	return r
}

// boxOf is the box that holds one case alone.
func (s *Space) boxOf(c Case) box {
	n := len(s.Hands)
	b := box{open: make([]uint8, n+worldly), failed: make([]uint64, len(s.all)), named: 1<<len(s.Named) - 1}
	for h, k := range c.Setting {
		b.open[h] = 1 << k
	}
	bit := func(yes bool) uint8 {
		if yes {
			return 2
		}
		return 1
	}
	w := b.open[n:]
	w[vMain], w[vPower], w[vStore], w[vDraw] = 1<<c.World.Main, 1<<c.World.Power, 1<<c.World.Store, 1<<c.World.Draw
	w[vFrost], w[vHot], w[vBack] = bit(c.World.Frost), bit(c.World.Hot), bit(c.World.Back)
	w[vHeader] = 1 << c.World.Header
	w[vPump], w[vLock] = 1<<c.Control.Pump, 1<<c.Control.Lock
	m := 0
	if len(c.Mishaps) > 0 {
		m = c.Mishaps[len(c.Mishaps)-1] + 1
	}
	b.failed[m/64] |= 1 << (m % 64)
	return b
}
