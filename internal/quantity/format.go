package quantity

import (
	"math"
	"strings"

	"tideover/internal/words"
)

// Format prints q in the reader's units: "3.2 bar", "46 psi", "−12 m head".
//
// The unit is chosen by the value's size (see shown). The digits are those its spread
// deserves: with a half-width the last digit stands where Places says; without one there
// are three significant figures, noughts at the end of the decimals left out. There are
// never more than three figures, never less than the first one of a value that is not
// nought, and never more than six decimals. Money has two decimals: it is counted. What
// counts things has none. An infinite or undefined value is a word.
func Format(q Quantity, sys System) string {
	return shape(q, sys).String()
}

// FormatSpread prints q as Format does, followed by its half-width to the same place:
// "3.2 bar ±0.1". A spread finer than the last digit shown is left out.
func FormatSpread(q Quantity, sys System) string {
	s := shape(q, sys)
	if s.half == "" {
		return s.String()
	}
	return s.String() + " ±" + s.half
}

// Shown returns what Format prints in two pieces, the number and the unit, for tables
// that set them apart. The unit is "" where there is none.
func Shown(q Quantity, sys System) (number, unit string) {
	s := shape(q, sys)
	return s.number, s.unit
}

// shaped is a quantity ready to print.
type shaped struct {
	number, unit string
	half         string // to the same place as number; "" when there is none to show
}

func (s shaped) String() string {
	if s.unit == "" {
		return s.number
	}
	return s.number + " " + s.unit
}

func shape(q Quantity, sys System) shaped {
	if w, ok := unprintableAs(q.SI, q.Dim); ok {
		return shaped{number: w}
	}
	if q.Counted {
		return whole(q)
	}
	if q.Air && q.SI < 0 && !q.Change {
		return drowned(q, sys)
	}
	if q.Dim == NoDim {
		return shapeIn(q.SI, q.Half, NoDim)
	}
	u := shown(q, sys)
	s := shapeIn(u.numberOf(q), q.Half/u.per, q.Dim)
	s.unit = u.label(sys)
	return s
}

// drowned prints air that there is not: how deep the mouth is under water.
func drowned(q Quantity, sys System) shaped {
	q.SI, q.Air = -q.SI, false
	s := shape(q, sys)
	return shaped{number: words.Say("quantity.drowned", words.Args{"by": s.String()}), half: s.half}
}

// numberOf is the number q has in the unit.
func (u *unit) numberOf(q Quantity) float64 {
	if q.Change {
		return q.SI / u.per
	}
	return u.number(q.SI)
}

// whole prints a count and its half-width without decimals; a half-width below half a thing
// is none.
func whole(q Quantity) shaped {
	s := shaped{number: Fixed(q.SI, 0)}
	if half := Fixed(q.Half, 0); half != "0" {
		s.half = half
	}
	return s
}

// shapeIn settles the digits of v ± half.
func shapeIn(v, half float64, d Dim) shaped {
	if word, endless := unprintable(half); endless {
		s := shapeIn(v, 0, d)
		s.half = " " + word
		return s
	}
	if half <= 0 {
		if d == MoneyDim {
			return shaped{number: Fixed(v, 2)}
		}
		return shaped{number: trim(Fixed(v, min(figures(v, 3), maxPlaces)))}
	}
	deserved := Places(half)
	places := deserved
	if v != 0 {
		places = max(min(places, figures(v, 3)), figures(v, 1))
	}
	places = min(places, maxPlaces)
	s := shaped{number: Fixed(v, places), half: Fixed(half, min(places, deserved))}
	if strings.Trim(s.half, "0.") == "" {
		s.half = ""
	}
	return s
}

// trim takes noughts off the end of decimals.
func trim(number string) string {
	if !strings.Contains(number, ".") {
		return number
	}
	return strings.TrimRight(strings.TrimRight(number, "0"), ".")
}

// label is the printed name: the bare one where the reader's system settles it.
func (u *unit) label(sys System) string {
	if len(u.bare) > 0 && u.of == sys {
		return u.bare[0]
	}
	return u.names[0]
}

// unprintable returns the word for a value that is no number.
func unprintable(v float64) (string, bool) { return unprintableAs(v, NoDim) }

func unprintableAs(v float64, d Dim) (string, bool) {
	switch {
	case math.IsNaN(v):
		return words.Say("quantity.undefined", nil), true
	case math.IsInf(v, 1) && d == TimeDim:
		return words.Say("quantity.never", nil), true
	case math.IsInf(v, 1):
		return words.Say("quantity.infinite", nil), true
	case math.IsInf(v, -1):
		return words.Say("quantity.infinite-below", nil), true
	}
	return "", false
}
