package quantity

import (
	"math"
	"math/big"
	"strings"
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

// fail makes an error at the place reached, with the places every message may use.
func (p *parser) fail(id string, args map[string]string) *ParseError {
	all := map[string]string{
		"text":    strings.TrimSpace(p.text),
		"wanted":  p.dim.String(),
		"accepts": Accepts(p.dim, p.sys),
	}
	for k, v := range args {
		all[k] = v
	}
	return &ParseError{ID: id, Args: all, At: p.at}
}

// noComma refuses a comma between digits with both readings: a decimal comma to one
// reader is a separator of thousands to another.
func (p *parser) noComma() *ParseError {
	for i := 1; i+1 < len(p.in); i++ {
		if p.in[i] != ',' || !isDigit(p.in[i-1]) || !isDigit(p.in[i+1]) {
			continue
		}
		p.at = i
		text := strings.TrimSpace(p.text)
		without := strings.ReplaceAll(text, ",", "")
		if strings.Count(text, ",") > 1 || strings.Contains(text, ".") {
			return p.fail("quantity.comma", map[string]string{"without": without})
		}
		return p.fail("quantity.comma-two", map[string]string{
			"point": strings.Replace(text, ",", ".", 1), "without": without,
		})
	}
	return nil
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
		case u.shift.Sign() != 0 || u.dim == TemperatureDim || u.names[0] == "" ||
			u.factor.Cmp(last.factor) >= 0:
			p.at = from
			return nil, p.fail("quantity.two-values", nil)
		}
		sum.Add(sum, next)
		p.used = append(p.used, u)
	}
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
	return nil, p.twoGallons(written, spelling, own)
}

// plain returns the unit of a number without one, nil where a unit is needed.
func plain(d Dim) *unit {
	for _, u := range units {
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

// missing says that no unit follows, or one nobody knows.
func (p *parser) missing(written string) *ParseError {
	switch {
	case p.noUnitFollows():
		return p.fail("quantity.no-unit", map[string]string{"number": written})
	case isDigit(p.peek(0)):
		return p.fail("quantity.gap", map[string]string{
			"without": strings.ReplaceAll(strings.TrimSpace(string(p.in)), " ", ""),
		})
	}
	word, _, _ := strings.Cut(p.rest(), " ")
	return p.fail("quantity.unit", map[string]string{"unit": word})
}

// twoGallons refuses a unit that is of one size in the US and another in imperial
// measure, with both readings.
func (p *parser) twoGallons(written, spelling string, own []*unit) *ParseError {
	args := map[string]string{"unit": spelling, "number": written}
	n, _ := newScanner(written).number()
	for _, u := range own {
		si, _ := u.si(n).Float64()
		args[u.of.String()] = Format(Quantity{Dim: p.dim, SI: si}, Metric)
		args["write-"+u.of.String()] = written + " " + u.names[0]
	}
	return p.fail("quantity.two-sizes", args)
}

// spread reads what follows "±" and returns the exact SI half-width.
func (p *parser) spread(value *big.Rat) (*big.Rat, *ParseError) {
	p.blanks()
	from := p.at
	n, ok := p.number()
	if !ok {
		return nil, p.fail("quantity.spread", map[string]string{"rest": p.rest()})
	}
	written := string(p.in[from:p.at])
	p.blanks()
	last := p.used[len(p.used)-1]
	switch {
	case p.noUnitFollows() && len(p.used) > 1:
		return nil, p.fail("quantity.spread-two-units", map[string]string{
			"number": written, "first": p.used[0].names[0], "last": last.names[0],
		})
	case p.noUnitFollows():
		return last.span(n), nil
	case p.peek(0) == '%':
		return p.relative(n, written, value, last)
	}
	u, err := p.unitOf(written)
	if err != nil {
		return nil, err
	}
	return u.span(n), nil
}

// relative reads "5 %" after "±": a share of the value, where that has one meaning.
func (p *parser) relative(n *big.Rat, written string, value *big.Rat, u *unit) (*big.Rat, *ParseError) {
	switch {
	case p.dim == TemperatureDim:
		return nil, p.fail("quantity.spread-temperature", map[string]string{"number": written, "unit": u.names[0]})
	case p.dim == RatioDim && u.names[0] == "%":
		points, _ := u.span(n).Float64()
		share, _ := p.share(value, n).Float64()
		return nil, p.fail("quantity.spread-points", map[string]string{
			"number": written,
			"points": Format(Quantity{Dim: RatioDim, SI: points}, p.sys),
			"share":  Format(Quantity{Dim: RatioDim, SI: share}, p.sys),
		})
	}
	p.take("%")
	return p.share(value, n), nil
}

// share returns |value| × percent / 100, exactly.
func (p *parser) share(value, percent *big.Rat) *big.Rat {
	h := new(big.Rat).Mul(value, percent)
	h.Abs(h)
	return h.Quo(h, big.NewRat(100, 1))
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
