package circuit

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/hydraulics"
	"tideover/internal/quantity"
)

// DrainBack counts the water standing in the home that can run back to the street in the
// case last written into the state, with the main at its pressure there and air coming in
// at every open outlet and drain. heater is what each water heater holds that the water
// runs through. What runs on from an open store is not in it: that is a flow. Without a
// main nothing runs back.
func (s *Solver) DrainBack(heater quantity.Volume) (hydraulics.Drained, error) {
	c := s.C
	if c.street < 0 {
		return hydraulics.Drained{PerElement: make([]float64, len(c.Net.Elements()))}, nil
	}
	var air []int32
	volume := make([]float64, len(c.Net.Elements()))
	for i := range c.Assembly.Parts {
		p, e := &c.Assembly.Parts[i], c.element[i]
		if e < 0 {
			continue
		}
		switch row := p.Row.(type) {
		case catalogue.Pipe:
			volume[e] = math.Pi / 4 * float64(row.Bore*row.Bore) * float64(p.Length)
		case catalogue.Heater:
			volume[e] = float64(heater)
		}
		if (p.Kind == assembly.Outlet || p.Kind == assembly.Drain) && !s.State.Off[e] {
			air = append(air, c.Net.Elements()[e].From)
		}
	}
	return c.Net.DrainBack(s.State, c.street, s.State.Held[c.street], air, volume)
}

// Boils names the points where the last answer asks more suction of the water than it can
// bear, worst first: such an answer is not a state the water can be in. altitude is above
// the sea.
func (s *Solver) Boils(altitude quantity.Length) []hydraulics.Boiling {
	return s.C.Net.Boils(s.Answer, hydraulics.BoilingHead(float64(altitude), float64(s.C.in.Water)))
}
