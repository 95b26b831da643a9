package proof

import "math/bits"

// oracle hands out facts about a case that is only as decided as it was asked about. A
// question is whether a variable lies in a set of values. Where the values still open lie
// on both sides it is a fork: one side is taken, and once all that follows from it has been
// judged, the other. Every fork taken narrows the values still open, so that at the end of
// a judgement they are exactly the box of cases it holds for: had any case of the box been
// asked about, all its answers would have been the same.
type oracle struct {
	s      *Space
	open   []uint8  // per variable: the values still open, as bits
	failed []uint64 // the mishaps still open, bit 0 for none
	named  uint64   // the named settings still open; read only while cards
	cards  bool     // the hands are in a named setting, whichever
	fixed  int      // a mishap that has struck in any case, or 0
	forks  []fork
	at     int    // the next fork to pass
	log    []note // what was worked out so far in this judgement
	noted  int    // the next note to come to

	near     int  // one more than the named setting that every case is one movement from, or 0
	together bool // any set of drains may stand open
	tight    bool // drains not yet asked about let air in and no water out, see tight.go

	folded bool // swapped tags are counted from the sound cases, see folding
	unfold bool // a question was asked that folding cannot answer

	start   box // what is open before the first question
	spare   []box
	w       *water
	solved  bool  // the circuit asked about last was certified
	plainly facts // answers in place of the water followed, for a test against plain solving
}

// fork is one question with two answers still open.
type fork struct{ yes, last bool }

// box is a set of cases: what is still open.
type box struct {
	open   []uint8
	failed []uint64
	named  uint64
}

// note is the outcome of one query, valid as long as the forks before its end stand.
type note struct {
	end       int
	after     box
	set       Source
	low, high float64
	ok        bool
}

func newOracle(s *Space, cards bool, failed []uint64, fixed int) *oracle {
	o := &oracle{s: s, cards: cards, fixed: fixed}
	o.open, o.failed = make([]uint8, len(s.first)), make([]uint64, len(s.all))
	o.start = box{append([]uint8(nil), s.first...), append([]uint64(nil), failed...), 1<<len(s.Named) - 1}
	return o
}

// begin starts a judgement anew.
func (o *oracle) begin() {
	o.put(o.start)
	o.at, o.noted, o.solved = 0, 0, true
}

func (o *oracle) put(b box) {
	copy(o.open, b.open)
	copy(o.failed, b.failed)
	o.named = b.named
}

// next moves to the next box; false when there is none left.
func (o *oracle) next() bool {
	for n := len(o.forks) - 1; n >= 0; n-- {
		if f := &o.forks[n]; !f.last {
			f.yes, f.last = !f.yes, true
			o.forks = o.forks[:n+1]
			o.w.undo(n)
			for len(o.log) > 0 && o.log[len(o.log)-1].end > n {
				o.spare = append(o.spare, o.log[len(o.log)-1].after)
				o.log = o.log[:len(o.log)-1]
			}
			return true
		}
	}
	return false
}

// fork passes a fork; yes is the side taken first.
func (o *oracle) fork(yes bool) bool {
	if o.at == len(o.forks) {
		o.forks = append(o.forks, fork{yes: yes})
	}
	o.at++
	return o.forks[o.at-1].yes
}

// ask asks whether variable v lies in mask. The ordinary side is taken first.
func (o *oracle) ask(v int, mask uint8) bool {
	d := o.open[v]
	in := d & mask
	if in == 0 || in == d {
		return in != 0
	}
	if only, is := o.bound(v); is {
		o.open[v] = d & only
		return o.open[v]&mask != 0
	}
	usual := o.s.normal[v] & d
	if usual == 0 {
		usual = d & -d
	}
	yes := o.fork(usual&mask != 0)
	if yes {
		o.open[v] = in
	} else {
		o.open[v] = d &^ mask
	}
	return yes
}

func (o *oracle) world(v int, mask uint8) bool { return o.ask(len(o.s.Hands)+v, mask) }

// only returns the one value of a variable, asking until one is left.
func (o *oracle) only(v int) int {
	for o.open[v]&(o.open[v]-1) != 0 {
		bit := o.open[v] & o.s.normal[v]
		if bit == 0 {
			bit = o.open[v] & -o.open[v]
		}
		o.ask(v, bit)
	}
	return bits.TrailingZeros8(o.open[v])
}

