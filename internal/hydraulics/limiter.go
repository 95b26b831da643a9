package hydraulics

import "math"

// wall is a square law that turns into a wall at a limit: over the next ten-thousandth of
// the limit the slope climbs evenly to 100 m for a thousandth of it, and stays. C1,
// strictly increasing; a limit of 0 is no wall. Only forward flow meets it.
type wall struct {
	quadratic
	limit float64
}

// regulated is how far a regulator lets the flow rise over its limit at another 100 m, as
// a share of the limit; bending is the share over which it takes hold.
const (
	regulated = 1e-3
	bending   = 1e-4
)

func (l wall) drop(q float64) (h, dh float64) {
	if l.limit == 0 || q <= l.limit {
		return l.quadratic.drop(q)
	}
	h, dh = l.quadratic.drop(l.limit)
	over, bend, stiff := q-l.limit, bending*l.limit, 100/(regulated*l.limit)
	if over < bend {
		rise := (stiff - dh) / bend
		return h + over*(dh+rise*over/2), dh + rise*over
	}
	return h + bend*(dh+stiff)/2 + stiff*(over-bend), stiff
}

// Limiter is a flow limiter in a pipe: a part with a flow factor up to its limit, where
// an elastic ring or a piston takes hold.
//
//	h = (1 bar/(1000 kg/m³ g)) (q/Kv)²  up to  q = limit; above it a wall
//
// Kv [m³/s at 1 bar], limit [m³/s]; 100 m over what the limit needs raise the flow by
// 0.1 %. Backward it is a plain passage. Strictly increasing, C1.
// Source: an ideal constant-flow part; real ones hold ±10 to 15 % between 1 and 8 bar.
type Limiter struct {
	kv, limit float64
	law       wall
}

// NewLimiter makes a flow limiter. The limit must lie where its passage alone would lose
// no more than 100 m, or it would never limit anything.
func NewLimiter(part string, kv, limit float64) (*Limiter, error) {
	g := guard{part: part}
	g.want("flow factor", kv, kv >= 1e-9 && kv <= 10, "1e-9 to 10 m³/s at 1 bar")
	g.want("limit", limit, limit >= 1e-7 && limit <= 3*kv, "1e-7 m³/s to three times the flow factor")
	if err := g.fail(); err != nil {
		return nil, err
	}
	return &Limiter{kv, limit, wall{newQuadratic(0, barHead/(kv*kv)), limit}}, nil
}

// Drop is the head lost [m] and its slope [s/m²] at flow q [m³/s].
func (l *Limiter) Drop(q, _ float64) (h, dh float64) { return l.law.drop(q) }

func (l *Limiter) typical() float64 { return math.Min(l.limit, 0.2*l.kv) }
