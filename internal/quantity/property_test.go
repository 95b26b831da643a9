package quantity

import (
	"fmt"
	"math"
	"math/big"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// si draws a value in a range far wider than any home's, of either sign, nought included.
func si(t *rapid.T, label string) float64 {
	m := rapid.Float64Range(-10, 10).Draw(t, label)
	e := rapid.IntRange(-9, 9).Draw(t, label+" exponent")
	return m * math.Pow(10, float64(e))
}

func drawDim(t *rapid.T) Dim       { return rapid.SampledFrom(Dims()).Draw(t, "dim") }
func drawSystem(t *rapid.T) System { return rapid.SampledFrom(Systems()).Draw(t, "system") }

// What FormatFile writes, Parse reads back to the last bit.
func TestFileRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := Quantity{Dim: drawDim(t), SI: si(t, "value"), Basis: rapid.SampledFrom([]Basis{Assumed, Stated, Measured}).Draw(t, "basis")}
		if q.Basis != Stated {
			q.Half = math.Abs(si(t, "half"))
		}
		sys := drawSystem(t)
		text := FormatFile(q, sys)
		back, err := Parse(text, q.Dim, sys)
		if err != nil || back != q {
			t.Fatalf("%+v written %q reads %+v, %v", q, text, back, err)
		}
	})
}

// What Format and FormatSpread print, Parse reads back to within the last printed digit.
func TestPrintRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := Quantity{Dim: drawDim(t), SI: si(t, "value"), Half: max(0, si(t, "half"))}
		sys := drawSystem(t)
		number, unit := Shown(q, sys)
		for _, text := range []string{Format(q, sys), FormatSpread(q, sys)} {
			back, err := Parse(text, q.Dim, sys)
			if err != nil {
				t.Fatalf("%+v printed %q: %v", q, text, err)
			}
			per := unitNamed(q.Dim, strings.TrimSuffix(strings.TrimSuffix(unit, " (US)"), " (imperial)"), sys).per
			if step := lastPlace(number, q, sys) * per; math.Abs(back.SI-q.SI) > 0.5*step*(1+1e-9) {
				t.Fatalf("%+v printed %q reads %g, off by more than half of %g", q, text, back.SI, step)
			}
		}
	})
}

// lastPlace is the size of the last digit a number of q is printed to.
func lastPlace(number string, q Quantity, sys System) float64 {
	if _, decimals, ok := strings.Cut(number, "."); ok && q.Half > 0 {
		return math.Pow(10, -float64(len(decimals)))
	}
	v := shown(q, sys).number(q.SI)
	places := figures(v, 3)
	if q.Half > 0 {
		places = max(min(places, Places(q.Half/shown(q, sys).per)), figures(v, 1))
	}
	if q.Dim == MoneyDim && q.Half == 0 {
		places = 2
	}
	return math.Pow(10, -float64(min(places, maxPlaces)))
}

// Never more than three figures, whatever the spread (money is counted, and so has all).
func TestNeverMoreThanThreeFigures(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := Quantity{Dim: drawDim(t), SI: si(t, "value"), Half: max(0, si(t, "half"))}
		if q.Dim == MoneyDim {
			return
		}
		number, _ := Shown(q, drawSystem(t))
		figs := strings.TrimLeft(strings.ReplaceAll(strings.TrimPrefix(number, "−"), ".", ""), "0")
		if !strings.Contains(number, ".") {
			figs = strings.TrimRight(figs, "0")
		}
		if len(figs) > 3 {
			t.Fatalf("%+v printed %s: %d figures", q, number, len(figs))
		}
	})
}

