package freshness

// Both is a mixed store whose chlorine is followed at two speeds: nobody knows how fast it goes. Its
// water is one, with one age and one warmth.
type Both struct {
	Mixed
	Quick float64 // chlorine in it, were it to go at the second speed [kg/m³]
}

// Step is Mixed.Step, with the mean of the chlorine in what was drawn at the second speed [kg/m³]; 0
// where nothing was.
func (b *Both) Step(f Flow, in Water, around Around, usual, quick Decay) (out Drawn, quickly float64) {
	p, was, heat := b.pass(f, in, around)
	c, q := b.courses(p, f, was, in, heat, usual, quick)
	out = b.drawn(p, f, was, in, Water{Chlorine: c.chlorine(f, b.Water.Chlorine), Heat: heat})
	return out, q.chlorine(f, b.Quick)
}

// Pass lives through a span as Step does and leaves out what was drawn, which costs most.
func (b *Both) Pass(f Flow, in Water, around Around, usual, quick Decay) {
	p, was, heat := b.pass(f, in, around)
	b.courses(p, f, was, in, heat, usual, quick)
}

// courses takes the chlorine to the end of a path at both speeds.
func (b *Both) courses(p path, f Flow, was, in Water, heat float64, usual, quick Decay) (c, q course) {
	c = chlorinated(p, f, was.Chlorine, in.Chlorine, heat, usual)
	q = chlorinated(p, f, b.Quick, in.Chlorine, heat, quick)
	b.Water.Chlorine, b.Quick = c.left(p.t), q.left(p.t)
	return c, q
}
