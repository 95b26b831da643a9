package hydraulics

import "math"

// SeatKv is the flow factor of a seat or any sharp hole of a bore [m³/s at 1 bar]: what
// is left of a float valve when its arm has come off.
//
//	Kv = C_d (π/4) D² √(2 · 1 bar/(1000 kg/m³)),  C_d = 0.7
//
// bore [m], 0.5 mm to 0.1 m. Source: Torricelli's orifice law; C_d 0.7 is the usual
// figure for a short hole with a worn edge (0.61 sharp, 0.82 for a tube): an assumption.
func SeatKv(part string, bore float64) (float64, error) {
	g := guard{part: part}
	g.want("seat bore", bore, bore >= 5e-4 && bore <= 0.1, "0.0005 to 0.1 m")
	return 0.7 * math.Pi / 4 * bore * bore * math.Sqrt(200), g.fail()
}

// DelayedFloat is a float valve that snaps: it opens fully when the level has fallen to
// Opens and shuts fully when it has risen to Shuts. Between the two it stays as it is,
// and a case there has two answers. Levels in m from one mark.
type DelayedFloat struct{ Opens, Shuts float64 }

// NewDelayedFloat makes one, or refuses when it would open above where it shuts.
func NewDelayedFloat(part string, opens, shuts float64) (DelayedFloat, error) {
	g := guard{part: part}
	g.want("shutting level", shuts, true, "a number")
	g.want("opening level", opens, opens < shuts, "below the level at which it shuts")
	return DelayedFloat{opens, shuts}, g.fail()
}

// Stays reports whether the valve, open or not, stays so at a level [m].
func (f DelayedFloat) Stays(open bool, level float64) bool {
	if open {
		return level < f.Shuts
	}
	return level > f.Opens
}

// Next is whether the valve stands open at a level [m], having stood open or not before.
func (f DelayedFloat) Next(open bool, level float64) bool {
	return open == f.Stays(open, level)
}
