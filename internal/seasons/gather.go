package seasons

import (
	"cmp"
	"slices"
)

// Ask is how narrow the headline is to be, and how long it may take.
type Ask struct {
	Measure Measure
	Store   int     // index of the store the headline is about
	Half    float64 // half-width asked for, in the measure's unit
	Least   int     // futures lived at the least; 0 counts as 32
	Most    int     // and at the most; 0 counts as 4096
}

// step is how many futures lie between two looks at the interval: the number lived must
// not hang on how many workers there are.
const step = 16

// Gather adds up tallies in the order of their futures, however they come in, and says
// when the headline is narrow enough. It keeps sums, not tallies: its size does not grow
// with the years of a future, but for the few tallies that wait for one before them.
type Gather struct {
	in      *Input
	ask     Ask
	next    int
	waiting map[int]*Tally
	done    bool

	sums  []([Measures]moments)
	gains [][2]moments // ride-through and litres short, each store against the one before
	each  []([Measures][]Pair)
	marks []mark // of each future, for the store of the headline
	total Tally
}

// NewGather returns an empty sum for an input.
func NewGather(in *Input, ask Ask) *Gather {
	if ask.Least <= 0 {
		ask.Least = 2 * step
	}
	if ask.Most <= 0 {
		ask.Most = 4096
	}
	return &Gather{in: in, ask: ask, waiting: map[int]*Tally{}, sums: make([][Measures]moments, len(in.Stores)),
		gains: make([][2]moments, len(in.Stores)), each: make([][Measures][]Pair, len(in.Stores)), total: Tally{Stores: make([]Count, len(in.Stores))}}
}

// Next is the number of futures already summed: the first that is still wanted.
func (g *Gather) Next() int { return g.next }

// Done says that no more futures are wanted.
func (g *Gather) Done() bool { return g.done }

// Add takes in the tally of future k. Tallies beyond the one that made the headline narrow
// enough are let go, so the answer is the same on any number of workers. It returns
// whether no more are wanted.
func (g *Gather) Add(k int, t *Tally) bool {
	if k < g.next || g.done {
		return g.done
	}
	g.waiting[k] = t
	for !g.done {
		t, ok := g.waiting[g.next]
		if !ok {
			break
		}
		delete(g.waiting, g.next)
		g.sum(t)
		g.next++
		g.done = g.next >= g.ask.Most || g.next == few && g.hopeless() || g.next >= g.ask.Least && g.next%step == 0 && g.narrow()
	}
	if g.done {
		clear(g.waiting)
	}
	return g.done
}

// Where no store can keep up by a wide margin there is nothing to be exact about.
const (
	few  = 4   // futures after which that is looked at
	wide = 0.1 // of what is asked for
)

// hopeless reports whether the main lacks a wide margin of what is asked for, were every
// store as large as you like.
func (g *Gather) hopeless() bool {
	for i := range g.total.Stores {
		if g.total.Asked-g.total.Stores[i].Potential < wide*g.total.Asked {
			return false
		}
	}
	return g.total.Asked > 0
}

func (g *Gather) narrow() bool {
	e := g.estimate(g.ask.Store, g.ask.Measure)
	return e.N > 0 && e.Half() <= g.ask.Half
}

// mark is how a future went for the store of the headline.
type mark struct{ worst, missed float64 }

// middling is the future in the middle of all, from the kindest to the worst: by its worst
// spell, then by the share not ridden out. −1 where none was lived.
func (g *Gather) middling() int {
	order := make([]int, len(g.marks))
	for k := range order {
		order[k] = k
	}
	slices.SortStableFunc(order, func(a, b int) int {
		x, y := g.marks[a], g.marks[b]
		return cmp.Or(cmp.Compare(x.worst, y.worst), cmp.Compare(x.missed, y.missed))
	})
	if len(order) == 0 {
		return -1
	}
	return order[len(order)/2]
}

func (g *Gather) sum(t *Tally) {
	own := &t.Stores[g.ask.Store]
	g.marks = append(g.marks, mark{own.Worst, 1 - own.Ridden/max(own.Outages, 1)})
	for i := range t.Stores {
		c := &t.Stores[i]
		for m := range Measures {
			num, den := m.pair(c, t)
			g.sums[i][m].add(num, den)
			g.each[i][m] = append(g.each[i][m], Pair{num, den})
		}
		if i > 0 {
			b := &t.Stores[i-1]
			g.gains[i][0].add(c.Ridden-b.Ridden, c.Outages)
			g.gains[i][1].add(b.Short-c.Short, t.Years)
		}
		g.total.Stores[i].plus(c)
	}
	g.total.Years += t.Years
	g.total.Asked += t.Asked
	g.total.Main += t.Main
	g.total.Called += t.Called
}

func (c *Count) plus(d *Count) {
	c.Outages += d.Outages
	c.Ridden += d.Ridden
	c.PersonDays += d.PersonDays
	c.Fine += d.Fine
	c.Short += d.Short
	c.Barred += d.Barred
	c.Empty += d.Empty
	c.Unserved += d.Unserved
	c.Worst = max(c.Worst, d.Worst)
	c.In += d.In
	c.Out += d.Out
	c.Spilled += d.Spilled
	c.Stored += d.Stored
	c.Potential += d.Potential
}

func (g *Gather) estimate(store int, m Measure) Estimate { return g.sums[store][m].estimate(m) }
