package drawing

import (
	"sort"

	"tideover/internal/assembly"
	"tideover/internal/drawing/font"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// margin is the white edge of a drawing [mm].
const margin = 6.0

// Schematic draws an assembly in one setting, left to right as the water goes: street,
// incoming line, main leg above, store below, home. Where things stand depends on the
// assembly alone, so that drawings of two settings can be laid over one another; the
// view decides line styles, chevrons and valve positions.
//
// The outlets stand on the right in their order of height beside a height scale. Parts
// that no pipe joins to the street stand in a row of their own below.
func Schematic(a *assembly.Assembly, v View) *Scene {
	k := newSketch(a, v)
	for id := range k.g.strands {
		if s := &k.g.strands[id]; !s.gone && k.live(s) {
			k.strand(s, k.carry[id])
		}
	}
	for n := range k.g.nodes {
		if !k.g.nodes[n].gone {
			k.node(n)
		}
	}
	k.scale()
	k.apart()
	return k.scene()
}

// sketch is a schematic being drawn.
type sketch struct {
	lines
	a      *assembly.Assembly
	g      *graph
	p      *plan
	v      *View
	fan    *fan
	cols   *columns
	carry  [][]carry
	bottom float64
}

// newSketch settles where everything stands.
func newSketch(a *assembly.Assembly, v View) *sketch {
	g := graphOf(a)
	p := planOf(g)
	f := p.fanOf()
	g.measure(v.Units)
	r := p.coreRows()
	k := &sketch{a: a, g: g, p: p, v: &v, fan: f}
	for range len(g.strands) + 1 {
		bottom := r.settle()
		k.bottom = max(bottom, p.drainReach())
		f.settle(0, k.bottom)
		f.clearTrunks(p, r)
		k.cols = p.columns()
		if !r.avoid(k.cols) {
			break
		}
	}
	k.cols.spread()
	k.findUpright()
	k.carry = g.carries(&v)
	k.pipes = map[int][]Item{}
	k.tag = func(part int) string { return a.Parts[part].Tag }
	for _, l := range f.leaves {
		k.bottom = max(k.bottom, l.y+l.below)
	}
	return k
}

// findUpright lists the upright pieces: bars, and the ways up and down to tanks.
func (k *sketch) findUpright() {
	for n := range k.g.nodes {
		b := &k.g.nodes[n]
		if b.gone || len(b.strands) == 0 {
			continue
		}
		if k.g.kind(n) != assembly.Store {
			k.upright = append(k.upright, vertical{b.x, b.top, b.bottom})
			continue
		}
		for _, id := range b.strands {
			s := &k.g.strands[id]
			if k.g.portAt(id, n) == air {
				k.upright = append(k.upright, vertical{k.g.mouth(n, s), s.y, k.p.tankTop(n)})
			} else if x, path := k.p.dock(n, s); path != nil {
				k.upright = append(k.upright, vertical{x, min(s.y, path[3]), max(s.y, path[3])})
			}
		}
	}
}

func (k *sketch) live(s *strand) bool { return !k.g.nodes[s.from].gone && !k.g.nodes[s.to].gone }

func (k *sketch) part(i int) *assembly.Part { return &k.a.Parts[i] }

// strand draws a strand's line and the symbols on it.
func (k *sketch) strand(s *strand, c []carry) {
	x := k.leaves(s)
	for i := range s.cells {
		cl := &s.cells[i]
		left, right := k.cut(cl)
		k.piece(s, i, c[i], x, left)
		x = right
		k.cell(s, cl, c[i], c[i+1])
	}
	k.piece(s, len(s.cells), c[len(s.cells)], x, k.arrives(s))
}

// piece draws the i-th bare piece of a strand, which belongs to the run beside it.
func (k *sketch) piece(s *strand, i int, c carry, x0, x1 float64) {
	owner := -1
	for _, j := range []int{i - 1, i} {
		if j >= 0 && j < len(s.cells) && k.part(s.cells[j].part).Kind == assembly.Run {
			owner = s.cells[j].part
			break
		}
	}
	k.level(owner, c, x0, x1, s.y)
}

// cut is where the line meets a symbol: at its ends, or short of them where a shut
// valve breaks the line.
func (k *sketch) cut(c *cell) (left, right float64) {
	p := k.part(c.part)
	half, _ := halfSize(p)
	switch p.Kind {
	case assembly.Heater:
		half = heatWide
	case assembly.Vessel:
		half = 0
	case assembly.HandValve, assembly.Spool:
		if at := k.v.position(p); at == "shut" || at == "out" {
			half += shutGap
		}
	}
	return c.x - half, c.x + half
}

// leaves is the x at which a strand begins, on the symbol of its left node.
func (k *sketch) leaves(s *strand) float64 {
	n := &k.g.nodes[s.from]
	switch k.g.kind(s.from) {
	case assembly.Main:
		return n.x - 0.6
	case assembly.Store:
		if s.fromPort == air {
			return k.g.mouth(s.from, s)
		}
		x, _ := k.p.dock(s.from, s)
		return x
	case assembly.ThreeWay:
		return n.x + k.wayReach(s.from, s, rightward)
	}
	return n.x
}

// arrives is the x at which a strand ends, on the symbol of its right node.
func (k *sketch) arrives(s *strand) float64 {
	n := &k.g.nodes[s.to]
	switch k.g.kind(s.to) {
	case assembly.Store:
		if s.toPort == air {
			return k.g.mouth(s.to, s)
		}
		x, _ := k.p.dock(s.to, s)
		return x
	case assembly.ThreeWay:
		return n.x - k.wayReach(s.to, s, leftward)
	}
	return n.x
}

// scene gathers the layers into the drawing, from the top left corner.
func (k *sketch) scene() *Scene {
	layers := Gather("", "", "", k.layers()...)
	title := words.Say("drawing.schematic.title", words.Args{"job": k.v.Job, "setting": k.v.setting()})
	if k.v.Job == "" {
		title = words.Say("drawing.schematic.title-bare", words.Args{"setting": k.v.setting()})
	}
	layers.Shift(margin-layers.Box[0], margin+11-layers.Box[1])
	s := &Scene{
		Title: title, Desc: k.inWords(),
		Width: max(layers.Box[2]+margin, margin*2+font.Advance(title, 4.6, true)),
	}
	s.Items = append(s.Items, DrawText("title", 4.6, Start, margin, margin+3.8, title))
	s.Items = append(s.Items, layers.Kids...)
	if k.v.Bare {
		s.Height = layers.Box[3] + margin
		return s
	}
	legend := k.legend(s.Width - 2*margin)
	legend.Shift(margin, layers.Box[3]+9)
	s.Items = append(s.Items, legend)
	s.Height = legend.Box[3] + margin
	return s
}

func (k *sketch) layers() []Item {
	var items []Item
	owners := make([]int, 0, len(k.pipes))
	for part := range k.pipes {
		owners = append(owners, part)
	}
	sort.Ints(owners)
	for _, part := range owners {
		if part < 0 {
			items = append(items, Gather("pipes", "", "", k.pipes[part]...))
			continue
		}
		p := k.part(part)
		items = append(items, Gather("run "+k.v.Parts[p.Tag].Water.String(), p.Tag, k.v.described(p), k.pipes[part]...))
	}
	for _, layer := range []struct {
		class string
		kids  []Item
	}{{"cores", k.cores}, {"moving", k.over}, {"symbols", k.symbols}, {"labels", k.labels}} {
		if len(layer.kids) > 0 {
			items = append(items, Gather(layer.class, "", "", layer.kids...))
		}
	}
	return items
}

// height prints a level in the reader's units.
func (k *sketch) height(z quantity.Length) string {
	return quantity.Format(quantity.Of(z), k.v.Units)
}