// struck asks whether the mishap is one of mask.
func (o *oracle) struck(mask []uint64) bool {
	in, out := false, false
	for k, d := range o.failed {
		in = in || d&mask[k] != 0
		out = out || d&^mask[k] != 0
	}
	if !in || !out {
		return in
	}
	yes := o.fork(mask[0]&1 != 0)
	for k := range o.failed {
		if yes {
			o.failed[k] &= mask[k]
		} else {
			o.failed[k] &^= mask[k]
		}
	}
	return yes
}

// had asks whether a mishap of mask has struck, the fixed one or the other.
func (o *oracle) had(mask []uint64) bool {
	return mask != nil && (o.fixed > 0 && mask[o.fixed/64]>>(o.fixed%64)&1 != 0 || o.struck(mask))
}

// turnedTo asks whether a hand-turned part really stands in one of the positions. Whoever
// trusts the tags turns the body that wears the tag the card names. Of two swaps the first
// named happened first, and each exchanges the tags that hang on the two bodies it names,
// whichever these are by then. So the tag on a body is found backwards: what the second swap
// hung on it hung on the other of its bodies before, and there by the first.
func (o *oracle) turnedTo(h int, mask uint8) bool {
	if m := o.s.swapOf[h]; m != nil && !o.folded && o.struck(m) {
		for _, w := range o.s.swaps[h] {
			if o.struckBy(w.mishap) {
				h = w.with
				break
			}
		}
	}
	if o.fixed > 0 {
		for _, w := range o.s.swaps[h] {
			if w.mishap == o.fixed {
				h = w.with
				break
			}
		}
	}
	return o.meant(h, mask)
}

// struckBy asks whether the mishap is number n.
func (o *oracle) struckBy(n int) bool {
	d := o.failed[n/64] >> (n % 64) & 1
	rest := o.failed[n/64]&^(1<<(n%64)) != 0
	for k := range o.failed {
		rest = rest || k != n/64 && o.failed[k] != 0
	}
	if d == 0 || !rest {
		return d != 0
	}
	if yes := o.fork(false); !yes {
		o.failed[n/64] &^= 1 << (n % 64)
		return false
	}
	clear(o.failed)
	o.failed[n/64] = 1 << (n % 64)
	return true
}

// meant asks whether the hands believe a part to stand in one of the positions.
func (o *oracle) meant(h int, mask uint8) bool {
	if !o.cards {
		return o.ask(h, mask)
	}
	var has uint64
	for k, w := range o.s.with[h] {
		if mask>>k&1 != 0 {
			has |= w
		}
	}
	return o.carded(has)
}

// carded asks whether the named setting is one of the set.
func (o *oracle) carded(set uint64) bool {
	in := o.named & set
	if in == 0 || in == o.named {
		return in != 0
	}
	yes := o.fork(set>>bits.TrailingZeros64(o.named)&1 != 0)
	if yes {
		o.named = in
	} else {
		o.named &^= set
	}
	return yes
}

// recall returns the outcome of this query from the judgement before, if nothing it hung on
// has changed.
func (o *oracle) recall() (*note, bool) {
	if o.noted < len(o.log) {
		n := &o.log[o.noted]
		o.noted++
		o.put(n.after)
		o.at, o.solved = n.end, n.ok
		return n, true
	}
	return nil, false
}

// note keeps the outcome of the query just made.
func (o *oracle) note(n note) {
	if k := len(o.spare); k > 0 {
		n.after, o.spare = o.spare[k-1], o.spare[:k-1]
	} else {
		n.after = box{open: make([]uint8, len(o.open)), failed: make([]uint64, len(o.failed))}
	}
	copy(n.after.open, o.open)
	copy(n.after.failed, o.failed)
	n.after.named = o.named
	n.end, n.ok = o.at, o.solved
	o.log = append(o.log, n)
	o.noted = len(o.log)
}

// facts is what a judgement can ask about water.
type facts interface {
	flow(part int) float64
	flowTight(part int) (float64, bool)
	head(point int32) Interval
	upstream(point, goal int32, asked Source) Source
	most(point int32) float64
	runsOut(point int32) bool
}
