package drawing

import (
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/drawing/font"
	"tideover/internal/quantity"
)

// Text and label measures [mm].
const (
	tagSize   = 2.5 // em of the text in a tag
	tagLeast  = 2.5 // least radius of a tag
	labelSize = 2.4
	labelLine = 3.0
	smallSize = 2.2 // tees' tags, which have no circle
	laneGap   = 0.9 // between symbol and tag
	tankWide  = 22.0
	tankApart = 1.8
	outletMax = 42.0 // widest outlet label before it is cut short
)

func tagRadius(tag string) float64 {
	return max(tagLeast, font.Advance(tag, tagSize, true)/2+0.7)
}

// lane is the height of a tag's centre above the line, the same for all small symbols.
func lane(r float64) float64 { return bowHigh + laneGap + r }

// runLabel says what a run is: its size and its length.
func runLabel(p *assembly.Part, sys quantity.System) []string {
	length := quantity.Format(quantity.Of(p.Length), sys)
	if p.Length <= 0 {
		return []string{p.Size.String()}
	}
	return []string{p.Size.Family, p.Size.Mark + " · " + length}
}

// symbolLabel is the lines under a larger symbol: what the catalogue calls it.
func symbolLabel(p *assembly.Part) []string {
	if p.Row == nil {
		return nil
	}
	return wrap(p.Row.Ref().Words, labelSize, false, 22, 3)
}

// wrap breaks text at blanks into lines no wider than width, at most so many; what is
// left over is cut short.
func wrap(text string, size float64, bold bool, width float64, most int) []string {
	var lines []string
	for _, w := range strings.Fields(text) {
		last := len(lines) - 1
		if last >= 0 && font.Advance(lines[last]+" "+w, size, bold) <= width {
			lines[last] += " " + w
			continue
		}
		if len(lines) == most {
			lines[last] = font.Fit(lines[last]+" "+w, size, bold, width)
			return lines
		}
		lines = append(lines, w)
	}
	for i := range lines {
		lines[i] = font.Fit(lines[i], size, bold, width)
	}
	return lines
}

func widest(lines []string, size float64, bold bool) float64 {
	w := 0.0
	for _, l := range lines {
		w = max(w, font.Advance(l, size, bold))
	}
	return w
}

// measure gives every cell and node the room its symbol, tag and label need.
func (g *graph) measure(sys quantity.System) {
	for id := range g.strands {
		s := &g.strands[id]
		for i := range s.cells {
			g.measureCell(&s.cells[i], s.home, sys)
		}
	}
	for n := range g.nodes {
		g.nodes[n].left, g.nodes[n].right = g.reachOf(n)
	}
}

func (g *graph) measureCell(c *cell, home bool, sys quantity.System) {
	p := &g.a.Parts[c.part]
	r := tagRadius(p.Tag)
	half, high := halfSize(p)
	c.left = max(half+1, r+0.4)
	c.right = c.left
	c.above, c.below = high+laneGap+2*r+0.2, high+0.5
	switch p.Kind {
	case assembly.Run:
		g.measureRun(c, home, sys)
	case assembly.Pump:
		lines := symbolLabel(p)
		c.left = max(c.left, widest(lines, labelSize, false)/2+0.6)
		c.right = c.left
		c.below = high + 0.8 + labelLine*float64(len(lines))
	case assembly.Heater:
		c.left, c.right = heatWide+0.8, heatWide+1+2*r
		c.above, c.below = heatHigh+0.6, heatHigh+0.6
	case assembly.Vessel:
		c.left, c.right = vesselR+0.6, vesselR+1+2*r
		c.above, c.below = vesselH+0.6, 1
	case assembly.Tee:
		c.left, c.right = font.Advance(p.Tag, smallSize, true)+1.6, 1.2
		c.above, c.below = 3.9, 1
		g.measureStub(c, c.up, &c.above)
		g.measureStub(c, c.down, &c.below)
	}
}

// halfSize is half the length of a symbol along the pipe and half its height.
func halfSize(p *assembly.Part) (long, high float64) {
	switch p.Kind {
	case assembly.NonReturn:
		if double(p) {
			return 2*checkLen + 0.3, bowHigh
		}
		return checkLen, bowHigh
	case assembly.Pump:
		return pumpR, pumpR
	case assembly.Meter, assembly.Switch:
		return eyeR, eyeR
	case assembly.Run, assembly.Tee:
		return 0, bowHigh
	}
	return bowLong, bowHigh
}

