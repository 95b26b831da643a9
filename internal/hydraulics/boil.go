package hydraulics

import (
	"cmp"
	"slices"
)

// Boiling is a point at which the water of an answer could not hold together: it would
// have to be below its vapour pressure.
type Boiling struct {
	Point int32
	Name  string
	Head  float64 // as solved [m above the datum]
	Least float64 // the lowest head water can have there [m above the datum]
}

// BoilingHead is the lowest pressure head water can have [m], negative: below it, it
// boils, whatever sucks.
//
//	(p_v − p_atm)/(ρ g)
//
// altitude [m above the sea, −1000 to 11000], temperature [°C, 0.01 to 100]. About −10.1 m
// at sea level and −8.4 m at 1500 m, both at 20 °C. Water that has stood open lets air out well before.
// Source: hydrostatics; Wagner & Pruss 1993 for p_v; ISO 2533:1975 for p_atm.
func BoilingHead(altitude, temperature float64) float64 {
	return (VapourPressure(temperature) - Atmosphere(altitude)) / (Density(temperature) * Gravity)
}

// Boils returns every point of an answer whose head is less than its height plus least
// [m, from BoilingHead], worst first. No law knows vapour: an answer with a boiling point
// is not a state the water can be in. It says that the column parts there, that no more
// can be sucked past it than would bring it to its least head, and its flows through
// there are not to be used. Held points say what the world does and are judged too. Where
// a head is not determined, its highest is judged: only what boils for certain is listed.
func (n *Net) Boils(a *Answer, least float64) []Boiling {
	var list []Boiling
	for p := range n.points {
		low := n.points[p].Z + least
		if head := max(a.Head[p], a.High[p]); head < low {
			list = append(list, Boiling{int32(p), named("point", p, n.points[p].Name), head, low})
		}
	}
	slices.SortStableFunc(list, func(x, y Boiling) int { return cmp.Compare(x.Head-x.Least, y.Head-y.Least) })
	return list
}
