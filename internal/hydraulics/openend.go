package hydraulics

// A draw-off ends in one of three ways, and each lets something else come back:
//
//	in the air, shut or running     the element of NewOutlet alone
//	in the air, open, pipe sucking  that and NewAirIn: air comes in at its own height
//	under water                     NewSubmerged: whatever is there comes in
//
// Leaving out the second hides that the water standing in a house runs back to the
// street when the street sucks and a tap stands open.

// NewAirIn makes the way air takes into an open draw-off: one-way from its mouth, a point
// held at its own height, to the pipe. c [m^2.5/s] is the coefficient of the draw-off.
//
//	h = (q/(28.9 c))²,  q the volume of air [m³/s]
//
// An outlet with a non-return valve of its own, or a mouth that is shut, has it Off.
// Strictly increasing; C1; below 0.1 mm it is linear.
func NewAirIn(part string, mouth, to int32, c float64) (Element, error) {
	g := guard{part: part}
	g.want("outlet coefficient", c, c >= 1e-9 && c <= 0.03, "1e-9 to 0.03 m^2.5/s")
	if err := g.fail(); err != nil {
		return Element{}, err
	}
	law, err := NewOutlet(part, c*airEase, 0)
	if err != nil {
		return Element{}, err
	}
	return Element{Name: part, From: mouth, To: to, Law: law, OneWay: true}, nil
}

// NewSubmerged makes a draw-off whose end lies under water: a hose in a bucket, a tube on
// a float valve that reaches into the store. Water leaves it and comes back the same way.
//
//	h = (q/c)² either way
//
// surface is a point held at the height of the open water it lies in, not of its end.
// c [m^2.5/s] as for the draw-off. Strictly increasing, C1, odd.
// Source: Torricelli's orifice law. It serves an open tank too: an opening into a point
// held at the tank's surface.
func NewSubmerged(part string, from, surface int32, c float64) (Element, error) {
	law, err := NewOutlet(part, c, 0)
	if err != nil {
		return Element{}, err
	}
	return Element{Name: part, From: from, To: surface, Law: law}, nil
}
