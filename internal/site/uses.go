package site

import (
	"tideover/internal/assembly"
	"tideover/internal/catalogue"
)

// Use is the share of a home's water that one kind of outlet draws.
type Use struct {
	Kind  string
	Share float64
}

// Uses are the kinds of outlet and what they draw: an assumption, shown as such, rounded
// from end-use studies of homes (DeOreo et al. 2016, Residential End Uses of Water 2,
// Water Research Foundation 4309b, shares of indoor use).
var Uses = []Use{
	{"shower", 0.25}, {"wc", 0.26}, {"kitchen", 0.14}, {"basin", 0.10},
	{"washing-machine", 0.17}, {"bath", 0.05}, {"garden", 0.03},
}

// StoredAt is the share of the water of stored taps that is drawn at one kind of outlet.
func StoredAt(a *assembly.Assembly, kind string) float64 {
	sides, all, stored := a.Sides(), map[string]float64{}, map[string]float64{}
	for _, i := range a.Of(assembly.Outlet) {
		row, _ := a.Parts[i].Row.(catalogue.Outlet)
		all[row.Kind]++
		if sides.Store[i] {
			stored[row.Kind]++
		}
	}
	total, at := 0.0, 0.0
	for _, u := range Uses {
		if all[u.Kind] > 0 {
			share := u.Share * stored[u.Kind] / all[u.Kind]
			total += share
			if u.Kind == kind {
				at = share
			}
		}
	}
	if total == 0 {
		return 0
	}
	return at / total
}

// StoreShare is the share of the home's water that is drawn by outlets stored water can
// get to: 1 where it gets to all. A kind's water is spread evenly over its outlets; where
// no kind is known, water is spread evenly over all of them.
func StoreShare(a *assembly.Assembly) float64 {
	sides := a.Sides()
	all, stored := map[string]int{}, map[string]int{}
	n, of := 0, 0
	for _, i := range a.Of(assembly.Outlet) {
		row, _ := a.Parts[i].Row.(catalogue.Outlet)
		all[row.Kind]++
		n++
		if sides.Store[i] {
			stored[row.Kind]++
			of++
		}
	}
	if n == of {
		return 1
	}
	total, share := 0.0, 0.0
	for _, u := range Uses {
		if k := all[u.Kind]; k > 0 {
			total += u.Share
			share += u.Share * float64(stored[u.Kind]) / float64(k)
		}
	}
	if total == 0 {
		return float64(of) / float64(n)
	}
	return share / total
}
