package drawing

import (
	"sort"

	"tideover/internal/assembly"
	"tideover/internal/words"
)

// Measures of the legend [mm].
const (
	legendCol  = 62.0
	legendMark = 13.6
	legendStep = 6.4
	legendLine = 2.9
)

// entry is one line of the legend: a mark and what it means.
type entry struct {
	mark []Item // drawn about 0, 0, at most legendMark wide
	text string
}

// legend explains the lines and symbols this drawing uses and says what every tag is,
// within a width, from the origin down.
func (k *sketch) legend(width float64) Item {
	var kids []Item
	kids = append(kids, DrawLine("hair", 0, 0, width, 0))
	blocks := append(k.keyBlocks(), section{"drawing.legend.tags", k.tagEntries()})
	items, _ := setBlocks(blocks, width, 4.5)
	return Gather("legend", "", words.Say("drawing.legend", nil), append(kids, items...)...)
}

// section is one part of the legend under its heading.
type section struct {
	id   string
	list []entry
}

func (k *sketch) keyBlocks() []section {
	return []section{{"drawing.legend.lines", k.lineEntries()}, {"drawing.legend.symbols", k.symbolEntries()}}
}

// Key explains the lines and symbols of a schematic in columns of a sheet that wide
// [mm]. What each tag is stands in Table.
func Key(a *assembly.Assembly, v View, width float64) *Scene {
	items, bottom := setBlocks(newSketch(a, v).keyBlocks(), width, 4.5)
	return &Scene{Title: words.Say("drawing.legend", nil), Desc: words.Say("drawing.legend", nil), Width: width, Height: bottom, Items: items}
}

// setBlocks sets blocks one below the other from y down.
func setBlocks(blocks []section, width, y float64) (kids []Item, bottom float64) {
	for _, part := range blocks {
		if len(part.list) == 0 {
			continue
		}
		kids = append(kids, DrawText("label strong", labelSize, Start, 0, y, words.Say(part.id, nil)))
		items, bottom := columnsOf(part.list, width, y+4.6)
		kids = append(kids, items...)
		y = bottom + 6.5
	}
	return kids, y - 4.5
}

// columnsOf sets entries in as many columns as fit, reading down.
func columnsOf(list []entry, width, top float64) (items []Item, bottom float64) {
	n := max(1, int(width/legendCol))
	per := (len(list) + n - 1) / n
	col := width / float64(n)
	bottom = top
	for c := 0; c*per < len(list); c++ {
		y := top
		for _, e := range list[c*per : min((c+1)*per, len(list))] {
			x := float64(c) * col
			for _, m := range e.mark {
				m.Shift(x+legendMark/2-0.4, y-0.9)
				items = append(items, m)
			}
			lines := wrap(e.text, labelSize, false, col-legendMark-2, 3)
			for i, t := range lines {
				items = append(items, DrawText("note", labelSize, Start, x+legendMark, y+legendLine*float64(i), t))
			}
			y += legendStep + legendLine*float64(max(0, len(lines)-1))
		}
		bottom = max(bottom, y-legendStep+1)
	}
	return items, bottom
}

// lineEntries are the kinds of line in use.
func (k *sketch) lineEntries() []entry {
	used := map[Water]bool{}
	var harm, moving bool
	for id, list := range k.carry {
		if k.g.strands[id].gone || !k.live(&k.g.strands[id]) {
			continue
		}
		for _, c := range list {
			used[c.water], harm, moving = true, harm || c.harm, moving || c.moves()
		}
	}
	var out []entry
	for _, w := range []Water{FromMain, FromStore, StandsThere, Unknown, Dry} {
		if used[w] {
			out = append(out, entry{sampleLine(carry{water: w}), words.Say("drawing.legend.water."+w.String(), nil)})
		}
	}
	if moving {
		out = append(out, entry{sampleLine(carry{water: FromMain, flow: 1}), words.Say("drawing.legend.moving", nil)})
	}
	if harm {
		out = append(out, entry{sampleLine(carry{water: FromMain, harm: true}), words.Say("drawing.legend.harm", nil)})
	}
	return out
}

func sampleLine(c carry) []Item {
	l := lines{pipes: map[int][]Item{}}
	l.straight(-1, c, -5, 0, 5, 0)
	return append(append(l.pipes[-1], l.cores...), l.over...)
}

