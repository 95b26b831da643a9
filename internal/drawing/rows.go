package drawing

import (
	"math"

	"tideover/internal/assembly"
)

// Vertical measures [mm].
const (
	rowGap    = 2.0  // between the bands of two rows
	bareAbove = 3.5  // of a row without cells
	bareBelow = 2.5  //
	tankDrop  = 27.0 // from the row that fills a store to the row that leaves it
	leafPitch = 7.6  // least distance of two outlets
	leafGap   = 1.0  // between the bands of two outlets
)

// stack is a piece of the core as rows from the top down; a series keeps to the row of
// its axis, so that what is passed straight through is drawn straight through.
type stack struct {
	rows        [][]int // strands of each row
	entry, exit int     // rows of the left and the right end
	floor       int     // what comes later in the series keeps to this row and below
	folds       bool    // a folded pipe in it runs back to the left, under what came before
	turns       bool    // what leads to that pipe may reach further right than the rest
	over        bool    // a leg of it turns: what comes later shares no row with it but the axis
}

// rowsOf lays a block out in rows.
func (p *plan) rowsOf(b *block) stack {
	switch {
	case b.strand >= 0:
		return stack{rows: [][]int{{b.strand}}}
	case b.legs != nil:
		return p.stacked(b)
	}
	s := p.rowsOf(b.series[0])
	if p.foldedStrand(b.series[0]) {
		s.floor, s.folds = 1, true
	}
	for i, k := range b.series[1:] {
		t, at := p.rowsOf(k), s.exit
		folded := p.foldedStrand(k)
		if folded || p.g.kind(b.series[i].to) == assembly.Store {
			at = len(s.rows) + t.entry
		}
		s.beside(t, at)
		if folded {
			s.floor, s.folds, s.turns = len(s.rows), true, true
		}
	}
	return s
}

func (p *plan) foldedStrand(b *block) bool { return b.strand >= 0 && p.isFolded(b.to) }

// beside puts t to the right of s, its entry in row at of s.
func (s *stack) beside(t stack, at int) {
	for s.floor > 0 && at-t.entry < s.floor && at >= s.floor {
		s.insert(s.floor, 1)
		at++
	}
	if over := t.entry - at; over > 0 {
		s.insert(0, over)
		s.entry, at = s.entry+over, at+over
	}
	if below := len(t.rows) - t.entry - 1; (t.folds || s.over) && len(s.rows) > at+1 {
		s.insert(at+1, below)
	}
	for len(s.rows) < at-t.entry+len(t.rows) {
		s.rows = append(s.rows, nil)
	}
	for i, list := range t.rows {
		s.rows[at-t.entry+i] = append(s.rows[at-t.entry+i], list...)
	}
	s.exit = at - t.entry + t.exit
	s.folds, s.over = s.folds || t.folds, s.over || t.over
}

// insert puts n empty rows before row at.
func (s *stack) insert(at, n int) {
	rows := append([][]int(nil), s.rows[:at]...)
	rows = append(rows, make([][]int, n)...)
	s.rows = append(rows, s.rows[at:]...)
}

// stacked lays the legs of a parallel group one below the other; its axis is that of
// the leg nearest the main.
func (p *plan) stacked(b *block) stack {
	var s stack
	axis := b.legs[0]
	for _, l := range b.legs {
		if l.high < axis.high {
			axis = l
		}
	}
	for _, l := range b.legs {
		t := p.rowsOf(l)
		if l == axis && l.series != nil && p.foldedStrand(l.series[0]) {
			// What runs back must not share the row of what comes before.
			t = stack{rows: append([][]int{nil}, t.rows...), exit: t.exit + 1, folds: true}
		}
		s.folds, s.over = s.folds || t.folds, s.over || t.over || t.turns
		if l == axis {
			s.entry, s.exit = len(s.rows)+t.entry, len(s.rows)+t.exit
		}
		s.rows = append(s.rows, t.rows...)
	}
	return s
}

// rows is the core's rows from the top down, by strand.
type rows struct {
	g    *graph
	list [][]int
}