func double(p *assembly.Part) bool {
	row, ok := p.Row.(catalogue.NonReturn)
	return ok && row.Kind == "double"
}

// measureRun gives a run room: in the core its label stands below the line, in the fan
// beside its tag.
func (g *graph) measureRun(c *cell, home bool, sys quantity.System) {
	p := &g.a.Parts[c.part]
	r, lines := tagRadius(p.Tag), runLabel(p, sys)
	if home {
		w := 2*r + 0.8 + font.Advance(strings.Join(lines, " "), labelSize, false)
		c.left, c.right = w/2+0.4, w/2+0.4
		c.above, c.below = 2*r+1.8, 1
		return
	}
	c.left = max(r, widest(lines, labelSize, false)/2) + 0.6
	c.right = c.left
	c.below = 2.2 + labelLine*float64(len(lines))
}

// measureStub gives a tee's dead end room.
func (g *graph) measureStub(c *cell, s stub, reach *float64) {
	if s == nil {
		return
	}
	long := stubLead
	for _, e := range s {
		p := &g.a.Parts[e.part]
		length, half := stubSize(p)
		long += length
		c.left = max(c.left, half+0.5)
		c.right = max(c.right, half+0.7+2*tagRadius(p.Tag)+0.3)
	}
	*reach = max(*reach, long+0.4)
}

const stubLead = 4.4 // bare pipe between a tee and the first part of its dead end [mm]

// stubSize is the length of a part on a dead end and half its width.
func stubSize(p *assembly.Part) (long, half float64) {
	switch p.Kind {
	case assembly.Run:
		return 2*tagRadius(p.Tag) + 1.2, 0.3
	case assembly.Vessel:
		return vesselH, vesselR
	case assembly.Switch, assembly.Meter:
		return 2*eyeR + 0.2, eyeR
	case assembly.Pump:
		return 2*pumpR + 1.6, pumpR
	case assembly.Drain:
		return drainLen, bowHigh
	case assembly.Tee:
		return 2*tagRadius(p.Tag) + 1.2, 1.4
	case assembly.NonReturn:
		l, _ := halfSize(p)
		return 2*l + 1.6, bowHigh
	}
	return 2*bowLong + 1.6, bowHigh
}

// reachOf is how far a node's symbol reaches left and right of its bar.
func (g *graph) reachOf(n int) (left, right float64) {
	if g.nodes[n].part < 0 {
		return 0.5, 0.5
	}
	p := &g.a.Parts[g.nodes[n].part]
	r := tagRadius(p.Tag)
	switch p.Kind {
	case assembly.Tee:
		return font.Advance(p.Tag, smallSize, true) + 1.7, 1
	case assembly.ThreeWay:
		return wayLong + 0.4 + 2*r + 0.4, wayLong + 0.6
	case assembly.Main:
		return 9.6, 0
	case assembly.Store:
		return 1, 5 + float64(g.tanks(n))*(tankWide+tankApart)
	case assembly.Outlet:
		return 0, tapLong + 1 + font.Advance(outletLabel(p), labelSize, true)
	case assembly.Heater:
		return 0, 2*heatWide + 1 + 2*r
	}
	long, _ := stubSize(p)
	return 0, max(long+0.6, 2*r+0.4)
}

func outletLabel(p *assembly.Part) string { return font.Fit(p.Tag, labelSize, true, outletMax) }

// tanks is how many tanks a store is drawn as.
func (g *graph) tanks(n int) int { return max(1, g.a.Parts[g.nodes[n].part].Count) }

// symbolBand is the height a node's symbol needs about the rows that meet it.
func (g *graph) symbolBand(n int) (above, below float64, ok bool) {
	if g.nodes[n].part < 0 {
		return 0, 0, false
	}
	p := &g.a.Parts[g.nodes[n].part]
	r := tagRadius(p.Tag)
	switch p.Kind {
	case assembly.Tee:
		return 3.9, 1, true
	case assembly.ThreeWay:
		return max(1+2*r, wayLong) + 0.4, wayLong + 0.6, true
	case assembly.Main:
		return 10, 4.2 + 2*labelLine, true
	case assembly.Store:
		return 3, 4.5, true
	case assembly.Heater:
		return heatHigh + 0.6, heatHigh + 0.6, true
	case assembly.Outlet:
		return 2.4, 3.2, true
	}
	return eyeR + laneGap + 0.2 + 2*r, eyeR + 0.6, true
}
