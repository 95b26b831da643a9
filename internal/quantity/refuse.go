package quantity

import (
	"fmt"
	"strings"
)

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

// noComma refuses a comma inside a number with both readings: what is a decimal comma to
// one reader sets off thousands for another.
func (p *parser) noComma() *ParseError {
	for i := 1; i+1 < len(p.in); i++ {
		if p.in[i] != ',' || !isDigit(p.in[i-1]) || !isDigit(p.in[i+1]) {
			continue
		}
		p.at = i
		run := numberAround(p.in, i)
		if strings.Count(run, ",") > 1 || strings.Contains(run, ".") {
			return p.fail("quantity.comma", map[string]string{"number": run, "plain": plainNumber(run)})
		}
		return p.fail("quantity.comma-two", map[string]string{
			"point":   strings.ReplaceAll(strings.TrimSpace(p.text), ",", "."),
			"without": strings.ReplaceAll(strings.TrimSpace(p.text), ",", ""),
		})
	}
	return nil
}

// numberAround returns the run of digits, commas and points that holds in[i].
func numberAround(in []rune, i int) string {
	part := func(r rune) bool { return isDigit(r) || r == ',' || r == '.' }
	from, to := i, i
	for from > 0 && part(in[from-1]) {
		from--
	}
	for to < len(in) && part(in[to]) {
		to++
	}
	return string(in[from:to])
}

// plainNumber rewrites a number with separators of two kinds, or several of one: the
// last kind marks the decimals when it stands once, the other is dropped.
func plainNumber(run string) string {
	last := run[strings.LastIndexAny(run, ",."):][:1]
	other := map[string]string{",": ".", ".": ","}[last]
	run = strings.ReplaceAll(run, other, "")
	if strings.Count(run, last) > 1 {
		return strings.ReplaceAll(run, last, "")
	}
	return strings.Replace(run, last, ".", 1)
}

// missing says that no unit follows the number written, or one nobody knows.
func (p *parser) missing(written string) *ParseError {
	next := p.peek(0)
	switch {
	case p.noUnitFollows():
		return p.fail("quantity.no-unit", map[string]string{"number": written})
	case isDigit(next):
		return p.fail("quantity.gap", map[string]string{"without": written + p.rest()})
	case next == '-' || next == '–' || next == '…' || strings.HasPrefix(p.rest(), "to "):
		return p.fail("quantity.range", nil)
	case next == ':' && p.dim == TimeDim:
		return p.clock(written)
	}
	word, _, _ := strings.Cut(p.rest(), " ")
	return p.fail("quantity.unit", map[string]string{"unit": word})
}

// clock refuses "2:30" as a span of time, with both readings.
func (p *parser) clock(written string) *ParseError {
	minutes := strings.TrimSpace(p.rest()[1:])
	return p.fail("quantity.clock", map[string]string{
		"hours":   fmt.Sprintf("%s h %s min", written, minutes),
		"minutes": fmt.Sprintf("%s min %s s", written, minutes),
	})
}

// twoSizes refuses a unit that is of one size in US and another in imperial measure,
// with both readings.
func (p *parser) twoSizes(written, spelling string, own []*unit) *ParseError {
	args := map[string]string{"unit": spelling, "number": written}
	n, _ := newScanner(written).number()
	for _, u := range own {
		si, _ := u.si(n).Float64()
		args[u.of.String()] = Format(Quantity{Dim: p.dim, SI: si}, Metric)
		args["write-"+u.of.String()] = written + " " + u.names[0]
	}
	return p.fail("quantity.two-sizes", args)
}
