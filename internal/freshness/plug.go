package freshness

import "math"

// parcel is water that came in over one span, in the order it came: what lies in it
// changes straight from its front to its back.
type parcel struct {
	volume      float64
	front, back mark
}

// mark is one cross-section of the water: when it was age 0, what had decayed by the
// time it came in (∫ k dt since the beginning), and its chlorine then.
type mark struct{ born, decay, chlorine float64 }

func (a mark) to(b mark, share float64) mark {
	return mark{a.born + (b.born-a.born)*share, a.decay + (b.decay-a.decay)*share, a.chlorine + (b.chlorine-a.chlorine)*share}
}

// crumb is the share of the store that is left of a parcel by rounding alone: it would be the first
// to leave, as old as the parcel's end.
const crumb = 1e-12

// mostParcels is how many parcels are kept before neighbours are put together.
const mostParcels = 1024

// Plug is a store, or a pipe, in which water moves through in the order it came.
type Plug struct {
	Volume float64
	Heat   float64 // °C, of all of it: one lump
	now    float64 // s since the beginning
	decay  float64 // ∫ k dt since the beginning
	line   []parcel
}

// NewPlug is a store filled with one water.
func NewPlug(volume float64, w Water) *Plug {
	m := mark{-w.Age, 0, w.Chlorine}
	return &Plug{Volume: volume, Heat: w.Heat, line: []parcel{{volume, m, m}}}
}

// Step lives through a span. Ages and chlorine are exact, but for temperature, which
// enters the decay by its mean over the span, and the wall, which does by the mean level.
func (p *Plug) Step(f Flow, in Water, around Around, d Decay) Drawn {
	course := f.from(p.Volume)
	last, heat := warm(course, f.In, p.Heat, in.Heat, around)
	rate := d.rate(heat) + d.fixed()*course.theta(course.t)/math.Max(course.t, math.SmallestNonzeroFloat64)
	begin := mark{born: p.now, decay: p.decay}
	p.now += f.Span
	p.decay += rate * f.Span
	if came := f.In * f.Span; came > 0 {
		p.enter(parcel{came, mark{begin.born - in.Age, begin.decay, in.Chlorine}, mark{p.now - in.Age, p.decay, in.Chlorine}})
	}
	out := p.leave(f.Out*f.Span, begin)
	out.First.Heat, out.Last.Heat, out.Mean.Heat = p.Heat, last, heat
	p.Heat, p.Volume = last, course.v1
	return out
}

// enter adds a parcel at the back, onto the last one where it only goes on.
func (p *Plug) enter(n parcel) {
	if k := len(p.line) - 1; k >= 0 && p.line[k].goesOn(n) {
		p.line[k] = parcel{p.line[k].volume + n.volume, p.line[k].front, n.back}
		return
	}
	p.line = append(p.line, n)
	if len(p.line) > mostParcels {
		p.halve()
	}
}

// goesOn reports that two parcels lie on one straight line.
func (a parcel) goesOn(b parcel) bool {
	same := func(x, y float64) bool { return math.Abs(x-y) <= 1e-9*math.Abs(x) }
	return a.back == b.front && a.front.chlorine == b.back.chlorine &&
		same((a.back.born-a.front.born)/a.volume, (b.back.born-b.front.born)/b.volume) &&
		same((a.back.decay-a.front.decay)/a.volume, (b.back.decay-b.front.decay)/b.volume)
}

// halve puts neighbours together, pair by pair: memory stays bounded, and of the course
// within a pair only the ends stay.
func (p *Plug) halve() {
	half := p.line[:0]
	for i := 0; i+1 < len(p.line); i += 2 {
		a, b := p.line[i], p.line[i+1]
		half = append(half, parcel{a.volume + b.volume, a.front, b.back})
	}
	if len(p.line)%2 == 1 {
		half = append(half, p.line[len(p.line)-1])
	}
	p.line = half
}

// leave takes a volume from the front, over a span that began at begin.
func (p *Plug) leave(volume float64, begin mark) Drawn {
	d := Drawn{Volume: volume, First: p.seen(p.line[0].front, begin)}
	d.Last = d.First
	gone := 0.0
	for gone < volume && (len(p.line) > 1 || p.line[0].volume > 0) {
		first := &p.line[0]
		take := math.Min(volume-gone, first.volume)
		cut := first.front.to(first.back, take/first.volume)
		a := p.seen(first.front, p.moment(begin, gone/volume))
		b := p.seen(cut, p.moment(begin, (gone+take)/volume))
		d.Mean.Age += (a.Age + b.Age) / 2 * take / volume
		d.Mean.Chlorine += between(a.Chlorine, b.Chlorine) * take / volume
		d.Last = b
		gone += take
		first.front, first.volume = cut, first.volume-take
		if first.volume <= crumb*p.Volume && len(p.line) > 1 {
			p.line = p.line[1:]
		}
	}
	return d
}

// moment is the time, and what has decayed by it, at a share of the span that ends now.
func (p *Plug) moment(begin mark, share float64) mark {
	return begin.to(p.mark(), share)
}

func (p *Plug) mark() mark { return mark{born: p.now, decay: p.decay} }

func (p *Plug) seen(m, at mark) Water {
	return Water{Age: at.born - m.born, Chlorine: m.chlorine * math.Exp(m.decay-at.decay)}
}

// between is the mean of what changes as an exponential from a to b.
func between(a, b float64) float64 {
	if !(a > 0 && b > 0) || math.Abs(a-b) < 1e-6*a {
		return (a + b) / 2
	}
	return (a - b) / math.Log(a/b)
}

// Mean is the mean age and chlorine of what the store holds.
func (p *Plug) Mean() Water {
	w := Water{Heat: p.Heat}
	for _, c := range p.line {
		a, b := p.seen(c.front, p.mark()), p.seen(c.back, p.mark())
		w.Age += (a.Age + b.Age) / 2 * c.volume / p.Volume
		w.Chlorine += between(a.Chlorine, b.Chlorine) * c.volume / p.Volume
	}
	return w
}

// Oldest is the age of the water next to leave. [s]
func (p *Plug) Oldest() float64 { return p.now - p.line[0].front.born }
