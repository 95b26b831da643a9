package drawing

import "math"

// Our own proportions of the symbols the trade draws: half-lengths along the pipe and
// half-heights across it [mm].
const (
	bowLong  = 3.0 // hand valve, tip to end
	bowHigh  = 2.1
	wayLong  = 3.4 // one leg of a three-way valve
	checkLen = 2.6 // non-return valve
	eyeR     = 3.2 // meter, switch
	pumpR    = 4.6
	heatHigh = 6.5
	heatWide = 3.6
	tapLong  = 6.0
	drainLen = 7.5
	vesselR  = 3.0
	vesselH  = 9.0 // of a vessel standing on its port
)

// Direction is one of the four right angles, clockwise from right.
type direction int

const (
	rightward direction = iota
	downward
	leftward
	upward
)

// pose stands a symbol at x, y with its own u axis along dir.
type pose struct {
	x, y float64
	dir  direction
}

func (p pose) at(u, v float64) (x, y float64) {
	switch p.dir {
	case downward:
		u, v = -v, u
	case leftward:
		u, v = -u, -v
	case upward:
		u, v = v, -u
	}
	return p.x + u, p.y + v
}

// points maps u0 v0 u1 v1 … into the drawing.
func (p pose) points(uv ...float64) []float64 {
	out := make([]float64, len(uv))
	for i := 0; i+1 < len(uv); i += 2 {
		out[i], out[i+1] = p.at(uv[i], uv[i+1])
	}
	return out
}

func (p pose) line(class string, uv ...float64) Item { return DrawLine(class, p.points(uv...)...) }
func (p pose) area(class string, uv ...float64) Item { return DrawArea(class, p.points(uv...)...) }

func (p pose) circle(class string, u, v, r float64) Item {
	x, y := p.at(u, v)
	return DrawCircle(class, x, y, r)
}

// handValve is a bow-tie: open, hollow with the line running through; shut, filled (the
// line stops short of it); half, its first triangle filled. A position nobody stated is
// hollow without the line.
func (p pose) handValve(position string) []Item {
	left := []float64{-bowLong, -bowHigh, 0, 0, -bowLong, bowHigh}
	right := []float64{bowLong, -bowHigh, 0, 0, bowLong, bowHigh}
	a, b := "symbol", "symbol"
	if position == "shut" {
		a, b = "symbol solid", "symbol solid"
	} else if position == "half" {
		a = "symbol solid"
	}
	items := []Item{p.area(a, left...), p.area(b, right...)}
	if position == "open" || position == "half" {
		items = append(items, p.line("symbol line", -bowLong, 0, bowLong, 0))
	}
	return items
}

// isolator is a hand valve locked open, a bar across its stem, with its drain beside it.
func (p pose) isolator() []Item {
	return append(p.handValve("open"), p.line("symbol line", 0, 0, 0, -bowHigh), p.line("symbol line", -1, -bowHigh, 1, -bowHigh),
		p.line("symbol line", 0.9, 0.6, 0.9, bowHigh), p.line("symbol line", 0.2, bowHigh, 1.6, bowHigh))
}

// spool is a piece of pipe between two unions: in, an open box with the line running
// through; out, two caps facing each other across the gap it leaves.
func (p pose) spool(position string) []Item {
	const cap = 1.3
	ends := []Item{p.line("symbol line", -bowLong, -bowHigh, -bowLong, bowHigh), p.line("symbol line", bowLong, -bowHigh, bowLong, bowHigh)}
	if position == "in" {
		return append(ends, p.area("symbol", -bowLong, -cap, bowLong, -cap, bowLong, cap, -bowLong, cap), p.line("symbol line", -bowLong, 0, bowLong, 0))
	}
	return append(ends,
		p.area("symbol solid", -bowLong, -cap, -bowLong+1.1, -cap, -bowLong+1.1, cap, -bowLong, cap),
		p.area("symbol solid", bowLong-1.1, -cap, bowLong, -cap, bowLong, cap, bowLong-1.1, cap),
		p.line("symbol dash", -bowLong+1.6, 0, bowLong-1.6, 0))
}

