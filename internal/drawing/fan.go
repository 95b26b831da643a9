package drawing

import (
	"math"
	"sort"
)

// leaf is one end of the fan on the right: an outlet, or a dead end among them.
type leaf struct {
	strand       int
	home         int // of plan.homes
	z            float64
	rows         []int // strands that share its row
	above, below float64
	want, y      float64
}

// fan is the home: its leaves in order of height.
type fan struct {
	g      *graph
	leaves []leaf
}

// fanOf orders the leaves of all homes by height and lets each pipe towards them share
// the row of one of its own leaves, so that no two pipes lie on one another.
func (p *plan) fanOf() *fan {
	f := &fan{g: p.g}
	for i := range p.homes {
		f.bend(&p.homes[i], p)
		before := len(f.leaves)
		for _, k := range p.homes[i].kids {
			f.collect(k)
		}
		for n := range f.leaves[before:] {
			f.leaves[before+n].home = i
		}
	}
	sort.SliceStable(f.leaves, func(i, j int) bool { return f.leaves[i].z > f.leaves[j].z })
	at := map[int]int{}
	for i, l := range f.leaves {
		at[l.strand] = i
	}
	for _, t := range p.homes {
		for _, k := range t.kids {
			f.share(k, at)
		}
	}
	return f
}

// bend puts a corner before a home that is a single outlet, so that it too can stand
// at its height.
func (f *fan) bend(t *tree, p *plan) {
	g := f.g
	if len(t.kids) > 0 {
		return
	}
	outlet := t.node
	corner := len(g.nodes)
	g.nodes = append(g.nodes, node{part: -1, strands: []int{t.strand}})
	s := &g.strands[t.strand]
	toPort := s.toPort
	s.to, s.toPort = corner, 0
	g.nodes[outlet].strands = nil
	id := g.add(strand{from: corner, to: outlet, toPort: toPort, row: -1, first: g.nodes[outlet].part})
	t.node, t.kids = corner, []tree{{strand: id, node: outlet}}
	order := make([]int, 0, len(p.order)+1)
	for _, n := range p.order {
		if n == outlet {
			order = append(order, corner)
		}
		order = append(order, n)
	}
	p.order = order
}

func (f *fan) collect(t tree) {
	f.g.strands[t.strand].home = true
	if len(t.kids) == 0 {
		part := &f.g.a.Parts[f.g.nodes[t.node].part]
		z := 0.0
		if len(part.Ports) > 0 {
			z = float64(part.Ports[0].Z)
		}
		f.leaves = append(f.leaves, leaf{strand: t.strand, z: z})
	}
	for _, k := range t.kids {
		f.collect(k)
	}
}

// share returns the leaf whose row a tree's trunk takes: the middle one of its kids'.
func (f *fan) share(t tree, at map[int]int) int {
	mine := 0
	if len(t.kids) == 0 {
		mine = at[t.strand]
	} else {
		var list []int
		for _, k := range t.kids {
			list = append(list, f.share(k, at))
		}
		sort.Ints(list)
		mine = list[len(list)/2]
	}
	f.leaves[mine].rows = append(f.leaves[mine].rows, t.strand)
	return mine
}

// settle stands the leaves between top and bottom at their heights, or as near to them
// as their least distances allow (least squares: isotonic regression by pooling, Ayer
// et al. 1955), and returns the lowest reach.
func (f *fan) settle(top, bottom float64) {
	if len(f.leaves) == 0 {
		return
	}
	need := 0.0
	offset := make([]float64, len(f.leaves))
	for i := range f.leaves {
		l := &f.leaves[i]
		for _, id := range l.rows {
			a, b := f.g.band(id)
			l.above, l.below = max(l.above, a), max(l.below, b)
		}
		if i > 0 {
			need += max(leafPitch, f.leaves[i-1].below+leafGap+l.above)
		}
		offset[i] = need
	}
	last := len(f.leaves) - 1
	room := max(need, bottom-top-f.leaves[0].above-f.leaves[last].below)
	start := (top+bottom)/2 - room/2 + (f.leaves[0].above-f.leaves[last].below)/2
	high, low := f.leaves[0].z, f.leaves[last].z
	free := make([]float64, len(f.leaves))
	for i := range f.leaves {
		share := 0.5
		if high > low {
			share = (high - f.leaves[i].z) / (high - low)
		}
		f.leaves[i].want = start + share*room
		free[i] = f.leaves[i].want - offset[i]
	}
	for i, v := range isotonic(free) {
		f.leaves[i].y = min(max(v, start), start+room-need) + offset[i]
		for _, id := range f.leaves[i].rows {
			f.g.strands[id].y = f.leaves[i].y
		}
	}
}

// shift moves the whole fan down by dy.
func (f *fan) shift(dy float64) {
	for i := range f.leaves {
		f.leaves[i].y += dy
		f.leaves[i].want += dy
		for _, id := range f.leaves[i].rows {
			f.g.strands[id].y += dy
		}
	}
}

// isotonic returns the non-decreasing sequence nearest to v in least squares, by
// pooling adjacent violators (Ayer, Brunk, Ewing, Reid, Silverman 1955).
func isotonic(v []float64) []float64 {
	type pool struct {
		sum float64
		n   int
	}
	var pools []pool
	for _, x := range v {
		pools = append(pools, pool{x, 1})
		for k := len(pools) - 1; k > 0 && pools[k-1].sum*float64(pools[k].n) > pools[k].sum*float64(pools[k-1].n); k-- {
			pools[k-1].sum += pools[k].sum
			pools[k-1].n += pools[k].n
			pools = pools[:k]
		}
	}
	out := make([]float64, 0, len(v))
	for _, p := range pools {
		for range p.n {
			out = append(out, p.sum/float64(p.n))
		}
	}
	return out
}

// clearTrunks keeps the fan clear of the pipes that bring it water: below those of
// further homes, which run over everything, and no leaf on the line of the first.
func (f *fan) clearTrunks(p *plan, r *rows) {
	if len(p.homes) < 2 || len(f.leaves) == 0 {
		f.snap(p)
		return
	}
	floor := math.Inf(-1)
	for _, t := range p.homes[1:] {
		_, below := f.g.band(t.strand)
		floor = max(floor, f.g.strands[t.strand].y+below+rowGap)
	}
	f.shift(max(0, floor-(f.leaves[0].y-f.leaves[0].above)))
	trunk := f.g.strands[p.homes[0].strand].y
	for step := 0; step < 40 && f.near(trunk); step++ {
		f.shift(0.5)
	}
}

// snap moves the fan so that a leaf that lies almost on the line of the only trunk
// goes straight on from it.
func (f *fan) snap(p *plan) {
	if len(p.homes) == 0 || len(f.leaves) == 0 {
		return
	}
	best, trunk := math.Inf(1), f.g.strands[p.homes[0].strand].y
	for _, l := range f.leaves {
		if math.Abs(trunk-l.y) < math.Abs(best) {
			best = trunk - l.y
		}
	}
	if math.Abs(best) < leafPitch {
		f.shift(best)
	}
}

// tagRise is how far the tag of a tee reaches above its line [mm].
const tagRise = 5.0

// near reports whether a leaf lies so close to y, the line of the first home's trunk, that
// the two lines would run into one, or that the pipe to a leaf of another home would run
// through the tag where the trunk meets its header.
func (f *fan) near(y float64) bool {
	for _, l := range f.leaves {
		if math.Abs(l.y-y) < 2.5 || l.home > 0 && l.y < y && y-l.y < tagRise {
			return true
		}
	}
	return false
}
