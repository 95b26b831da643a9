package drawing

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/drawing/font"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// scale draws the height scale right of the outlets, with a leader from each to its
// true height.
func (k *sketch) scale() {
	if len(k.fan.leaves) == 0 {
		return
	}
	edge := 0.0
	for n := range k.g.nodes {
		if b := &k.g.nodes[n]; !b.gone && len(b.strands) > 0 {
			edge = max(edge, b.x+b.right)
		}
	}
	x0, x1 := edge+2, edge+9
	var items []Item
	var levels []leaf
	first, last := math.Inf(1), math.Inf(-1)
	for _, l := range k.fan.leaves {
		n := k.g.strands[l.strand].to
		if k.g.kind(n) != assembly.Outlet {
			continue
		}
		first, last = min(first, l.want), max(last, l.want)
		from := k.g.nodes[n].x + k.g.nodes[n].right + 0.8
		items = append(items, DrawLine("leader", from, l.y, x0, l.y, x1-1.5, l.want, x1, l.want))
		if len(levels) == 0 || levels[len(levels)-1].z != l.z {
			levels = append(levels, l)
		}
	}
	items = append(items, k.levels(levels, x1)...)
	if len(items) == 0 {
		return
	}
	items = append(items, DrawLine("scale", x1, first-2, x1, last+2))
	head := wrap(words.Say("drawing.scale", nil), smallSize, false, 22, 3)
	y := min(first-2, k.fan.leaves[0].y-3) - 1.5 - labelLine*float64(len(head))
	for i, t := range head {
		items = append(items, DrawText("note", smallSize, Middle, x1+4, y+labelLine*float64(i)+font.Ascent*smallSize, t))
	}
	k.labels = append(k.labels, Gather("scale", "", words.Say("drawing.scale", nil), items...))
}

// levels marks each height once beside the scale, pushed apart where figures would touch.
func (k *sketch) levels(list []leaf, x float64) []Item {
	free := make([]float64, len(list))
	for i, l := range list {
		free[i] = l.want - levelPitch*float64(i)
	}
	var items []Item
	for i, v := range isotonic(free) {
		y := v + levelPitch*float64(i)
		items = append(items, DrawLine("leader", x, list[i].want, x+1.6, y),
			DrawArea("symbol", x+2, y-1.6, x+4, y-1.6, x+3, y+0.1),
			DrawText("label", labelSize, Start, x+4.8, y+font.CapHeight*labelSize/2-0.4, k.height(quantity.Length(list[i].z))))
	}
	return items
}

// levelPitch is the least distance of two figures on the height scale [mm].
const levelPitch = 3.3

// apart lists parts that no pipe joins to the street in a row below the drawing.
func (k *sketch) apart() {
	if len(k.g.apart) == 0 {
		return
	}
	x, y := 0.0, k.bottom+14
	k.labels = append(k.labels, DrawText("label strong", labelSize, Start, x-9, y-8, words.Say("drawing.apart", nil)))
	for _, i := range k.g.apart {
		p := k.part(i)
		text := outletLabel(p) + " " + name(p)
		half, _ := halfSize(p)
		k.shown(p, append(k.small(p, pose{x, y, rightward}), DrawText("label", labelSize, Start, x+half+1, y+0.8, text))...)
		x += half + 8 + font.Advance(text, labelSize, true)
		if x > 200 {
			x, y = 0, y+9
		}
	}
}
