package drawing

import (
	"math"
	"sort"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/drawing/font"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// node draws a node: its bar, its symbol and its tag.
func (k *sketch) node(n int) {
	b := &k.g.nodes[n]
	if len(b.strands) == 0 {
		return
	}
	kind := k.g.kind(n)
	if kind != assembly.Store {
		k.bar(n)
	}
	if b.part < 0 {
		return
	}
	p := k.part(b.part)
	y := k.g.strands[b.strands[0]].y
	switch kind {
	case assembly.Main:
		items := append(pose{b.x, y, rightward}.street(), under(wrap(name(p), labelSize, false, 18, 2), b.x-4, y+3.8)...)
		k.shown(p, append(items, DrawText("label strong", labelSize, Middle, b.x-4, y-7.6, p.Tag))...)
	case assembly.Tee:
		k.teeNode(n, p)
	case assembly.ThreeWay:
		k.threeWayNode(n, p)
	case assembly.Store:
		k.store(n, p)
	case assembly.Outlet:
		text := DrawText("label strong", labelSize, Start, b.x+tapLong+0.8, y+font.CapHeight*labelSize/2, outletLabel(p))
		k.shown(p, append(pose{b.x, y, rightward}.tap(), text)...)
	case assembly.Heater:
		r := tagRadius(p.Tag)
		k.shown(p, append(k.terminal(p, pose{b.x, y, rightward}), badge(p.Tag, b.x+2*heatWide+0.8+r, y)...)...)
	default:
		r := tagRadius(p.Tag)
		long, _ := stubSize(p)
		k.shown(p, append(k.terminal(p, pose{b.x, y, rightward}), badge(p.Tag, b.x+max(long/2, r), y-eyeR-laneGap-r)...)...)
	}
}

// byRow lists a node's strands from the top down.
func (k *sketch) byRow(n int) []int {
	list := append([]int(nil), k.g.nodes[n].strands...)
	sort.SliceStable(list, func(i, j int) bool { return k.g.strands[list[i]].y < k.g.strands[list[j]].y })
	return list
}

// bar draws the vertical line of a node, each piece with the water that must pass it.
func (k *sketch) bar(n int) {
	list := k.byRow(n)
	x := k.g.nodes[n].x
	for i := 0; i+1 < len(list); i++ {
		y0, y1 := k.g.strands[list[i]].y, k.g.strands[list[i+1]].y
		if y1-y0 < 0.01 {
			continue
		}
		k.straight(-1, k.between(n, list, i), x, y0, x, y1)
	}
}

// between is what a bar carries downwards between its i-th strand and the next: what
// the strands above bring in, or, seen from below, what those below take.
func (k *sketch) between(n int, list []int, i int) carry {
	var above, below carry
	for j, id := range list {
		c := k.g.into(id, n, k.carry)
		if j <= i {
			above = above.join(c)
		} else {
			below = below.join(c)
		}
	}
	switch {
	case i == 0 && above.known:
		return above
	case i == len(list)-2 && below.known:
		return below.reversed()
	case !above.known:
		return below.reversed()
	case !below.known || above.flow > stillFlow:
		return above
	case below.flow > stillFlow:
		return below.reversed()
	}
	out := above
	if below.weight() < above.weight() {
		out = below
	}
	out.flow = 0
	return out.settled()
}

// teeNode sets a dot at every row that joins the bar, and the tag beside one of them.
func (k *sketch) teeNode(n int, p *assembly.Part) {
	b := &k.g.nodes[n]
	list := k.byRow(n)
	at, incoming := k.g.strands[list[0]].y, false
	var items []Item
	for i, id := range list {
		s := &k.g.strands[id]
		if !incoming && s.to == n {
			at, incoming = s.y, true
		}
		corner := (i == 0 || i == len(list)-1) && b.bottom-b.top > 0.01 && !k.twoAt(n, s.y)
		if !corner {
			items = append(items, DrawCircle("dot", b.x, s.y, 0.8))
		}
	}
	items = append(items, DrawText("label", smallSize, End, b.x-1.1, at-2.1, p.Tag))
	k.shown(p, items...)
}

// twoAt reports whether a node is met from both sides at y.
func (k *sketch) twoAt(n int, y float64) bool {
	count := 0
	for _, id := range k.g.nodes[n].strands {
		if math.Abs(k.g.strands[id].y-y) < 0.01 {
			count++
		}
	}
	return count > 1
}

// ways finds the row a three-way valve stands in and the direction of each of its
// strands from there. Its strands lie in different rows, or on different sides of one,
// so some row always gives each a direction of its own; the home's row first.
func (k *sketch) ways(n int) (y float64, dirs map[int]direction) {
	list := k.byRow(n)
	candidates := append([]int(nil), list...)
	sort.SliceStable(candidates, func(i, j int) bool { return k.g.portAt(candidates[i], n) > k.g.portAt(candidates[j], n) })
	for _, centre := range candidates {
		y = k.g.strands[centre].y
		dirs = map[int]direction{}
		used := map[direction]bool{}
		for _, id := range list {
			d := k.towards(id, n, y)
			used[d] = true
			dirs[id] = d
		}
		if len(used) == len(list) {
			break
		}
	}
	return y, dirs
}

func (k *sketch) towards(id, n int, y float64) direction {
	s := &k.g.strands[id]
	switch {
	case s.y < y-0.01:
		return upward
	case s.y > y+0.01:
		return downward
	case s.from == n:
		return rightward
	}
	return leftward
}

// wayReach is how far a three-way valve's symbol reaches along a strand's own line.
func (k *sketch) wayReach(n int, s *strand, d direction) float64 {
	if y, _ := k.ways(n); math.Abs(y-s.y) < 0.01 {
		return wayLong
	}
	return 0
}

// threeWayNode draws a three-way valve in its position, with the letters of its ports.
func (k *sketch) threeWayNode(n int, p *assembly.Part) {
	b := &k.g.nodes[n]
	y, dirs := k.ways(n)
	joined := map[int]bool{}
	at := k.v.position(p)
	for _, w := range p.Ways {
		if w.Position == at || at == "" {
			joined[w.A], joined[w.B] = true, true
		}
	}
	var ports [3]direction
	var open [3]bool
	i := 0
	for _, id := range k.byRow(n) {
		if i < 3 {
			ports[i], open[i] = dirs[id], joined[k.g.portAt(id, n)]
			i++
		}
	}
	r := tagRadius(p.Tag)
	k.shown(p, append(threeWay(b.x, y, ports, open, i), badge(p.Tag, b.x-wayLong-0.4-r, y-1-r)...)...)
}

// store draws tanks side by side with what fills, empties and spills them.
func (k *sketch) store(n int, p *assembly.Part) {
	top, foot := k.p.tankTop(n), k.p.tankFoot(n)
	level := tankLevel(top, foot)
	var items []Item
	for i := range k.g.tanks(n) {
		x := k.g.tankLeft(n, i)
		mark := x + tankWide - 4.5
		if k.p.isFolded(n) {
			mark = x + 4.5
		}
		items = append(items, tank(x, top, x+tankWide, foot, mark)...)
	}
	if !k.p.metFromLeft(n) {
		items = append(items, overflow(k.g.tankLeft(n, 0), level+0.8)...)
	}
	middle := k.g.tankLeft(n, 0) + tankWide/2
	r := tagRadius(p.Tag)
	items = append(items, badge(p.Tag, middle, level+2.2+r)...)
	items = append(items, under(k.storeLabel(p), middle, level+2.8+2*r)...)
	k.shown(p, items...)
	for _, id := range k.g.nodes[n].strands {
		s, c := &k.g.strands[id], k.g.into(id, n, k.carry)
		if k.g.portAt(id, n) == air {
			k.fill(n, s, c, top, level)
			continue
		}
		_, path := k.p.dock(n, s)
		for i := 0; i+3 < len(path); i += 2 {
			k.straight(-1, c, path[i], path[i+1], path[i+2], path[i+3])
		}
	}
	if i := k.p.levels[n]; i > 0 {
		lp, x := k.part(i), k.g.lastWall(n)-levelAt
		r := tagRadius(lp.Tag)
		k.shown(lp, append(append([]Item{DrawLine("symbol line", x, foot, x, foot+levelStem)}, pose{x, foot + levelStem, downward}.eye(letters(lp))...),
			badge(lp.Tag, x, foot+levelStem+2*eyeR+0.5+r)...)...)
	}
	for i, d := range k.p.drains[n] {
		x := k.g.tankLeft(n, max(0, k.g.tanks(n)-1-i)) + 4
		dp := k.part(d)
		k.shown(dp, append(pose{x, foot, downward}.drain(k.v.position(dp)), badge(dp.Tag, x+bowHigh+0.7+tagRadius(dp.Tag), foot+4.5)...)...)
	}
}

// fill draws the pipe from a float valve down through the lid, the air it falls
// through, the arm and the ball.
func (k *sketch) fill(n int, s *strand, c carry, top, level float64) {
	x := k.g.mouth(n, s)
	end, way := top+2.4, 1.0
	if s.from == n {
		way = -1
	}
	k.straight(-1, c, x, s.y, x, end)
	arm := []Item{
		DrawLine("symbol air", x, end+0.9, x, level-0.3),
		DrawLine("symbol line", x, end-1.2, x+way*4.4, level-1),
		DrawCircle("symbol", x+way*4.4, level-0.4, 1.2),
	}
	class, tag := "float-arm", ""
	for _, cl := range s.cells {
		if p := k.part(cl.part); p.Kind == assembly.FloatValve {
			tag = p.Tag
		}
	}
	k.symbols = append(k.symbols, Gather(class, tag, words.Say("drawing.air-gap", nil), arm...))
}

// storeLabel is the size of a store and, where it stands above every tap, the height of its
// outlet: the taps live on that; else the bore of its overflow, where somebody told it.
func (k *sketch) storeLabel(p *assembly.Part) []string {
	row, ok := p.Row.(catalogue.Store)
	if !ok {
		return nil
	}
	label := []string{quantity.Format(quantity.Of(row.Nominal), k.v.Units)}
	if p.Count > 1 {
		label[0] = words.Say("drawing.each", words.Args{"size": label[0]})
	}
	switch { // the tank has room for one line more
	case k.aboveTaps(p):
		label = append(label, words.Say("drawing.stands", words.Args{"height": k.height(p.Ports[0].Z)}))
	case p.Spill.Mark != "":
		label = append(label, words.Say("drawing.overflow", words.Args{"bore": p.Spill.Mark}))
	}
	return label
}

// aboveTaps reports whether a store stands above every outlet.
func (k *sketch) aboveTaps(p *assembly.Part) bool {
	taps := k.g.a.Of(assembly.Outlet)
	for _, i := range taps {
		if k.g.a.Parts[i].Ports[0].Z >= p.Ports[0].Z {
			return false
		}
	}
	return len(taps) > 0
}
