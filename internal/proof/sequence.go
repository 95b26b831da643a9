package proof

import (
	"container/heap"
	"context"

	"tideover/internal/assembly"
	"tideover/internal/quantity"
)

// Guard is what hands have seen to beside the valves while they turn them.
type Guard uint8

// The guards.
const (
	Unplugged Guard = 1 << iota // the pump's plug is pulled: it stands whatever its controller says
	TapsShut                    // every tap was looked at and is shut
	TapsOpen                    // every tap was opened, to let air into what is drained down
)

// Act is what one movement of a hand is.
type Act uint8

// The acts.
const (
	Turn      Act = iota // a handle to a position
	PullPlug             // of the pump
	PutPlug              //
	LookTaps             // go round and see that every tap is shut
	OpenTaps             // go round and open every tap: what is drained down needs air
	HeaterOff            // and let it cool: before its water goes
)

// Movement is one thing a hand does.
type Movement struct {
	Act Act
	Tag string // of the handle, of a Turn
	To  string // position
}

// Block is a promise that no order of movements keeps on the way.
type Block struct {
	Promise      string
	After, Until int           // movements done when it breaks, and when it holds again
	For          quantity.Time // how long that lasts, a hand taking HandTime a movement
}

// HandTime is how long one movement is taken to last: to walk to a handle, read its tag
// and turn it. An assumption. [s]
const HandTime quantity.Time = 15

// Sequence is the shortest order of movements from one named setting to another on which
// no safety promise breaks that is not broken in one of the two anyway.
type Sequence struct {
	From, To string
	Moves    []Movement
	Blocks   []Block // promises that break on the way whatever the order; nil when none does
	Judged   bool    // the search was complete and each step was judged again, alone
	Tried    int     // standings of the valves that were looked at
}

// Sequence finds the order of movements from one named setting to another. The report must
// hold the results of the promises in in. An order that breaks fewest promises for the
// fewest movements is given where none keeps them all.
func (r *Report) Sequence(ctx context.Context, in Input, from, to string) (Sequence, error) {
	p, ok := r.planner(in)
	a, b := r.Space.named(from), r.Space.named(to)
	if !ok || a == nil || b == nil {
		return Sequence{From: from, To: to}, nil
	}
	return p.search(ctx, a, b)
}

// Sequences finds the order from the normal setting to each other named one, and back.
func (r *Report) Sequences(ctx context.Context, in Input) ([]Sequence, error) {
	p, ok := r.planner(in)
	if !ok {
		return nil, nil
	}
	var list []Sequence
	for i := 1; i < len(r.Space.Named); i++ {
		for _, pair := range [][2]int{{0, i}, {i, 0}} {
			s, err := p.search(ctx, &r.Space.Named[pair[0]], &r.Space.Named[pair[1]])
			if err != nil {
				return list, err
			}
			list = append(list, s)
		}
	}
	return list, nil
}

func (s *Space) named(name string) *Named {
	for i := range s.Named {
		if s.Named[i].Name == name {
			return &s.Named[i]
		}
	}
	return nil
}

// plugOut reports whether the pump's plug stays pulled in a setting: where hands work on
// the pump, or nothing comes to it.
func plugOut(setting string) bool {
	return setting == "pump-out" || setting == "store-isolated" || setting == "header-out" || setting == "frost" || setting == "off"
}

// standing is where a hand has got to.
type standing struct {
	at    []uint8
	guard Guard
}

// key is a standing as a number.
func (p *planner) key(s standing) uint64 {
	k := uint64(0)
	for h, at := range s.at {
		k = k*uint64(len(p.s.Hands[h].Positions)) + uint64(at)
	}
	return k<<3 | uint64(s.guard)
}

// harmful is what one standing on the way that breaks a promise costs: more than any
// number of movements.
const harmful = 1 << 20

// mostTried is how many standings a search looks at before it gives up, which it says.
const mostTried = 200_000

// node is a standing on the search's front.
type node struct {
	standing
	from  *node
	by    Movement
	cost  int // harm and movements so far
	depth int
	guess int // cost and the least that is still to do
	order int
}

