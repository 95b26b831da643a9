// Package assume is what the figures rest on that nobody measured and no rule fixes: each with
// its value, how far it may really lie to either side, and the analyses it is used in.
//
// Stage: at the bottom, beside quantity. The analyses read a figure with In, out of the job at
// hand, so that one of them can be moved to see what hangs on it; the words (what is taken, which
// way it errs, what would settle it on site) are the messages "assume.<key>".
//
// Left out: rules, which a profile has; rows of the catalogue, which have sources of their own;
// values of the job, whose spread is in job/doubts.go; and figures of arithmetic.
package assume

import (
	"math"
	"slices"

	"tideover/internal/quantity"
)

// Assumption is one of them.
type Assumption struct {
	Key       string
	Dim       quantity.Dim
	Value     float64  // what is taken [SI]
	Low, High float64  // how far it may lie [SI]
	Change    bool     // it is a difference of two values, not a value
	Strict    float64  // of what we ask of a home, not how the home is: the end that asks more, −1 the low one, 1 the high; else 0
	Use       []string // the analyses that use it, by package
	Settles   []string // job fields that take its place where they are told
	Source    string   // author, year; "" judgement
}

// Values are the assumptions of one job that are not as they are taken, by key [SI]; nil is none.
type Values map[string]float64

// In is what an assumption is in a job [SI].
func (a *Assumption) In(v Values) float64 {
	if x, moved := v[a.Key]; moved {
		return x
	}
	return a.Value
}

// Quantity is a value of the assumption as a person reads it.
func (a *Assumption) Quantity(si float64) quantity.Quantity {
	return quantity.Quantity{Dim: a.Dim, SI: si, Basis: quantity.Assumed, Change: a.Change}
}

// Ends are the ends of its range that are not what is taken.
func (a *Assumption) Ends() (ends []float64) {
	for _, x := range []float64{a.Low, a.High} {
		if x != a.Value {
			ends = append(ends, x)
		}
	}
	return ends
}

var all []*Assumption

// All are the assumptions in the order of their keys.
func All() []*Assumption {
	list := slices.Clone(all)
	slices.SortFunc(list, func(a, b *Assumption) int {
		if a.Key < b.Key {
			return -1
		}
		return 1
	})
	return list
}

// Registered are the assumptions in the order of the register: the main and the home first, for
// of those a site knows least.
func Registered() []*Assumption { return slices.Clone(all) }

// ByKey is the assumption of a key; nil where there is none.
func ByKey(key string) *Assumption {
	for _, a := range all {
		if a.Key == key {
			return a
		}
	}
	return nil
}

// taken registers an assumption. It panics for one that says nothing: a range that does not hold
// its value, or holds nothing else.
func taken(a Assumption) *Assumption {
	if a.Key == "" || len(a.Use) == 0 || !(a.Low <= a.Value && a.Value <= a.High && a.Low < a.High) || math.IsInf(a.High-a.Low, 0) {
		panic("assume: " + a.Key + ": a key, a use and a range around the value are needed")
	}
	for _, b := range all {
		if b.Key == a.Key {
			panic("assume: " + a.Key + " is there twice")
		}
	}
	all = append(all, &a)
	return &a
}
