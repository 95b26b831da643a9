package homes

import (
	"math"
	"strconv"
)

// unit is how a quantity is written: so many of it make one of the SI figure.
type unit struct {
	name  string
	of    float64 // of one in the figure handed in
	digit int     // decimals
}

// The units that people write, metric first. The figures handed in are bar, m, L/min, L and kg-free.
var (
	pressures = [2]unit{{"bar", 1, 2}, {"psi", 14.5037738, 0}}
	lengths   = [2]unit{{"m", 1, 1}, {"ft", 3.2808399, 1}}
	flows     = [2]unit{{"L/min", 1, 1}, {"gpm", 0.26417205, 2}}
	volumes   = [2]unit{{"L", 1, 0}, {"gal", 0.26417205, 1}}
)

// write writes x in the units of the home, with a basis drawn at random: measured to
// a share of itself, told, or guessed.
func (d *drawing) write(x float64, in [2]unit, share float64) string {
	u := in[0]
	if d.us {
		u = in[1]
	}
	text := figure(x*u.of, u.digit) + " " + u.name
	switch d.IntN(4) {
	case 0:
		return text + " ?"
	case 1:
		return text
	}
	half := math.Max(math.Abs(x*u.of)*share, math.Pow(10, -float64(u.digit)))
	return text + " ±" + figure(half, u.digit)
}

// figure prints with at most so many decimals; −0 is 0.
func figure(x float64, decimals int) string {
	p := math.Pow(10, float64(decimals))
	return strconv.FormatFloat(math.Round(x*p)/p+0, 'f', -1, 64)
}

// between draws evenly.
func (d *drawing) between(low, high float64) float64 { return low + (high-low)*d.Float64() }

func (d *drawing) metre(low, high float64) string {
	return d.write(d.between(low, high), lengths, 0.08)
}
func (d *drawing) litre(low, high float64) string { return d.write(d.between(low, high), volumes, 0.2) }

// celsius writes a temperature in the units of the home.
func (d *drawing) celsius(low, high float64) string {
	c := d.between(low, high)
	text, half := figure(c, 0)+" °C", " ±4"
	if d.us {
		text, half = figure(c*1.8+32, 0)+" °F", " ±7"
	}
	switch d.IntN(4) {
	case 0:
		return text + " ?"
	case 1:
		return text + half
	}
	return text
}
