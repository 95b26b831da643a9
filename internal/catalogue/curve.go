package catalogue

import (
	"math"
	"sort"

	"tideover/internal/quantity"
	"tideover/internal/words"
)

// Curve returns a, b, c of H = a − b q − c q² [m, s/m², s²/m⁵] through the pump's points.
func (p Pump) Curve() (a, b, c float64) {
	q1, q2 := float64(p.Q1), float64(p.Q2)
	d1, d2 := float64(p.Shutoff-p.H1)/q1, float64(p.Shutoff-p.H2)/q2
	c = (d2 - d1) / (q2 - q1)
	return float64(p.Shutoff), d1 - c*q1, c
}

// falls reports whether the head falls with every bit more flow, from no flow on.
func (p Pump) falls() bool {
	if !(p.Q2 > p.Q1 && p.Shutoff > p.H1 && p.H1 > p.H2) {
		return false
	}
	_, b, c := p.Curve()
	return b >= 0 && c >= 0 && b+c > 0
}

// Curve returns the simultaneity points, units rising.
func (c *Catalogue) Curve() []Together {
	list := make([]Together, 0, len(c.Together))
	for _, t := range c.Together {
		list = append(list, t)
	}
	sort.Slice(list, func(i, j int) bool {
		return list[i].Units < list[j].Units || list[i].Units == list[j].Units && list[i].Key < list[j].Key
	})
	return list
}

// curveRises refuses a simultaneity curve on which more units draw no more: it can only be
// told when a whole file is over the rows there were.
func (c *Catalogue) curveRises(file string) error {
	pts := c.Curve()
	for i := 1; i < len(pts); i++ {
		if a, b := pts[i-1], pts[i]; !(b.Units > a.Units && b.Flow > a.Flow) {
			return &Fault{File: file, Line: 1, Column: 1, ID: "catalogue.simultaneity", Args: words.Args{"one": a.Key, "other": b.Key}}
		}
	}
	return nil
}

// DesignFlow returns the flow that so many loading units are likely to draw at once
// [m³/s], by straight lines between the points of the simultaneity curve on logarithmic
// scales, continued with the first line's slope below the first point. It is never less
// than largest, the biggest single draw-off [m³/s]. ok is false for a number of units
// that is negative, not a number or above the last point: no figure is guessed there.
// Source: EN 806-3:2006, capacities of table 3 at 2 m/s.
func (c *Catalogue) DesignFlow(units float64, largest quantity.Flow) (q quantity.Flow, ok bool) {
	pts := c.Curve()
	switch {
	case units == 0:
		return largest, true
	case len(pts) < 2 || !(units > 0) || units > pts[len(pts)-1].Units:
		return 0, false
	}
	i := sort.Search(len(pts)-2, func(i int) bool { return units <= pts[i+1].Units })
	a, b := pts[i], pts[i+1]
	slope := math.Log(float64(b.Flow/a.Flow)) / math.Log(b.Units/a.Units)
	q = a.Flow * quantity.Flow(math.Exp(slope*math.Log(units/a.Units)))
	return max(q, largest), true
}
