// Package calc keeps calculations executed, not typed: an equation that appears in a
// finding is registered once with its formula, symbols, source and function; a Sheet
// evaluates it and records the step, so that the page an engineer checks by hand is
// the very calculation that ran.
//
// Stage: a leaf under every analysis. It takes SI numbers and gives SI numbers and a
// record of steps. It formats nothing and knows nothing of homes.
package calc

import (
	"fmt"
	"math"
	"sort"

	"tideover/internal/quantity"
)

// Symbol is one letter of an equation: what it stands for and its dimension.
type Symbol struct {
	Name    string       // as in the formula, "Δp", "q"
	Meaning string       // words, lower case
	Dim     quantity.Dim // NoDim for pure numbers and for the units named in Unit
	Unit    string       // SI unit shown in the theory manual, "m³/s", "–"
}

// Equation is one registered relation.
type Equation struct {
	Key     string   // "vessel-drawdown"
	Title   string   // "Water a pressure vessel gives between cut-out and cut-in"
	Formula string   // "V_d = V (p_0/p_1 − p_0/p_2)"
	Result  Symbol   // the letter on the left
	Args    []Symbol // the letters on the right, in the order Eval takes them
	Range   string   // range of validity, in words
	Source  string   // author, year, title or standard, equation or clause
	Section string   // chapter of the theory manual: "Water", "Pipes", "Pumps"…
	// Fn evaluates it in SI units. It must be pure. A nil Fn marks a relation that is
	// documented here and solved inside an engine (it cannot be evaluated on a sheet).
	Fn func(a []float64) float64
}

var registry = map[string]*Equation{}

// Register adds an equation. It is called from package initialisation and panics when
// the key is taken or the entry is incomplete: both are our own faults.
func Register(e Equation) *Equation {
	switch {
	case e.Key == "" || e.Formula == "" || e.Source == "" || e.Title == "" || e.Section == "":
		panic("calc: equation " + e.Key + ": key, title, formula, source and section are required")
	case registry[e.Key] != nil:
		panic("calc: equation " + e.Key + ": registered twice")
	}
	registry[e.Key] = &e
	return &e
}

// Equations returns every registered equation, ordered by section, then key.
func Equations() []*Equation {
	list := make([]*Equation, 0, len(registry))
	for _, e := range registry {
		list = append(list, e)
	}
	sort.Slice(list, func(i, j int) bool {
		if list[i].Section != list[j].Section {
			return list[i].Section < list[j].Section
		}
		return list[i].Key < list[j].Key
	})
	return list
}

// Lookup returns the equation with the given key, or nil.
func Lookup(key string) *Equation { return registry[key] }

// Step is one recorded line of a calculation: an equation with the numbers put in, or
// one leg of a walk in heads.
type Step struct {
	Key    string    // equation key; "" for a walk row
	Args   []float64 // SI
	Result float64   // SI

	// A walk row: what the water passes, and the head before and after it.
	Part   string  // tag
	Note   string  // message id saying what the part does here
	Before float64 // m
	After  float64 // m
}

// Sheet records steps. The nil *Sheet records nothing and costs nothing, so engines
// take one everywhere.
type Sheet struct{ Steps []Step }

// Eval evaluates e at the given SI arguments and records the step.
// It panics when the number of arguments is wrong (our own fault).
func (s *Sheet) Eval(e *Equation, args ...float64) float64 {
	if len(args) != len(e.Args) || e.Fn == nil {
		panic(fmt.Sprintf("calc: equation %s takes %d arguments, got %d", e.Key, len(e.Args), len(args)))
	}
	r := e.Fn(args)
	if s != nil {
		s.Steps = append(s.Steps, Step{Key: e.Key, Args: append([]float64(nil), args...), Result: r})
	}
	return r
}

// Walk records that passing part takes the head from before to after [m].
func (s *Sheet) Walk(part, note string, before, after float64) {
	if s != nil {
		s.Steps = append(s.Steps, Step{Part: part, Note: note, Before: before, After: after})
	}
}

// Check re-evaluates a recorded equation step and returns the relative difference
// between the recorded and the fresh result; 0 for a walk row.
func (st Step) Check() float64 {
	if st.Key == "" {
		return 0
	}
	fresh := registry[st.Key].Fn(st.Args)
	if fresh == st.Result {
		return 0
	}
	return math.Abs(fresh-st.Result) / math.Max(math.Abs(fresh), 1e-30)
}
