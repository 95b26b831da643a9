package quantity

import (
	"math"
	"strconv"
	"strings"
)

// guard is the number of significant digits a value is brought to before it is rounded
// for printing. Machines that fuse a multiplication and an addition differ in the 16th
// digit; a tie such as 0.125 that one of them misses by that much is a tie again at 12
// digits, so every machine prints the same figure.
const guard = 12

// maxPlaces is the finest decimal place ever printed.
const maxPlaces = 6

// digits is a positive decimal number d[0].d[1]d[2]… × 10^exp.
type digits struct {
	d   []byte
	exp int
}

func digitsOf(v float64) digits {
	s := strconv.FormatFloat(math.Abs(v), 'e', guard-1, 64)
	mantissa, exp, _ := strings.Cut(s, "e")
	e, _ := strconv.Atoi(exp)
	return digits{d: []byte(strings.Replace(mantissa, ".", "", 1)), exp: e}
}

// round keeps the first n digits, half away from zero. n may be zero or negative, when
// the number is rounded at a place above its first digit.
func (x digits) round(n int) digits {
	if n >= len(x.d) {
		return x
	}
	if n < 0 {
		return digits{d: []byte{'0'}, exp: x.exp}
	}
	up := x.d[n] >= '5'
	d := append([]byte{'0'}, x.d[:n]...) // room for a carry
	for i := len(d) - 1; up; i-- {
		if up = d[i] == '9'; up {
			d[i] = '0'
		} else {
			d[i]++
		}
	}
	if d[0] == '0' && n > 0 {
		return digits{d: d[1:], exp: x.exp}
	}
	return digits{d: d, exp: x.exp + 1}
}

// Fixed prints v with the given number of decimals, rounded half away from zero once;
// negative places round to tens, hundreds and so on. Nought has no sign. The minus is
// U+2212, which Parse reads. Infinite and undefined values are words.
func Fixed(v float64, places int) string {
	if w, ok := unprintable(v); ok {
		return w
	}
	x := digitsOf(v)
	x = x.round(x.exp + 1 + places)
	if strings.Trim(string(x.d), "0") == "" {
		x = digits{d: []byte{'0'}}
	}
	text := x.plain(max(places, 0))
	if v < 0 && strings.Trim(text, "0.") != "" {
		return "−" + text
	}
	return text
}

// plain writes the digits without an exponent, with exactly so many decimals.
func (x digits) plain(decimals int) string {
	var b strings.Builder
	digit := func(place int) byte { // of 10^place
		if i := x.exp - place; i >= 0 && i < len(x.d) {
			return x.d[i]
		}
		return '0'
	}
	for place := max(x.exp, 0); place >= -decimals; place-- {
		if place == -1 {
			b.WriteByte('.')
		}
		b.WriteByte(digit(place))
	}
	return b.String()
}

// Places returns the decimal place [0 units, 1 tenths, −1 tens…] at which a value with
// the half-width half deserves its last digit: that of the half-width's first digit, or
// one place below when the half-width reads 1.1 to 1.9 there, so that rounding it never
// changes it by more than a quarter. half must be positive and finite.
func Places(half float64) int {
	x := digitsOf(half).round(2)
	if x.d[0] == '1' && x.d[1] != '0' {
		return 1 - x.exp
	}
	return -x.exp
}

// figures returns the decimal place of the n-th significant figure of v.
func figures(v float64, n int) int {
	if v == 0 {
		return 0
	}
	return n - 1 - digitsOf(v).round(n).exp
}
