package drawing

import (
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/drawing/font"
	"tideover/internal/words"
)

// shown groups the items of one part's symbol with its tag.
func (k *sketch) shown(p *assembly.Part, items ...Item) {
	class := string(p.Kind)
	if at := k.v.position(p); at != "" {
		class += " " + at
	}
	g := Gather(class, p.Tag, k.v.described(p), items...)
	if to, ok := k.v.Links[p.Tag]; ok {
		g = g.touched(to)
	}
	k.symbols = append(k.symbols, g)
}

// thumb is the least that can be touched of a symbol, either way [mm].
const thumb = 9.0

// touched makes a group one that can be touched, on a field no smaller than a thumb.
func (it Item) touched(to Link) Item {
	b := it.Box
	for i := range 2 {
		if gap := (thumb - (b[i+2] - b[i])) / 2; gap > 0 {
			b[i], b[i+2] = b[i]-gap, b[i+2]+gap
		}
	}
	it.Link = &to
	it.Kids = append([]Item{DrawRect("touch", b[0], b[1], b[2], b[3])}, it.Kids...)
	it.Box = union(it.Box, b)
	return it
}

// badge is a tag in its circle.
func badge(tag string, x, y float64) []Item {
	return []Item{
		DrawCircle("tag", x, y, tagRadius(tag)),
		DrawText("tag text", tagSize, Middle, x, y+font.CapHeight*tagSize/2, tag),
	}
}

// under writes lines of text centred below y.
func under(lines []string, x, y float64) []Item {
	var items []Item
	for i, t := range lines {
		items = append(items, DrawText("label", labelSize, Middle, x, y+labelLine*float64(i)+font.Ascent*labelSize, t))
	}
	return items
}

// cell draws one part on a strand.
func (k *sketch) cell(s *strand, c *cell, before, after carry) {
	p := k.part(c.part)
	at := pose{c.x, s.y, rightward}
	_, high := halfSize(p)
	r := tagRadius(p.Tag)
	tag := badge(p.Tag, c.x, s.y-high-laneGap-r)
	switch p.Kind {
	case assembly.Run:
		k.run(s, c, p)
	case assembly.Tee:
		k.teeCell(s, c, p)
	case assembly.Pump:
		if c.in > c.out {
			at.dir = leftward
		}
		k.shown(p, append(append(at.pump(), tag...), under(symbolLabel(p), c.x, s.y+pumpR+0.6)...)...)
	case assembly.Heater:
		k.shown(p, append(at.heater(), badge(p.Tag, c.x+heatWide+0.8+r, s.y-1.2-r)...)...)
	case assembly.Vessel:
		up := pose{c.x, s.y, upward}
		k.shown(p, append(up.vessel(), badge(p.Tag, c.x+vesselR+0.8+r, s.y-vesselH/2)...)...)
	default:
		if c.in > c.out {
			at.dir = leftward
		}
		k.shown(p, append(k.small(p, at), tag...)...)
	}
}

// small is the symbol of a part centred on a line.
func (k *sketch) small(p *assembly.Part, at pose) []Item {
	switch p.Kind {
	case assembly.NonReturn:
		return at.nonReturn(double(p))
	case assembly.Isolator:
		return at.isolator()
	case assembly.Spool:
		return at.spool(k.v.position(p))
	case assembly.Meter:
		return at.meter()
	case assembly.Pump:
		return at.pump()
	case assembly.Strainer:
		return at.strainer()
	case assembly.Regulator:
		return at.regulator()
	case assembly.Switch:
		return pose{at.x - eyeR, at.y, rightward}.eye(letters(p))
	}
	if p.Kind == assembly.FloatValve {
		return at.handValve("open")
	}
	return at.handValve(k.v.position(p))
}

// letters are what stands in a switch's or controller's circle.
func letters(p *assembly.Part) string {
	if p.Purpose == assembly.AsLevelSwitch || p.Purpose == assembly.AsLevelAlarm {
		return words.Say("drawing.letters.level", nil)
	}
	return words.Say("drawing.letters.switch", nil)
}

// run draws a run's label and tag; its line is drawn with the strand's pieces.
func (k *sketch) run(s *strand, c *cell, p *assembly.Part) {
	r, text := tagRadius(p.Tag), runLabel(p, k.v.Units)
	var items []Item
	if s.home {
		x := c.x - c.left + 0.4
		y := s.y - 1.6 - r
		items = append(badge(p.Tag, x+r, y), DrawText("label", labelSize, Start, x+2*r+0.8, y+font.CapHeight*labelSize/2, strings.Join(text, " ")))
	} else {
		items = append(badge(p.Tag, c.x, s.y-lane(r)), under(text, c.x, s.y+2)...)
	}
	k.pipes[c.part] = append(k.pipes[c.part], items...)
}

// teeCell draws a tee that is passed straight through, with its dead ends.
func (k *sketch) teeCell(s *strand, c *cell, p *assembly.Part) {
	k.stub(c.up, c.x, s.y, upward)
	k.stub(c.down, c.x, s.y, downward)
	k.shown(p, k.dot(p, c.x, s.y)...)
}

// dot is a tee: a dot with its tag beside it, left above the line.
func (k *sketch) dot(p *assembly.Part, x, y float64) []Item {
	return []Item{DrawCircle("dot", x, y, 0.8), DrawText("label", smallSize, End, x-1.1, y-2.1, p.Tag)}
}

// stub draws a dead end standing on a tee or hanging from it.
func (k *sketch) stub(s stub, x, y float64, dir direction) {
	if s == nil {
		return
	}
	sign := 1.0
	if dir == upward {
		sign = -1
	}
	last := s[len(s)-1]
	c := carry{}
	for _, e := range s {
		if got := k.v.of(k.part(e.part), 0, 1); got.known {
			c = got
			c.flow = 0
		}
	}
	at, owner := 0.0, -1
	for _, e := range s {
		p := k.part(e.part)
		long, half := stubSize(p)
		start := at
		at += long
		if start == 0 {
			at += stubLead
			k.straight(-1, c, x, y, x, y+sign*stubLead)
			start = stubLead
		}
		middle := y + sign*(start+long/2)
		tag := badge(p.Tag, x+half+0.7+tagRadius(p.Tag), middle)
		if p.Kind == assembly.Run {
			owner = e.part
			k.straight(owner, c, x, y+sign*start, x, y+sign*at)
			k.pipes[owner] = append(k.pipes[owner], tag...)
			continue
		}
		if e.part != last.part {
			reach, _ := halfSize(p)
			k.straight(-1, c, x, y+sign*start, x, middle-sign*reach)
			k.straight(-1, c, x, middle+sign*reach, x, y+sign*at)
			k.shown(p, append(k.small(p, pose{x, middle, dir}), tag...)...)
			continue
		}
		k.shown(p, append(k.terminal(p, pose{x, y + sign*start, dir}), tag...)...)
	}
}

// terminal is the symbol of a part a pipe ends in, its port at the pose.
func (k *sketch) terminal(p *assembly.Part, at pose) []Item {
	switch p.Kind {
	case assembly.Vessel:
		return at.vessel()
	case assembly.Switch, assembly.Meter:
		return at.eye(letters(p))
	case assembly.Drain:
		return at.drain(k.v.position(p))
	case assembly.Tee, assembly.Run:
		return at.end()
	case assembly.Heater:
		x, y := at.at(heatWide, 0)
		return pose{x, y, at.dir}.heater()
	}
	x, y := at.at(bowLong, 0)
	return k.small(p, pose{x, y, at.dir})
}
