package quantity

import (
	"math"
	"math/big"
	"unicode/utf8"
)

// Parse reads a quantity of dimension dim as people write it, in any unit of that
// dimension: "3.2 bar ±0.1", "46 psi", "33 m head", "2 h 30 min", "1 1/2 in", "4 %".
// The system settles which gallon is meant; Metric settles none.
//
//   - "±0.1 bar", "±0.1" (the value's own unit) or "±5 %" (of the value), also written
//     "+-" or "+/-", makes it Measured; Half is that half-width.
//   - a trailing "?" makes it Assumed, with or without a spread.
//   - otherwise it is Stated.
//
// The conversion is exact and rounded once, to the nearest float64. The error is always
// a *ParseError. Parse panics when dim is NoDim, which is our own fault.
func Parse(text string, dim Dim, sys System) (Quantity, error) {
	if dim == NoDim || int(dim) >= len(dimKeys) {
		panic("quantity: Parse: a dimension is required")
	}
	p := parser{scanner: newScanner(text), dim: dim, sys: sys}
	q, err := p.quantity()
	if err != nil {
		return Quantity{}, err
	}
	return q, nil
}

// parser reads one quantity.
type parser struct {
	*scanner
	dim  Dim
	sys  System
	used []*unit // the units of the value's terms, in order
}

func (p *parser) quantity() (Quantity, *ParseError) {
	q := Quantity{Dim: p.dim, Basis: Stated}
	if len(p.in) > maxText || !utf8.ValidString(p.text) {
		return q, p.fail("quantity.unreadable", nil)
	}
	if err := p.noComma(); err != nil {
		return q, err
	}
	value, err := p.value()
	if err != nil {
		return q, err
	}
	if q.SI, err = p.float(value); err != nil {
		return q, err
	}
	p.blanks()
	if p.take("±") || p.take("+/-") || p.take("+-") {
		half, err := p.spread(value)
		if err != nil {
			return q, err
		}
		if q.Half, err = p.float(half); err != nil {
			return q, err
		}
		q.Basis = Measured
	}
	p.blanks()
	if p.take("?") {
		q.Basis = Assumed
	}
	p.blanks()
	if !p.end() {
		return q, p.fail("quantity.trailing", map[string]string{"rest": p.rest()})
	}
	return q, nil
}

// value reads the signed value: one term, or several of falling units as in "2 h 30 min".
func (p *parser) value() (*big.Rat, *ParseError) {
	p.blanks()
	negative := p.take("-")
	if !negative {
		p.take("+")
	}
	p.blanks()
	sum, u, err := p.term(negative)
	if err != nil {
		return nil, err
	}
	p.used = append(p.used, u)
	for {
		from := p.at
		p.blanks()
		if r := p.peek(0); !isDigit(r) && r != '.' && vulgar[r] == [2]int64{} {
			p.at = from
			return sum, nil
		}
		last := p.used[len(p.used)-1]
		next, u, err := p.term(negative)
		switch {
		case err != nil:
			return nil, err
		case !follows(last, u):
			p.at = from
			return nil, p.fail("quantity.two-values", nil)
		}
		sum.Add(sum, next)
		p.used = append(p.used, u)
	}
}

// follows reports whether a second term in unit u may be added to one in before, as in
// "2 h 30 min" or "5 ft 6 in". "3.2 bar 46 psi" are two readings of one value, not a sum.
func follows(before, u *unit) bool {
	if u.factor.Cmp(before.factor) >= 0 {
		return false
	}
	switch before.names[0] + " " + u.names[0] {
	case "ft in", "lb oz", "m cm", "m mm", "cm mm":
		return true
	}
	return u.dim == TimeDim
}

// term reads one number with its unit and returns its exact SI value.
func (p *parser) term(negative bool) (*big.Rat, *unit, *ParseError) {
	from := p.at
	n, ok := p.number()
	if !ok {
		return nil, nil, p.fail("quantity.no-number", nil)
	}
	if negative {
		n.Neg(n)
	}
	written := string(p.in[from:p.at])
	u, err := p.unitOf(written)
	if err != nil {
		return nil, nil, err
	}
	return u.si(n), u, nil
}

// unitOf reads the unit that follows the number written.
func (p *parser) unitOf(written string) (*unit, *ParseError) {
	p.blanks()
	from := p.at
	spelling, candidates := p.unit()
	if candidates == nil {
		if u := plain(p.dim); u != nil && p.noUnitFollows() {
			return u, nil
		}
		return nil, p.missing(written)
	}
	var own []*unit
	for _, u := range candidates {
		if u.dim == p.dim {
			own = append(own, u)
		}
	}
	if len(own) == 0 {
		p.at = from
		return nil, p.fail("quantity.dimension", map[string]string{
			"unit": spelling, "read": candidates[0].dim.String(),
		})
	}
	if len(own) == 1 && !own[0].isBare(spelling) {
		return own[0], nil
	}
	for _, u := range own {
		if u.of == p.sys {
			return u, nil
		}
	}
	p.at = from
	return nil, p.twoSizes(written, spelling, own)
}

// plain returns the unit of a number without one, nil where a unit is needed.
func plain(d Dim) *unit {
	for _, u := range units() {
		if u.dim == d && u.names[0] == "" {
			return u
		}
	}
	return nil
}

// noUnitFollows reports whether the number ends here: at a spread, a mark or the end.
func (p *parser) noUnitFollows() bool {
	switch p.peek(0) {
	case 0, '±', '+', '?':
		return true
	}
	return false
}

// float rounds an exact value to the nearest float64 and refuses what lies outside its range.
func (p *parser) float(r *big.Rat) (float64, *ParseError) {
	f, _ := r.Float64()
	if math.IsInf(f, 0) {
		return 0, p.fail("quantity.too-large", nil)
	}
	if f == 0 && r.Sign() != 0 {
		return 0, p.fail("quantity.too-small", nil)
	}
	return f, nil
}