// coreRows gives every core strand, dead end and trunk its row.
func (p *plan) coreRows() *rows {
	r := &rows{g: p.g}
	axis := 0
	if p.root != nil {
		s := p.rowsOf(p.root)
		r.list, axis = s.rows, s.exit
	}
	for i, t := range p.homes {
		if i > 0 || len(r.list) == 0 {
			continue
		}
		r.list[axis] = append(r.list[axis], t.strand)
	}
	if len(r.list) == 0 && len(p.homes) > 0 {
		r.list = [][]int{{p.homes[0].strand}}
	}
	for _, t := range p.dead {
		r.hang(t, r.lowest(p.g.strands[t.strand].from))
	}
	for _, id := range p.back {
		if p.g.strands[id].rank <= 1 {
			r.list = append([][]int{{id}}, r.list...)
		} else {
			r.list = append(r.list, []int{id})
		}
	}
	for i, t := range p.homes {
		if i > 0 {
			r.list = append([][]int{{t.strand}}, r.list...)
		}
	}
	return r
}

// lowest returns the lowest row that touches a node, −1 if none does yet.
func (r *rows) lowest(n int) int {
	for i := len(r.list) - 1; i >= 0; i-- {
		for _, id := range r.list[i] {
			if s := r.g.strands[id]; s.from == n || s.to == n {
				return i
			}
		}
	}
	return len(r.list) - 1
}

// hang gives a dead-end tree rows of its own below row at and returns the last of them.
func (r *rows) hang(t tree, at int) int {
	if len(t.kids) == 0 {
		at++
		r.list = append(r.list, nil)
		copy(r.list[at+1:], r.list[at:])
		r.list[at] = []int{t.strand}
		return at
	}
	first := at + 1
	for _, k := range t.kids {
		at = r.hang(k, at)
	}
	r.list[first] = append(r.list[first], t.strand)
	return at
}

// settle gives each row its height and each strand its y, from the top at 0, and
// returns the bottom.
func (r *rows) settle() (bottom float64) {
	y := 0.0
	for i, list := range r.list {
		above, below := bareAbove, bareBelow
		for _, id := range list {
			a, b := r.g.band(id)
			above, below = max(above, a), max(below, b, r.hanging(id, i))
		}
		y = max(y+above, r.tankFloor(list))
		for _, id := range list {
			r.g.strands[id].y = y
			r.g.strands[id].row = i
		}
		y += below + rowGap
	}
	return y - rowGap
}

// avoid finds a strand that would run through a tank and gives it a row above all else;
// it reports whether it found one.
func (r *rows) avoid(c *columns) bool {
	for id := range r.g.strands {
		s := &r.g.strands[id]
		if s.gone || !c.live(s) {
			continue
		}
		for _, n := range c.crossings(s) {
			if r.g.kind(n) == assembly.Store && s.row > 0 {
				r.lift(id)
				return true
			}
		}
	}
	return false
}

// lift takes a strand out of its row and puts it into a new one on top.
func (r *rows) lift(id int) {
	lifted := [][]int{{id}}
	for _, list := range r.list {
		var kept []int
		for _, other := range list {
			if other != id {
				kept = append(kept, other)
			}
		}
		if kept != nil {
			lifted = append(lifted, kept)
		}
	}
	r.list = lifted
}

// hanging is the room under row i for a store that its strand fills or leaves and whose
// tank no lower row holds.
func (r *rows) hanging(id, i int) float64 {
	s := &r.g.strands[id]
	for _, n := range []int{s.from, s.to} {
		if r.g.kind(n) != assembly.Store {
			continue
		}
		if r.lowest(n) == i && r.g.portAt(id, n) == air {
			return tankLid + tankHigh + drainLen + 2
		}
		if r.g.portAt(id, n) != air {
			return tankHeel + drainLen + 1
		}
	}
	return 0
}

// tankFloor is the least y of a row that leaves a store, so that the store fits under
// the rows that fill it; −∞ for other rows.
func (r *rows) tankFloor(list []int) float64 {
	floor := math.Inf(-1)
	for _, id := range list {
		for _, end := range [2][2]int{{r.g.strands[id].from, r.g.strands[id].fromPort}, {r.g.strands[id].to, r.g.strands[id].toPort}} {
			if end[1] == air || r.g.kind(end[0]) != assembly.Store {
				continue
			}
			for _, other := range r.g.nodes[end[0]].strands {
				if s := r.g.strands[other]; s.row >= 0 && (s.fromPort == air || s.toPort == air) {
					floor = max(floor, s.y+tankDrop)
				}
			}
		}
	}
	return floor
}

// band is the height a strand needs above and below its line, with the symbols of the
// nodes at its ends.
func (g *graph) band(id int) (above, below float64) {
	s := &g.strands[id]
	for _, c := range s.cells {
		above, below = max(above, c.above), max(below, c.below)
	}
	for _, n := range []int{s.from, s.to} {
		if a, b, ok := g.symbolBand(n); ok {
			above, below = max(above, a), max(below, b)
		}
	}
	return above, below
}