// threeWay is three triangles tip to tip, one towards each port; the ways its position
// joins run through hollow ones, a port it shuts is filled.
func threeWay(x, y float64, ports [3]direction, joined [3]bool, n int) []Item {
	var items []Item
	for i, d := range ports[:n] {
		p, class := pose{x, y, d}, "symbol solid"
		if joined[i] {
			class = "symbol"
		}
		items = append(items, p.area(class, 0, 0, wayLong, -bowHigh, wayLong, bowHigh))
	}
	for i, d := range ports[:n] {
		if joined[i] {
			items = append(items, pose{x, y, d}.line("symbol line", 0, 0, wayLong, 0))
		}
	}
	return append(items, DrawCircle("dot", x, y, 0.7))
}

// nonReturn is an arrowhead against a bar: water passes towards the bar only. A double
// one is two in a row.
func (p pose) nonReturn(double bool) []Item {
	one := func(u float64) []Item {
		return []Item{
			p.area("symbol", u-checkLen, -bowHigh, u+checkLen-0.4, 0, u-checkLen, bowHigh),
			p.line("symbol line", u+checkLen, -bowHigh, u+checkLen, bowHigh),
		}
	}
	if double {
		return append(one(-checkLen-0.3), one(checkLen+0.3)...)
	}
	return one(0)
}

// meter is a circle with a dial hand and a tick where it begins.
func (p pose) meter() []Item {
	return []Item{
		p.circle("symbol", 0, 0, eyeR),
		DrawLine("symbol line", p.x, p.y, p.x+eyeR*0.55, p.y-eyeR*0.55),
		DrawLine("symbol line", p.x-eyeR, p.y, p.x-eyeR+1, p.y), DrawLine("symbol line", p.x+eyeR-1, p.y, p.x+eyeR, p.y),
		DrawCircle("dot", p.x, p.y, 0.5),
	}
}

// strainer is a box with its mesh slantwise across.
func (p pose) strainer() []Item {
	return []Item{
		p.area("symbol", -2.8, -2.1, 2.8, -2.1, 2.8, 2.1, -2.8, 2.1),
		p.line("symbol dash", -2.4, 1.8, 2.4, -1.8),
	}
}

// regulator is a body that narrows the way the water goes, under the bonnet of its spring: a
// wedge with a zigzag on it.
func (p pose) regulator() []Item {
	return []Item{
		p.area("symbol", -bowLong, -bowHigh, bowLong, -0.9, bowLong, 0.9, -bowLong, bowHigh),
		p.line("symbol line", -0.2, -1.5, 1, -1.9, -1, -2.5, 1, -3.1, -1, -3.7), p.line("symbol line", -1.3, -3.7, 1.3, -3.7),
	}
}

// pump is a circle with a triangle pointing the way it drives.
func (p pose) pump() []Item {
	c := pumpR * 0.5
	s := pumpR * math.Sqrt(3) / 2
	return []Item{p.circle("symbol", 0, 0, pumpR), p.area("symbol solid", pumpR-0.3, 0, -c, s-0.2, -c, 0.2-s)}
}

// vessel stands on its port at the origin, u away from the pipe: a capsule parted by its
// membrane.
func (p pose) vessel() []Item {
	r, h := vesselR, vesselH
	body := []float64{}
	for deg := 180.0; deg >= 0; deg -= 15 {
		s, c := math.Sincos(deg * math.Pi / 180)
		body = append(body, r-r*s, r*c)
	}
	for deg := 180.0; deg >= 0; deg -= 15 {
		s, c := math.Sincos(deg * math.Pi / 180)
		body = append(body, h-r+r*s, -r*c)
	}
	return []Item{p.area("symbol", body...), p.line("symbol line", h*0.45, -r, h*0.6, 0, h*0.45, r)}
}

