package hydraulics

import (
	"fmt"
	"math"
)

// Gravity is the standard acceleration of free fall [m/s²] (CGPM 1901).
const Gravity = 9.80665

// Refusal is a bad input, refused at the door: which part, which field, what it was and
// what would be accepted. Value and Limit are SI.
type Refusal struct {
	Part  string
	Field string
	Value float64
	Limit string // "above 0 m", "0 to 1"
}

// Error says it in one line.
func (r *Refusal) Error() string {
	return fmt.Sprintf("hydraulics: %s: %s: %g is not %s", r.Part, r.Field, r.Value, r.Limit)
}

// guard collects the first refusal among several fields.
type guard struct {
	part string
	err  *Refusal
}

// want refuses v unless ok; NaN and infinities are always refused.
func (g *guard) want(field string, v float64, ok bool, limit string) {
	if g.err == nil && (!ok || math.IsNaN(v) || math.IsInf(v, 0)) {
		g.err = &Refusal{Part: g.part, Field: field, Value: v, Limit: limit}
	}
}

func (g *guard) fail() error {
	if g.err == nil {
		return nil
	}
	return g.err
}
