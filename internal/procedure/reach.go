package procedure

import (
	"maps"

	"tideover/internal/assembly"
)

// plumb is an assembly to be walked port by port, with every handle somewhere.
type plumb struct {
	a     *assembly.Assembly
	first []int             // per part: the number of its first port
	mate  []assembly.End    // per port: what it is joined to; Part −1: nothing
	at    map[string]string // position of each hand-turned part, by tag
}

// reached is every port that a walk got to.
type reached struct {
	first []int
	been  []bool
}

func (r reached) has(e assembly.End) bool { return r.been[r.first[e.Part]+e.Port] }

// stand returns the assembly with its handles in the given positions.
func stand(a *assembly.Assembly, at map[string]string) *plumb {
	p := &plumb{a: a, at: at, first: make([]int, len(a.Parts)+1)}
	for i := range a.Parts {
		p.first[i+1] = p.first[i] + len(a.Parts[i].Ports)
	}
	p.mate = make([]assembly.End, p.first[len(a.Parts)])
	for k := range p.mate {
		p.mate[k].Part = -1
	}
	for _, j := range a.Joins {
		p.mate[p.first[j.A.Part]+j.A.Port], p.mate[p.first[j.B.Part]+j.B.Port] = j.B, j.A
	}
	return p
}

// to is the same assembly with its handles in other positions.
func (p *plumb) to(at map[string]string) *plumb { return &plumb{p.a, p.first, p.mate, at} }

// with is the same assembly with some handles elsewhere.
func (p *plumb) with(turns []Turn) *plumb {
	at := maps.Clone(p.at)
	for _, t := range turns {
		at[p.a.Parts[t.Part].Tag] = t.To
	}
	return p.to(at)
}

// laid is the same assembly with some positions laid over its own.
func (p *plumb) laid(over map[string]string) *plumb {
	at := maps.Clone(p.at)
	maps.Copy(at, over)
	return p.to(at)
}

// way says how water may pass non-return valves on a walk.
type way struct {
	wall  int  // a part that lets nothing through; −1 none
	leaks int  // a non-return valve that lets water back; −1 none
	free  bool // every non-return valve and every pump lets water both ways: what joins, not what flows
}

// forward is the walk of water that goes where it is let.
var forward = way{wall: -1, leaks: -1}

// open reports whether water passes a part from one port to another.
func (p *plumb) open(i, in, out int, w way) bool {
	part := &p.a.Parts[i]
	switch {
	case i == w.wall:
		return false
	case part.Kind == assembly.Store, part.Kind == assembly.FloatValve, part.Kind == assembly.Outlet, part.Kind == assembly.Drain:
		return false // there the water ends: what goes on is a step of its own
	case part.Kind == assembly.NonReturn:
		return in < out || w.free || i == w.leaks
	case part.Kind == assembly.Pump:
		return in < out || w.free || w.leaks >= 0 // a standing pump lets water through either way
	case part.Ways == nil:
		return true
	}
	for _, x := range part.Ways {
		if x.Position == p.at[part.Tag] && (x.A == in && x.B == out || x.A == out && x.B == in) {
			return true
		}
	}
	return false
}

// reach is every port that water gets to from some ports on.
func (p *plumb) reach(from []assembly.End, w way) reached {
	r := reached{p.first, make([]bool, len(p.mate))}
	visit := append(make([]assembly.End, 0, len(p.mate)), from...)
	for len(visit) > 0 {
		e := visit[len(visit)-1]
		visit = visit[:len(visit)-1]
		k := p.first[e.Part] + e.Port
		if r.been[k] {
			continue
		}
		r.been[k] = true
		if m := p.mate[k]; m.Part >= 0 && !r.has(m) {
			visit = append(visit, m)
		}
		for out := range p.a.Parts[e.Part].Ports {
			if out != e.Port && p.open(e.Part, e.Port, out, w) {
				visit = append(visit, assembly.End{Part: e.Part, Port: out})
			}
		}
	}
	return r
}

// ports are the ends of every part of a kind.
func (p *plumb) ports(k assembly.Kind) []assembly.End {
	var list []assembly.End
	for _, i := range p.a.Of(k) {
		for n := range p.a.Parts[i].Ports {
			list = append(list, assembly.End{Part: i, Port: n})
		}
	}
	return list
}

// touches reports whether a port of a part is among those reached.
func touches(a *assembly.Assembly, been reached, part int) bool {
	for n := range a.Parts[part].Ports {
		if been.has(assembly.End{Part: part, Port: n}) {
			return true
		}
	}
	return false
}
