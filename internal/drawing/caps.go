package drawing

import "tideover/internal/assembly"

// contractCaps makes a tee whose only other pipes are one or two short dead ends (a
// vessel, a switch, a drain) a cell of the strand that passes through it.
func (g *graph) contractCaps() {
	for changed := true; changed; {
		changed = false
		for n := range g.nodes {
			if !g.nodes[n].gone && g.kind(n) == assembly.Tee && g.contractCap(n) {
				changed = true
			}
		}
	}
}

func (g *graph) contractCap(n int) bool {
	var caps []stub
	var through []int
	for _, id := range g.nodes[n].strands {
		if s, ok := g.stubAt(id, n); ok && len(caps) < 2 {
			caps = append(caps, s)
		} else {
			through = append(through, id)
		}
	}
	if len(caps) == 0 || len(through) != 2 {
		return false
	}
	first, in, a, aPort := g.leave(through[0], n)
	second, out, b, bPort := g.leave(through[1], n)
	if a == n || b == n {
		return false
	}
	tee := cell{part: g.nodes[n].part, in: in, out: out}
	tee.up, tee.down = arrange(g.a, caps)
	cells := append(reversed(first), tee)
	cells = append(cells, second...)
	for _, id := range append([]int(nil), g.nodes[n].strands...) {
		end := g.far(id, n)
		g.drop(id)
		if end != a && end != b {
			g.nodes[end].gone = true
		}
	}
	g.nodes[n].gone = true
	g.add(strand{from: a, fromPort: aPort, to: b, toPort: bPort, cells: cells, row: -1, first: g.nodes[n].part})
	return true
}

// stubAt reports whether a strand leaving n is a short dead end, and gives it.
func (g *graph) stubAt(id, n int) (stub, bool) {
	cells, _, to, toPort := g.leave(id, n)
	if to == n || len(g.nodes[to].strands) != 1 || !g.deadEnd(to) || len(cells) > 3 {
		return nil, false
	}
	for _, c := range cells {
		switch g.a.Parts[c.part].Kind {
		case assembly.Heater, assembly.Tee, assembly.Vessel:
			return nil, false
		}
	}
	out := append(stub(nil), cells...)
	return append(out, cell{part: g.nodes[to].part, in: toPort, out: toPort}), true
}

// deadEnd reports whether a node is where a pipe ends without an outlet.
func (g *graph) deadEnd(n int) bool {
	switch g.kind(n) {
	case assembly.Outlet, assembly.Main, assembly.Store, assembly.Heater, assembly.ThreeWay:
		return false
	}
	return true
}

// arrange decides which dead end stands up and which hangs: drains hang.
func arrange(a *assembly.Assembly, caps []stub) (up, down stub) {
	hangs := func(s stub) bool { return a.Parts[s[len(s)-1].part].Kind == assembly.Drain }
	if len(caps) == 1 {
		if hangs(caps[0]) {
			return nil, caps[0]
		}
		return caps[0], nil
	}
	if hangs(caps[0]) && !hangs(caps[1]) {
		return caps[1], caps[0]
	}
	return caps[0], caps[1]
}
