package catalogue

import (
	"math"

	"tideover/internal/quantity"
)

// Floor is the area of the round floor of a tank. [m²]
func (s Store) Floor() quantity.Area {
	return quantity.Area(math.Pi / 4 * float64(s.Diameter*s.Diameter))
}

// Depth is the height of what can be drawn: from where the float valve shuts, so far below
// the overflow's lip (margin), down to the outlet. [m]
func (s Store) Depth(margin quantity.Length) quantity.Length { return s.Overflow - margin - s.Outlet }

// Usable is what can be drawn of one tank. [m³]
func (s Store) Usable(margin quantity.Length) quantity.Volume {
	return quantity.Volume(float64(s.Floor()) * float64(s.Depth(margin)))
}
