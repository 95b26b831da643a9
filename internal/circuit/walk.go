package circuit

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/calc"
	"tideover/internal/catalogue"
)

func outletRow(p *assembly.Part) catalogue.Outlet {
	row, _ := p.Row.(catalogue.Outlet) // checked when the circuit was built
	return row
}

// Walk records the way of the water to outlet n in heads: the source's head, what each
// part takes or adds at the solved flow, the head left at the outlet, and from it the
// pressure and the flow. Every row begins where the one before ended and the last ends
// at the outlet's own height, so the walk closes. Where nothing reaches the outlet it is
// two rows: how high the water stands and how high the outlet is.
func (s *Solver) Walk(n int, sheet *calc.Sheet) {
	i := s.C.Outlets[n]
	if sheet == nil || !s.WalkMouth(i, sheet) {
		return
	}
	h, z := s.Head(i, 0), float64(s.C.Assembly.Parts[i].Ports[0].Z)
	p := sheet.Eval(PressureEq, h, z)
	c, limit := s.C.orifice(i)
	if limit > 0 {
		sheet.Eval(OutletFlow, c, p/Weight, limit)
		return
	}
	sheet.Eval(OpenOutletFlow, c, p/Weight)
}

// WalkMouth records the way of the water to a part that ends in the air, an outlet or a
// float valve, and reports whether water runs there.
func (s *Solver) WalkMouth(i int, sheet *calc.Sheet) bool {
	e := s.C.element[i]
	runs := s.Answer.Flow[e] > 0
	if sheet == nil {
		return runs
	}
	part := &s.C.Assembly.Parts[i]
	z := s.C.Net.Points()[s.C.Net.Elements()[e].To].Z
	if !runs {
		// What presses on it now lifts the water no higher than the low end.
		if low, _ := s.Between(i, 0); !math.IsInf(low, 0) {
			sheet.Walk(part.Tag, "walk.stands", 0, low)
			sheet.Walk(part.Tag, "walk.too-high", low, z)
		}
		return false
	}
	path, source := s.path(i)
	h := s.Answer.Head[source]
	sheet.Walk(s.sourceTag(source), s.sourceNote(source), 0, h)
	for k := len(path) - 1; k >= 0; k-- {
		p := &s.C.Assembly.Parts[s.C.part[path[k]]]
		after := s.Answer.Head[s.downstream(path[k])]
		sheet.Walk(p.Tag, "walk."+string(p.Kind), h, after)
		h = after
	}
	sheet.Walk(part.Tag, "walk."+string(part.Kind), h, z)
	return true
}

// path follows the water from an outlet upstream, at each point along the element that
// brings most, to the held point it comes from. Elements are in the order met.
func (s *Solver) path(outlet int) (path []int32, source int32) {
	at := s.C.point[outlet][0]
	for range s.C.part {
		if s.C.Net.Points()[at].Held {
			break
		}
		best, most := int32(-1), 0.0
		for _, e := range s.C.touching[at] {
			if in := s.inflow(e, at); in > most {
				best, most = e, in
			}
		}
		if best < 0 {
			break
		}
		path = append(path, best)
		at = s.upstream(best)
	}
	return path, at
}

// inflow is what element e brings to the point [m³/s]; negative: takes away.
func (s *Solver) inflow(e, at int32) float64 {
	if s.C.Net.Elements()[e].To == at {
		return s.Answer.Flow[e]
	}
	return -s.Answer.Flow[e]
}

func (s *Solver) upstream(e int32) int32 {
	el := s.C.Net.Elements()[e]
	if s.Answer.Flow[e] >= 0 {
		return el.From
	}
	return el.To
}

func (s *Solver) downstream(e int32) int32 {
	el := s.C.Net.Elements()[e]
	if s.Answer.Flow[e] >= 0 {
		return el.To
	}
	return el.From
}

func (s *Solver) sourceTag(p int32) string {
	if p == s.C.street {
		return s.tagOf(assembly.Main)
	}
	for _, at := range s.C.upper {
		if at == p {
			return s.C.Assembly.Parts[s.C.Assembly.Header()].Tag
		}
	}
	return s.tagOf(assembly.Store)
}

func (s *Solver) sourceNote(p int32) string {
	if p == s.C.street {
		return "walk.source-main"
	}
	return "walk.source-store"
}

func (s *Solver) tagOf(k assembly.Kind) string {
	if at := s.C.Assembly.Of(k); len(at) > 0 {
		return s.C.Assembly.Parts[at[0]].Tag
	}
	return ""
}
