package quantity

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestChange: a difference is printed as the difference of the two numbers a reader sees, in
// every unit of every dimension. Only units with an offset can get this wrong, and there are
// some: else the test tests nothing.
func TestChange(t *testing.T) {
	shifted := 0
	for _, u := range units() {
		if u.shift.Sign() != 0 {
			shifted++
		}
		a, b := Quantity{Dim: u.dim, SI: 7}, Quantity{Dim: u.dim, SI: 61}
		if got, want := u.numberOf(b.Less(a)), u.number(61)-u.number(7); math.Abs(got-want) > 1e-9*math.Max(1, math.Abs(want)) {
			t.Errorf("%s of %s: 61 less 7 is %g, want %g", u.names[0], u.dim.Key(), got, want)
		}
	}
	if shifted == 0 {
		t.Error("no unit has an offset")
	}
	over := Quantity{Dim: TemperatureDim, SI: 25}.Less(Quantity{Dim: TemperatureDim, SI: 43.44})
	if got := Format(over, US); got != "−33.2 °F" { // 18.44 K × 9/5 by hand
		t.Errorf("25 °C less 43.44 °C prints %q", got)
	}
	limit, _ := FormatApart(over, Quantity{Dim: TemperatureDim, SI: -18.44001, Change: true}, US)
	if limit != "−33.2 °F" && !strings.HasPrefix(limit, "−33.19") {
		t.Errorf("told apart it prints %q", limit)
	}
}

// TestChangeAddsUp: what is printed of a value, its limit and their difference adds up to
// within the last digits, in every system.
func TestChangeAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sys := drawSystem(t)
		a := Quantity{Dim: TemperatureDim, SI: rapid.Float64Range(-50, 90).Draw(t, "a")}
		b := Quantity{Dim: TemperatureDim, SI: rapid.Float64Range(-50, 90).Draw(t, "b")}
		number := func(q Quantity) float64 {
			text, _, _ := strings.Cut(Format(q, sys), " ")
			v, err := strconv.ParseFloat(strings.Replace(text, "−", "-", 1), 64)
			if err != nil {
				t.Fatal(err)
			}
			return v
		}
		if got, want := number(a.Less(b)), number(a)-number(b); math.Abs(got-want) > 1.6 { // three figures each
			t.Fatalf("%g less %g prints %g, its parts %g", a.SI, b.SI, got, want)
		}
	})
}

// TestCounted: what counts things is printed whole, with a spread or without.
func TestCounted(t *testing.T) {
	for _, c := range []struct {
		n, half    float64
		want, wide string
	}{
		{3, 0, "3", "3"}, {3, 0.4, "3", "3"}, {3, 0.9, "3", "3 ±1"}, {0, 0.2, "0", "0"}, {12345, 0.1, "12345", "12345"},
	} {
		q := Quantity{Dim: RatioDim, SI: c.n, Half: c.half, Counted: true}
		if got, wide := Format(q, Metric), FormatSpread(q, US); got != c.want || wide != c.wide {
			t.Errorf("%g ±%g prints %q and %q, want %q and %q", c.n, c.half, got, wide, c.want, c.wide)
		}
	}
	a, b := FormatApart(Quantity{Dim: RatioDim, SI: 3, Half: 0.4, Counted: true}, Quantity{Dim: RatioDim, SI: 7, Counted: true}, Metric)
	if a != "3" || b != "7" {
		t.Errorf("told apart: %q of %q", a, b)
	}
}

// TestAir: air that there is not is how deep the mouth is under water, everywhere.
func TestAir(t *testing.T) {
	q := Quantity{Dim: LengthDim, SI: -0.075, Half: 0.004, Air: true}
	if got := Format(q, Metric); got != "under water by 75 mm" {
		t.Errorf("got %q", got)
	}
	if got := FormatSpread(q, Metric); got != "under water by 75 mm ±4" {
		t.Errorf("with its spread: %q", got)
	}
	number, unit := Shown(q, Metric)
	if number != "under water by 75 mm" || unit != "" {
		t.Errorf("in two pieces: %q %q", number, unit)
	}
	if a, b := FormatApart(q, Quantity{Dim: LengthDim, SI: 0.052}, US); a != "under water by 2.95 in" || b != "2.05 in" {
		t.Errorf("beside its limit: %q, %q", a, b)
	}
	if got := Format(q.Less(Quantity{Dim: LengthDim, SI: 0.052}), Metric); got[:3] != "−" {
		t.Errorf("a margin keeps its sign: %q", got)
	}
}
