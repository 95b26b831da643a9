package proof

import (
	"strings"

	"tideover/internal/assembly"
)

// isolated: every part that wears out can be shut off and taken out while the home runs.
type isolated struct{}

// About says what is promised.
func (isolated) About() About {
	return About{ID: "isolated", Kind: Arithmetic, Spread: OnceForAll, Source: "trade"}
}

// wears says which kinds are taken out in a home's life: not pipes, tees or taps.
func wears(k assembly.Kind) bool {
	switch k {
	case assembly.Pump, assembly.NonReturn, assembly.Strainer, assembly.Regulator, assembly.FloatValve, assembly.Vessel, assembly.Switch:
		return true
	}
	return false
}

// Judge looks at the assembly alone: from each such part to the valves around it, and
// whether a tap still has water with those shut.
func (isolated) Judge(v *View) Judgement {
	in := v.Input()
	g := newMeets(in.Assembly)
	var bound []string
	for i := range in.Assembly.Parts {
		p := &in.Assembly.Parts[i]
		hangs := p.Purpose == assembly.AsLevelSwitch || p.Purpose == assembly.AsLevelAlarm // in the tank: lifted out by its cable
		if wears(p.Kind) && !hangs && !g.out(i) {
			bound = append(bound, in.tag(i))
		}
	}
	if len(bound) > 0 {
		return broken(strings.Join(bound, ", "))
	}
	return kept()
}

// meets is the assembly as a graph: per port, the port it is joined to.
type meets struct {
	a    *assembly.Assembly
	with map[assembly.End]assembly.End
}

func newMeets(a *assembly.Assembly) *meets {
	g := &meets{a, map[assembly.End]assembly.End{}}
	for _, j := range a.Joins {
		g.with[j.A], g.with[j.B] = j.B, j.A
	}
	return g
}

// out reports whether part i can be taken out while a tap still has water.
func (g *meets) out(i int) bool {
	gone, shut := g.region(i)
	for p := range g.a.Parts {
		k := g.a.Parts[p].Kind
		if gone[p] && (k == assembly.Main || k == assembly.Store || k == assembly.Outlet) {
			return false
		}
	}
	return g.runs(gone, shut)
}

// region is what is shut off with part i when every valve around it is: the parts, and
// the ends at which those valves meet them.
func (g *meets) region(i int) (gone []bool, shut map[assembly.End]bool) {
	gone, shut = make([]bool, len(g.a.Parts)), map[assembly.End]bool{}
	gone[i] = true
	for queue := []int{i}; len(queue) > 0; queue = queue[1:] {
		p := queue[0]
		for k := range g.a.Parts[p].Ports {
			e, ok := g.with[assembly.End{Part: p, Port: k}]
			if !ok || gone[e.Part] {
				continue
			}
			if g.stops(e) {
				shut[e] = true
				continue
			}
			gone[e.Part] = true
			queue = append(queue, e.Part)
		}
	}
	return gone, shut
}

// stops reports whether the part at an end can be turned so that nothing passes that end:
// a hand valve, isolating valve or drain, a three-way valve at either side but its common port.
func (g *meets) stops(e assembly.End) bool {
	p := &g.a.Parts[e.Part]
	switch p.Kind {
	case assembly.HandValve, assembly.Isolator, assembly.Drain, assembly.Spool:
		return true
	case assembly.ThreeWay:
		return p.Ports[e.Port].Name != "c"
	}
	return false
}

// runs reports whether a tap is still joined to main or store when some parts are gone
// and some ends shut.
func (g *meets) runs(gone []bool, shut map[assembly.End]bool) bool {
	seen := make([]bool, len(g.a.Parts))
	var queue []int
	for p := range g.a.Parts {
		if k := g.a.Parts[p].Kind; !gone[p] && (k == assembly.Main || k == assembly.Store) {
			seen[p] = true
			queue = append(queue, p)
		}
	}
	for ; len(queue) > 0; queue = queue[1:] {
		p := queue[0]
		if g.a.Parts[p].Kind == assembly.Outlet {
			return true
		}
		for k := range g.a.Parts[p].Ports {
			e, ok := g.with[assembly.End{Part: p, Port: k}]
			if ok && !gone[e.Part] && !seen[e.Part] && !g.whole(e.Part, shut) {
				seen[e.Part] = true
				queue = append(queue, e.Part)
			}
		}
	}
	return false
}

// whole reports whether a part is shut altogether: a hand valve at one end, a three-way
// valve at both sides.
func (g *meets) whole(part int, shut map[assembly.End]bool) bool {
	n := 0
	for k := range g.a.Parts[part].Ports {
		if shut[assembly.End{Part: part, Port: k}] {
			n++
		}
	}
	return n > 0 && (g.a.Parts[part].Kind != assembly.ThreeWay || n > 1)
}
