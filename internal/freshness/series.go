package freshness

import "math"

// Series is a store of equal compartments, each mixed, one after the other: one is a
// mixed store, many are nearly plug flow. All keep the same level.
type Series struct {
	Parts []Mixed
}

// NewSeries is a store of n compartments filled with one water.
func NewSeries(n int, volume float64, w Water) *Series {
	s := &Series{make([]Mixed, n)}
	for i := range s.Parts {
		s.Parts[i] = Mixed{volume / float64(n), w}
	}
	return s
}

// Volume is what the store holds. [m³]
func (s *Series) Volume() float64 { return s.Parts[0].Volume * float64(len(s.Parts)) }

// Mean is the water of the whole store, mixed. Compartments are equal.
func (s *Series) Mean() Water {
	var w Water
	n := float64(len(s.Parts))
	for _, m := range s.Parts {
		w.Age += m.Water.Age / n
		w.Chlorine += m.Water.Chlorine / n
		w.Heat += m.Water.Heat / n
	}
	return w
}

// Step lives through a span, one compartment after the other in short steps: what
// leaves one in a step, at its mean, enters the next. Amounts of age, heat and chlorine
// are kept exactly; the course is off by less than 1e-3 of the age at the default step
// (an eighth of a compartment's turnover). One compartment is exact in one step.
func (s *Series) Step(f Flow, in Water, around Around, d Decay) Drawn {
	n := float64(len(s.Parts))
	p := f.from(s.Volume())
	steps := 1.0
	if n > 1 {
		steps = 1 + math.Ceil(math.Max(f.In, f.Out)*p.theta(p.t)*n*stepsPerTurn)
	}
	shell := Around{around.Outside, around.Loss / n}
	d.Bottom /= n
	out := Drawn{Volume: f.Out * f.Span, First: s.Parts[len(s.Parts)-1].Water}
	for range int(steps) {
		last := s.short(Flow{f.Span / steps, f.In, f.Out}, in, shell, d)
		out.Last = last.Last
		out.Mean.Age += last.Mean.Age / steps
		out.Mean.Chlorine += last.Mean.Chlorine / steps
		out.Mean.Heat += last.Mean.Heat / steps
	}
	return out
}

const stepsPerTurn = 8

// short passes one short step from part to part. Between part i and the next flows what
// keeps all levels equal: In less the share (i+1)/n of what the store gains.
func (s *Series) short(f Flow, in Water, around Around, d Decay) Drawn {
	var out Drawn
	n := float64(len(s.Parts))
	flow := func(i int) float64 { return f.In*(n-float64(i))/n + f.Out*float64(i)/n }
	for i := range s.Parts {
		out = s.Parts[i].Step(Flow{f.Span, flow(i), flow(i + 1)}, in, around, d)
		if out.Volume > 0 {
			in = out.Mean
		}
	}
	return out
}