// front is the search's queue: the least guess first, then the deepest, then the first met.
type front []*node

func (f front) Len() int      { return len(f) }
func (f front) Swap(i, j int) { f[i], f[j] = f[j], f[i] }
func (f *front) Push(x any)   { *f = append(*f, x.(*node)) }
func (f *front) Pop() any {
	old := *f
	n := old[len(old)-1]
	*f = old[:len(old)-1]
	return n
}
func (f front) Less(i, j int) bool {
	a, b := f[i], f[j]
	if a.guess != b.guess {
		return a.guess < b.guess
	}
	if a.depth != b.depth {
		return a.depth > b.depth
	}
	return a.order < b.order
}

// search is A* (Hart, Nilsson, Raphael 1968): the guess of what is still to do, the
// handles that still stand wrong, never says too much, so the first arrival is the best.
func (p *planner) search(ctx context.Context, from, to *Named) (Sequence, error) {
	seq := Sequence{From: from.Name, To: to.Name}
	p.empty = to.Name == assembly.Drained
	start := standing{at: from.Position}
	goal := standing{at: to.Position}
	if p.pumped && plugOut(from.Name) {
		start.guard = Unplugged
	}
	if p.pumped && plugOut(to.Name) {
		goal.guard = Unplugged
	}
	excused := p.harm(start) | p.harm(goal)
	queue := &front{{standing: start, guess: p.left(start, goal)}}
	best := map[uint64]int{p.key(start): 0}
	met := 1
	for queue.Len() > 0 {
		n := heap.Pop(queue).(*node)
		if seq.Tried++; cancelled(ctx, seq.Tried) {
			return seq, ctx.Err()
		}
		if p.there(n.standing, goal) {
			p.write(&seq, n, excused)
			return seq, nil
		}
		if best[p.key(n.standing)] < n.cost {
			continue
		}
		if seq.Tried > mostTried {
			return seq, nil
		}
		for _, step := range p.steps(n.standing, goal) {
			cost := n.cost + 1
			if !p.there(step.standing, goal) && p.harm(step.standing)&^excused != 0 {
				cost += harmful
			}
			key := p.key(step.standing)
			if old, been := best[key]; been && old <= cost {
				continue
			}
			best[key] = cost
			met++
			heap.Push(queue, &node{standing: step.standing, from: n, by: step.by, cost: cost, depth: n.depth + 1,
				guess: cost + p.left(step.standing, goal), order: met})
		}
	}
	return seq, nil
}

// there reports whether a standing is the goal; that the taps were looked at does no harm.
func (p *planner) there(s, goal standing) bool {
	for h := range s.at {
		if s.at[h] != goal.at[h] {
			return false
		}
	}
	return s.guard&Unplugged == goal.guard
}

// left is the least number of movements from a standing to the goal.
func (p *planner) left(s, goal standing) int {
	n, opening := 0, false
	for h, at := range s.at {
		if d := int(goal.at[h]) - int(at); d != 0 {
			n += max(d, -d)
			opening = opening || p.opens(h, goal.at[h])
		}
	}
	if s.guard&Unplugged != goal.guard {
		n++
	}
	if opening && s.guard&p.taps() == 0 {
		n++
	}
	return n
}

// taps is what hands see to at the taps before they open anything.
func (p *planner) taps() Guard {
	if p.empty {
		return TapsOpen
	}
	return TapsShut
}

// opens reports whether a position lets water through that another would not.
func (p *planner) opens(h int, at uint8) bool {
	to := p.s.Hands[h].Positions[at]
	return to != "shut" && to != "out"
}

// step is a movement and where it leads.
type step struct {
	standing
	by Movement
}