// eye is a circle on its port, with letters in it: a pressure switch or controller.
func (p pose) eye(letters string) []Item {
	x, y := p.at(eyeR, 0)
	return []Item{DrawCircle("symbol", x, y, eyeR), DrawText("tag text", 2.4, Middle, x, y+0.85, letters)}
}

// drain is a valve ending in a hose tail that drops.
func (p pose) drain(position string) []Item {
	half := pose{p.x, p.y, p.dir}
	half.x, half.y = p.at(bowLong, 0)
	items := half.handValve(position)
	return append(items, p.line("symbol line", 2*bowLong, 0, drainLen, 0), p.line("symbol line", drainLen, -1.1, drainLen, 1.1))
}

// tap is the end of an outlet's pipe: a spout turned down with its handle.
func (p pose) tap() []Item {
	return []Item{
		p.line("symbol line", 0, 0, tapLong-1.2, 0, tapLong-1.2, 1.9),
		p.line("symbol line", 2, 0, 2, -1.6), p.line("symbol line", 0.8, -1.6, 3.2, -1.6),
		p.area("symbol solid", tapLong-1.9, 1.5, tapLong-0.5, 1.5, tapLong-1.2, 2.6),
	}
}

// heater is an upright capsule with its element.
func (p pose) heater() []Item {
	w, h := heatWide, heatHigh
	return []Item{
		DrawArea("symbol", p.x-w, p.y-h+1.5, p.x-w+1.5, p.y-h, p.x+w-1.5, p.y-h, p.x+w, p.y-h+1.5, p.x+w, p.y+h-1.5, p.x+w-1.5, p.y+h, p.x-w+1.5, p.y+h, p.x-w, p.y+h-1.5),
		DrawLine("symbol line", p.x-w, p.y+2.8, p.x-1.5, p.y+2.8, p.x-0.75, p.y+1.2, p.x+0.75, p.y+4.4, p.x+1.5, p.y+2.8, p.x+w-0.8, p.y+2.8),
	}
}

// street is the public main seen end on, with the ground above it; its port is to the right.
func (p pose) street() []Item {
	items := []Item{
		p.circle("symbol", -4, 0, 3.4), p.circle("symbol line", -4, 0, 2.3),
		p.line("scale", -9, -5.4, 1, -5.4),
	}
	for u := -8.0; u < 1; u += 2 {
		items = append(items, p.line("hair", u, -5.4, u+1.1, -6.7))
	}
	return items
}

// end is a pipe that ends blind.
func (p pose) end() []Item { return []Item{p.line("symbol line", 0, -1.4, 0, 1.4)} }

// tank is an open tank in section: walls, a lid that sits over them with its vent, the
// water and its level mark at mark, between two corners.
func tank(x0, y0, x1, y1, mark float64) []Item {
	level := tankLevel(y0, y1)
	items := []Item{
		DrawRect("clear", x0, y0, x1, y1),
		DrawLine("symbol line", x0, y0, x0, y1, x1, y1, x1, y0),
		DrawLine("symbol line", x0-1, y0+0.9, x0-1, y0-0.5, x1+1, y0-0.5, x1+1, y0+0.9),
		DrawLine("water", x0+0.3, level, x1-0.3, level),
		DrawArea("symbol", mark-1.1, level-1.9, mark+1.1, level-1.9, mark, level-0.1),
	}
	vent := (x0 + x1) / 2
	items = append(items, DrawLine("symbol line", vent, y0-0.5, vent, y0-2), DrawArc("symbol line", vent, y0-2, 1.1, 180, 360))
	return items
}

// tankLevel is where the water stands in a tank drawn between y0 and y1.
func tankLevel(y0, y1 float64) float64 { return y0 + min(7.5, (y1-y0)*0.4) }

// overflow is the warning pipe through a tank's left wall, ending above open ground.
func overflow(x, y float64) []Item {
	return []Item{
		DrawLine("symbol line", x, y, x-2.2, y, x-2.2, y+2.6),
		DrawLine("symbol air", x-2.2, y+3.6, x-2.2, y+6),
	}
}
