package freshness

// Linked are tanks side by side on one level of which one has the float valve, and all give into one
// pipe: the others only rise and fall with it. What they take is the near one's water, what they
// give goes to the taps with it. Each is stirred by itself.
type Linked struct {
	Near, Far Mixed
	Share     float64 // of the water that is in the far ones, above 0 and below 1
}

// NewLinked are n tanks, 2 or more, with one water.
func NewLinked(n int, volume float64, w Water) *Linked {
	if n < 2 {
		panic("freshness: linked: two tanks or more")
	}
	share := 1 - 1/float64(n)
	return &Linked{Mixed{(1 - share) * volume, w}, Mixed{share * volume, w}, share}
}

// Volume is what all hold.
func (l *Linked) Volume() float64 { return l.Near.Volume + l.Far.Volume }

// Step lives through a span: what the near tank gave to the taps, and what the far ones did. While
// the level rises the far ones get the near one's mean water of the span.
func (l *Linked) Step(f Flow, in Water, around Around, d Decay) (near, far Drawn) {
	rise := l.Share * (f.In - f.Out)
	if rise < 0 {
		far = l.Far.Step(Flow{f.Span, 0, -rise}, in, around, d)
		near = l.Near.Step(Flow{f.Span, f.In, f.Out + rise}, in, around, d)
		return near, far
	}
	near = l.Near.Step(Flow{f.Span, f.In, f.Out + rise}, in, around, d)
	l.Far.Step(Flow{f.Span, rise, 0}, near.Mean, around, d)
	near.Volume = f.Out * f.Span
	return near, far
}
