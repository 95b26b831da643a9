package circuit

import (
	"maps"
	"slices"

	"tideover/internal/assembly"
	"tideover/internal/hydraulics"
)

// Like builds the circuit of an assembly as New does, faster where it differs from c's in
// figures alone: what follows from how the parts are joined is taken over, and what has
// been learnt of c's layouts serves both. Either way its answers are to the last bit those
// of New.
func (c *Circuit) Like(a *assembly.Assembly, in Inputs) (*Circuit, error) {
	if len(c.Mishaps) > 0 || !alike(c.Assembly, a) {
		return New(a, in)
	}
	b := newBuilder(a, in)
	b.c.point, b.c.placed = c.point, c.placed
	b.points = append(make([]hydraulics.Point, 0, len(c.Net.Points())), c.Net.Points()[:c.placed]...)
	b.elements = make([]hydraulics.Element, 0, len(c.Net.Elements()))
	b.c.part = make([]int32, 0, len(c.part))
	b.rise()
	if err := b.addAll(); err != nil {
		return nil, err
	}
	net, err := c.Net.Like(b.points, b.elements)
	if err != nil {
		return nil, err
	}
	b.c.Net = net
	b.c.settings, b.c.touching, b.c.atWork = c.settings, c.touching, c.atWork
	return b.c, nil
}

// rise puts every placed point at the height of its first port.
func (b *builder) rise() {
	next := int32(0)
	for i := range b.a.Parts {
		for k, at := range b.c.point[i] {
			if at == next { // points are numbered in the order of their first ports
				b.points[at].Z, b.points[at].Held = float64(b.a.Parts[i].Ports[k].Z), false
				next++
			}
		}
	}
}

// alike reports whether two assemblies differ in figures alone: the same parts, joined and
// turned the same way.
func alike(a, b *assembly.Assembly) bool {
	if len(a.Parts) != len(b.Parts) || a.Together != b.Together || !slices.Equal(a.Joins, b.Joins) || !slices.Equal(a.Sets, b.Sets) {
		return false
	}
	for i := range a.Parts {
		p, q := &a.Parts[i], &b.Parts[i]
		if p.Tag != q.Tag || p.Kind != q.Kind || p.Purpose != q.Purpose || len(p.Ports) != len(q.Ports) || p.Under != q.Under || !slices.Equal(p.Ways, q.Ways) {
			return false
		}
	}
	return a.SharesSettings(b) || slices.EqualFunc(a.Settings, b.Settings, func(s, t assembly.Setting) bool {
		return s.Name == t.Name && maps.Equal(s.Positions, t.Positions)
	})
}