// steps lists what a hand can do next: pull the plug, shut a handle, look at the taps, turn
// a handle open, put the plug back. A handle with three positions passes through the middle
// one. Nothing is opened before the taps have been looked at: a tap left open in an outage
// floods the home when the water comes. A drain moves only where the goal asks for it. To
// drain the pipework down, everything that is to be shut is shut first, then every tap
// opened, then the drains.
func (p *planner) steps(s, goal standing) []step {
	var list []step
	guard := func(act Act, g Guard) {
		list = append(list, step{standing{s.at, g}, Movement{Act: act}})
	}
	if p.pumped && s.guard&Unplugged == 0 {
		guard(PullPlug, s.guard|Unplugged)
	}
	list = p.turns(list, s, goal, false)
	switch {
	case p.empty && s.guard&TapsOpen == 0:
		if !p.toShut(s, goal) {
			guard(OpenTaps, s.guard|TapsOpen)
		}
	case !p.empty && s.guard&TapsShut == 0:
		guard(LookTaps, s.guard|TapsShut)
	default:
		list = p.turns(list, s, goal, true)
	}
	if p.pumped && s.guard&Unplugged != 0 {
		guard(PutPlug, s.guard&^Unplugged)
	}
	return list
}

// toShut reports whether the goal has a handle shut that stands open.
func (p *planner) toShut(s, goal standing) bool {
	for h, at := range s.at {
		if at != goal.at[h] && !p.opens(h, goal.at[h]) {
			return true
		}
	}
	return false
}

// turns adds the handles that can be turned open, or shut.
func (p *planner) turns(list []step, s, goal standing, open bool) []step {
	for h := range p.s.Hands {
		if p.drain[h] && s.at[h] == goal.at[h] {
			continue
		}
		for _, d := range [2]int{1, -1} {
			to := int(s.at[h]) + d
			if to < 0 || to >= len(p.s.Hands[h].Positions) || p.opens(h, uint8(to)) != open || p.pressed(s, h) {
				continue
			}
			at := append([]uint8(nil), s.at...)
			at[h] = uint8(to)
			by := Movement{Act: Turn, Tag: p.s.Hands[h].Tag, To: p.s.Hands[h].Positions[to]}
			list = append(list, step{standing{at, s.guard}, by})
		}
	}
	return list
}

// pressed reports whether a hand is a spool and the valve before it stands open: nobody
// opens a pipe that water presses on.
func (p *planner) pressed(s standing, h int) bool {
	v := p.before[h]
	return v >= 0 && p.s.Hands[v].Positions[s.at[v]] != "shut"
}

// write reads the movements off the arrival, judges every standing of the way again, and
// says what broke and for how long.
func (p *planner) write(seq *Sequence, last *node, excused uint64) {
	var way []*node
	for n := last; n.from != nil; n = n.from {
		way = append([]*node{n}, way...)
	}
	seq.Judged = true
	since := make([]int, len(p.safety))
	for i, n := range way {
		seq.Moves = append(seq.Moves, n.by)
		again, broken := p.judge(n.standing), p.harm(n.standing)
		seq.Judged = seq.Judged && again == broken
		broken = (broken | again) &^ excused
		for k := range p.safety {
			at := i + 1
			switch hurts := broken>>k&1 != 0 && n != last; {
			case hurts && since[k] == 0:
				since[k] = at
			case !hurts && since[k] > 0:
				seq.Blocks = append(seq.Blocks, Block{Promise: p.safety[k].About().ID, After: since[k], Until: at,
					For: quantity.Time(at-since[k]) * HandTime})
				since[k] = 0
			}
		}
	}
	seq.Moves = merged(seq.Moves)
	if p.empty && p.heated {
		seq.Moves = append([]Movement{{Act: HeaterOff}}, seq.Moves...)
		for i := range seq.Blocks {
			seq.Blocks[i].After, seq.Blocks[i].Until = seq.Blocks[i].After+1, seq.Blocks[i].Until+1
		}
	}
}

// merged makes one movement of a handle turned through its middle position.
func merged(list []Movement) []Movement {
	var out []Movement
	for _, m := range list {
		if k := len(out) - 1; k >= 0 && m.Act == Turn && out[k].Act == Turn && out[k].Tag == m.Tag {
			out[k] = m
			continue
		}
		out = append(out, m)
	}
	return out
}
