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
// the overflow's lip (margin), down to where nothing more is drawn, so far above the outlet's
// centre (cover). It is nought where the valve shuts below that. [m]
func (s Store) Depth(margin, cover quantity.Length) quantity.Length {
	return max(0, s.Overflow-margin-s.Outlet-cover)
}

// Dead is what stands in one tank below the level at which nothing more is drawn, so far above
// its outlet's centre (cover). [m³]
func (s Store) Dead(cover quantity.Length) quantity.Volume {
	return quantity.Volume(float64(s.Floor()) * float64(s.Outlet+cover))
}

// Usable is what can be drawn of one tank. [m³]
func (s Store) Usable(margin, cover quantity.Length) quantity.Volume {
	return quantity.Volume(float64(s.Floor()) * float64(s.Depth(margin, cover)))
}
