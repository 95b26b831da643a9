package quantity

import (
	"math"
	"math/big"
	"strings"
)

// maxFileDigits bounds the digits FormatFile tries in the reader's unit before it falls
// back on the SI unit, in which 17 always do.
const maxFileDigits = 24

// FormatFile writes q as a job file does, so that Parse gives back the same SI value,
// half-width and basis to the last bit: "3.2 bar ±0.1", "450 m ?". The number has the
// fewest digits that do so; it is plain ASCII but for "±" and unit signs.
//
// A job file can say measured (with ±), stated and assumed (with ?). A derived value is
// written as stated; a spread that comes with a stated or derived value is not written,
// for ± would claim a measurement. FormatFile panics when the value or its half-width is
// not finite: such a value cannot have come from a job file.
func FormatFile(q Quantity, sys System) string {
	if math.IsNaN(q.SI-q.SI) || math.IsNaN(q.Half-q.Half) || q.Dim == NoDim {
		panic("quantity: FormatFile: a finite value with a dimension is required")
	}
	u := shown(q, sys)
	number, ok := exact(q.SI, u, u.si)
	half, okHalf := exact(q.Half, u, u.span)
	if !ok || !okHalf {
		u = siUnit(q.Dim)
		number, _ = exact(q.SI, u, u.si)
		half, _ = exact(q.Half, u, u.span)
	}
	text := number
	if name := u.label(sys); name != "" {
		text += " " + name
	}
	if q.Basis == Measured || q.Basis == Assumed && q.Half > 0 {
		text += " ±" + half
	}
	if q.Basis == Assumed {
		text += " ?"
	}
	return text
}

// exact returns the shortest decimal number n with toSI(n) rounding to the float si.
func exact(si float64, u *unit, toSI func(*big.Rat) *big.Rat) (string, bool) {
	n := new(big.Rat).SetFloat64(si)
	n.Quo(n, u.factor)
	n.Sub(n, toSI(new(big.Rat)).Quo(toSI(new(big.Rat)), u.factor))
	for k := 1; k <= maxFileDigits; k++ {
		text := significant(n, k)
		back, _ := new(big.Rat).SetString(text)
		if f, _ := toSI(back).Float64(); f == si {
			return text, true
		}
	}
	return "", false
}

// significant writes n with k significant digits, plain or, far from 1, with an exponent.
func significant(n *big.Rat, k int) string {
	f := new(big.Float).SetPrec(400).SetRat(n)
	format := byte('f')
	if f.Sign() != 0 {
		if e := f.MantExp(nil); e < -40 || e > 60 {
			format = 'e'
		}
	}
	text := f.Text('e', k-1)
	if format == 'e' {
		return text
	}
	r, _ := new(big.Rat).SetString(text)
	text = r.FloatString(k + 16)
	if !strings.Contains(text, ".") {
		return text
	}
	return strings.TrimRight(strings.TrimRight(text, "0"), ".")
}

// siUnit returns the unit of d that is the SI unit itself.
func siUnit(d Dim) *unit {
	one := big.NewRat(1, 1)
	for _, u := range units() {
		if u.dim == d && u.factor.Cmp(one) == 0 && u.shift.Sign() == 0 {
			return u
		}
	}
	panic("quantity: no SI unit of " + d.Key())
}