// symbolEntries are the symbols in use, in the order of the legend's list.
func (k *sketch) symbolEntries() []entry {
	used := map[assembly.Kind]bool{}
	var pairs bool
	for i := range k.a.Parts {
		p := &k.a.Parts[i]
		used[p.Kind] = true
		pairs = pairs || double(p)
	}
	at := pose{0, 0, rightward}
	list := []struct {
		kind assembly.Kind
		id   string
		draw []Item
	}{
		{assembly.HandValve, "valve-open", at.handValve("open")},
		{assembly.HandValve, "valve-shut", at.handValve("shut")},
		{assembly.HandValve, "valve-half", at.handValve("half")},
		{assembly.Isolator, "isolator", at.isolator()},
		{assembly.ThreeWay, "three-way", threeWay(0, 0.3, [3]direction{leftward, downward, rightward}, [3]bool{true, false, true}, 3)},
		{assembly.Spool, "spool-out", at.spool("out")},
		{assembly.Spool, "spool-in", at.spool("in")},
		{assembly.NonReturn, "non-return", at.nonReturn(false)},
		{assembly.NonReturn, "non-return-double", at.nonReturn(true)},
		{assembly.FloatValve, "float", floatMark()},
		{assembly.Store, "store", shrunkTank()},
		{assembly.Pump, "pump", shrink(0.62, at.pump())},
		{assembly.Vessel, "vessel", shrink(0.8, pose{-4.5, 0, rightward}.vessel())},
		{assembly.Meter, "meter", at.meter()},
		{assembly.Regulator, "regulator", at.regulator()},
		{assembly.Strainer, "strainer", at.strainer()},
		{assembly.Switch, "switch", pose{-eyeR, 0, rightward}.eye(words.Say("drawing.letters.switch", nil))},
		{assembly.Drain, "drain", pose{-drainLen / 2, 0, rightward}.drain("shut")},
		{assembly.Outlet, "outlet", pose{-tapLong / 2, 0, rightward}.tap()},
		{assembly.Heater, "heater", heaterMark()},
		{assembly.Tee, "tee", []Item{DrawLine("pipe still", -4, 0, 4, 0), DrawLine("pipe still", 0, 0, 0, 2.4), DrawCircle("dot", 0, 0, 0.8)}},
	}
	var out []entry
	for _, e := range list {
		if used[e.kind] && (e.id != "non-return-double" || pairs) && (e.id != "valve-half" || k.halfOpen()) {
			out = append(out, entry{e.draw, words.Say("drawing.legend.symbol."+e.id, nil)})
		}
	}
	return out
}

func (k *sketch) halfOpen() bool {
	for _, at := range k.v.Positions {
		if at == "half" {
			return true
		}
	}
	return false
}

// shrink scales items about the origin; lines keep their weight.
func shrink(f float64, items []Item) []Item {
	for i := range items {
		it := &items[i]
		n := len(it.Pts)
		if it.Kind == Arc {
			n = 3
		}
		for j := range n {
			it.Pts[j] *= f
		}
		it.Size *= f
		for j := range it.Box {
			it.Box[j] *= f
		}
	}
	return items
}

func floatMark() []Item {
	return append(pose{-2.6, 0, rightward}.handValve("open"), DrawLine("symbol line", 0.4, 0, 4.6, 1.4), DrawCircle("symbol", 4.4, 1.4, 1.1))
}

// shrunkTank is an open tank small enough for the legend.
func shrunkTank() []Item {
	return []Item{
		DrawLine("symbol line", -4, -2, -4, 2.2, 4, 2.2, 4, -2), DrawLine("symbol line", -4.8, -2.3, 4.8, -2.3),
		DrawLine("symbol line", 2.6, -2.3, 2.6, -3), DrawLine("water", -3.8, -0.4, 3.8, -0.4),
	}
}

func heaterMark() []Item {
	return []Item{
		DrawRect("symbol", -1.8, -2.7, 1.8, 2.7),
		DrawLine("symbol line", -1.8, 1, -0.8, 1, -0.3, 0.2, 0.3, 1.8, 0.8, 1, 1.4, 1),
	}
}

// tagEntries say what each tag is; outlets carry their own names.
func (k *sketch) tagEntries() []entry {
	var list []*assembly.Part
	for i := range k.a.Parts {
		if p := k.part(i); p.Kind != assembly.Outlet && p.Kind != assembly.Run && p.Kind != assembly.Tee && p.Kind != assembly.Main {
			list = append(list, p)
		}
	}
	sort.SliceStable(list, func(i, j int) bool { return tagLess(list[i].Tag, list[j].Tag) })
	var out []entry
	for _, p := range list {
		text := name(p)
		if at := k.v.turned(p); at != "" {
			text = words.Say("drawing.legend.tag-position", words.Args{"name": text, "position": at})
		}
		out = append(out, entry{badge(p.Tag, 0, 0), text})
	}
	return out
}

// tagLess orders tags by their letters, then by their number: V2 before V10.
func tagLess(a, b string) bool {
	la, na := split(a)
	lb, nb := split(b)
	if la != lb {
		return la < lb
	}
	if len(na) != len(nb) {
		return len(na) < len(nb)
	}
	return na < nb
}

func split(tag string) (letters, number string) {
	i := len(tag)
	for i > 0 && tag[i-1] >= '0' && tag[i-1] <= '9' {
		i--
	}
	return tag[:i], tag[i:]
}
