package finding

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"tideover/internal/calc"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// Unfold writes a calculation as lines of text an engineer can do again by hand: for an
// equation its formula, the numbers put in, in SI to seven digits, and the result; for a
// leg of a walk the heads before and after and their difference, to the millimetre. The
// differences are those of the printed heads, so a walk adds up as it stands.
func Unfold(steps []calc.Step, sys quantity.System) []string {
	var lines []string
	for _, st := range steps {
		if st.Key == "" {
			lines = append(lines, leg(st))
			continue
		}
		lines = append(lines, evaluated(st, sys)...)
	}
	return lines
}

func leg(st calc.Step) string {
	before, after := Millimetres(st.Before), Millimetres(st.After)
	return fmt.Sprintf("%-10s %9.3f m  %+9.3f  %9.3f m  %s", st.Part, before, after-before, after, words.Say(st.Note, nil))
}

// Millimetres rounds a head [m] to the last digit a walk prints.
func Millimetres(head float64) float64 { return math.Round(head*1e3)/1e3 + 0 }

func evaluated(st calc.Step, sys quantity.System) []string {
	e := calc.Lookup(st.Key)
	if e == nil {
		panic("finding: equation " + st.Key + ": not registered")
	}
	parts := make([]string, len(e.Args))
	for i, a := range e.Args {
		parts[i] = a.Name + " = " + inUnit(st.Args[i], a.Unit)
	}
	result := e.Result.Name + " = " + inUnit(st.Result, e.Result.Unit)
	if e.Result.Dim != quantity.NoDim {
		result += " = " + quantity.Format(quantity.Quantity{Dim: e.Result.Dim, SI: st.Result, Basis: quantity.Derived}, sys)
	}
	return []string{
		e.Title + ": " + e.Formula + "  [" + e.Source + "]",
		"  " + strings.Join(parts, ", "),
		"  " + result,
	}
}

// inUnit prints a number to seven significant digits with its SI unit.
func inUnit(v float64, unit string) string {
	text := strings.Replace(strconv.FormatFloat(v, 'g', 7, 64), "-", "−", 1)
	if unit == "" || unit == "–" {
		return text
	}
	return text + " " + unit
}
