package hydraulics

import "math"

// Outlet is a draw-off: an orifice, held to a limit by a flow regulator when it has one.
//
//	q = c √h  up to  q = limit
//
// written the other way round, h = (q/c)², which has no infinite slope. c [m^2.5/s] at
// full opening; opened to x it is c x. Below 0.1 mm of head it turns linear. Above the
// limit the regulator holds the flow: another 100 m of head raise it by 0.1 %. C1,
// strictly increasing. An element with it must be one-way, ending at the outlet's mouth:
// a point whose head is held at its own height.
// Source: Torricelli's orifice law; the inverse form after Wagner, Shamir & Marks 1988,
// J. Water Resour. Plann. Manage. 114(3):276, and Elhay et al. 2016, ibid. 142(2).
type Outlet struct {
	c, limit float64
}

// NewOutlet makes a draw-off with coefficient c [m^2.5/s] and regulator limit [m³/s],
// 0 for none.
func NewOutlet(part string, c, limit float64) (*Outlet, error) {
	g := guard{part: part}
	g.want("outlet coefficient", c, c >= 1e-9 && c <= 1, "1e-9 to 1 m^2.5/s")
	g.want("regulator limit", limit, limit == 0 || limit >= 1e-7 && limit <= 1, "0 (none), or 1e-7 to 1 m³/s")
	if err := g.fail(); err != nil {
		return nil, err
	}
	return &Outlet{c, limit}, nil
}

// NewOutletAt makes a draw-off from one measured flow q [m³/s] at head h [m].
func NewOutletAt(part string, q, h, limit float64) (*Outlet, error) {
	g := guard{part: part}
	g.want("flow", q, q > 0, "above 0 m³/s")
	g.want("head", h, h > 0, "above 0 m")
	if err := g.fail(); err != nil {
		return nil, err
	}
	return NewOutlet(part, q/math.Sqrt(h), limit)
}

// Drop is the head an outflow q [m³/s] needs at opening x, and its slope [s/m²].
func (o *Outlet) Drop(q, x float64) (h, dh float64) {
	c := o.c * x
	b := 1 / (c * c)
	return wall{quadratic{b: b, z: 0.01 * c}, o.limit}.drop(q)
}

// Closes reports whether the outlet is shut at x.
func (o *Outlet) Closes(x float64) bool { return x <= 0 }

func (o *Outlet) typical() float64 {
	if o.limit > 0 {
		return math.Min(o.limit, 3*o.c)
	}
	return 3 * o.c
}