// Printing keeps order: a larger value never prints as a smaller one.
func TestPrintMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, sys := drawDim(t), drawSystem(t)
		a, b := si(t, "a"), si(t, "b")
		if rapid.Bool().Draw(t, "near") {
			b = a * (1 + 1e-3*rapid.Float64Range(0, 1).Draw(t, "step"))
		}
		a, b = min(a, b), max(a, b)
		read := func(x float64) float64 {
			q, err := Parse(Format(Quantity{Dim: d, SI: x}, sys), d, sys)
			if err != nil {
				t.Fatal(err)
			}
			return q.SI
		}
		if ra, rb := read(a), read(b); ra > rb*(1+1e-15)+1e-300 && ra-rb > 1e-12*math.Abs(ra) {
			t.Fatalf("%s: %g prints as %g but %g as %g", d, a, ra, b, rb)
		}
	})
}

// Reading keeps order in every unit.
func TestParseMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.SampledFrom(units()).Draw(t, "unit")
		a, b := si(t, "a"), si(t, "b")
		a, b = min(a, b), max(a, b)
		read := func(n float64) float64 {
			text := strconv.FormatFloat(n, 'e', -1, 64) + " " + u.names[0]
			q, err := Parse(text, u.dim, Metric)
			if err != nil {
				t.Fatalf("Parse(%q): %v", text, err)
			}
			return q.SI
		}
		if read(a) > read(b) {
			t.Fatalf("%g > %g in %s", read(a), read(b), u.names[0])
		}
	})
}

// Unit twins: one value written in any two units of its dimension is one SI value.
func TestUnitTwins(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.SampledFrom(units()).Draw(t, "unit")
		v := rapid.SampledFrom(units()).Filter(func(v *unit) bool { return v.dim == u.dim }).Draw(t, "twin")
		n, _ := new(big.Rat).SetString(fmt.Sprintf("%.9g", si(t, "number")))
		twin := new(big.Rat).Sub(new(big.Rat).Quo(u.si(n), v.factor), v.shift)
		a, err := Parse(n.FloatString(30)+" "+u.names[0], u.dim, Metric)
		if err != nil {
			t.Fatal(err)
		}
		b, err := Parse(twin.FloatString(40)+" "+v.names[0], v.dim, Metric)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(a.SI-b.SI) > 1e-12*math.Abs(a.SI)+1e-25 {
			t.Fatalf("%s %s = %g but its twin in %s = %g", n.FloatString(9), u.names[0], a.SI, v.names[0], b.SI)
		}
	})
}

// FuzzParse: Parse never panics, an error has words and a place within the text, and
// what is read is written and read again to the last bit.
func FuzzParse(f *testing.F) {
	for _, r := range refusals {
		f.Add(r.text, uint8(r.dim), uint8(r.sys))
	}
	for _, s := range []string{"3.2 bar ±0.1", "2 h 30 min ±5%", "1 1/2 in ?", "1½\"", "5'6\"", "−5 °F +-2", "300 gal", "4 % ±0.5", "1e-300 m"} {
		for _, d := range Dims() {
			f.Add(s, uint8(d), uint8(US))
		}
	}
	f.Fuzz(func(t *testing.T, text string, dim, sys uint8) {
		d := Dim(dim%uint8(len(dimKeys)-1)) + 1
		y := System(sys % uint8(len(systemKeys)))
		q, err := Parse(text, d, y)
		if err != nil {
			pe := err.(*ParseError)
			if strings.Contains(pe.Error(), "‹") || pe.At < 0 || pe.At > len([]rune(text)) {
				t.Fatalf("Parse(%q): %q at %d", text, pe, pe.At)
			}
			return
		}
		if math.IsNaN(q.SI-q.SI) || math.IsNaN(q.Half-q.Half) || q.Half < 0 {
			t.Fatalf("Parse(%q) = %+v", text, q)
		}
		again, err := Parse(FormatFile(q, y), d, y)
		if err != nil || again != q {
			t.Fatalf("Parse(%q) = %+v, written %q, read %+v, %v", text, q, FormatFile(q, y), again, err)
		}
		if _, err := Parse(FormatSpread(q, y), d, y); err != nil {
			t.Fatalf("Parse(%q) printed %q: %v", text, FormatSpread(q, y), err)
		}
	})
}
