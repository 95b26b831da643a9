package quantity

import "math/big"

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
