package seasons

import (
	"slices"

	"tideover/internal/demand"
)

// Variant is one change of how a home lives with its stores, to be lived through like the
// input itself: what opens a window between too small and too old is tried, not guessed.
type Variant struct {
	ID    string // "through", "in-turn", "routine", "ration"; of who makes some: "battery", "automatic"; "both" of two at once
	Uses  []string
	Every float64 // of a routine [s]
	Input *Input
}

// Variants returns the changes that an input leaves room for: some of the daily use drawn
// out of the store always, in steps; two stores in turn; the home run on the store for half
// a day every one, two or four weeks; rationing at a half and a fifth of the store. Smaller
// stores are among the candidates of each. All keep the seed: the same outages, the same
// draws.
func Variants(in *Input) ([]Variant, error) {
	var list []Variant
	if in.Change != Never {
		through, err := throughs(in)
		if err != nil {
			return nil, err
		}
		list = append(list, through...)
	}
	if !in.Stores[0].InTurn {
		v := *in
		v.Stores = slices.Clone(in.Stores)
		for i := range v.Stores {
			v.Stores[i].InTurn = true
		}
		list = append(list, Variant{ID: "in-turn", Input: &v})
	}
	if in.Routine.Every == 0 && in.hangs(demand.Either) {
		for _, days := range []float64{28, 14, 7} {
			v := *in
			v.Routine = Routine{Every: days * Day, At: 9 * Hour, Lasts: Day / 2}
			list = append(list, Variant{ID: "routine", Every: v.Routine.Every, Input: &v})
		}
	}
	if in.Ration[0] == 0 {
		v := *in
		v.Ration = [demand.Stages - 1]float64{0.5, 0.2}
		list = append(list, Variant{ID: "ration", Input: &v})
	}
	return list, nil
}

// throughs moves uses one after the other from the changeover to the store, those whose
// water nobody drinks first.
func throughs(in *Input) ([]Variant, error) {
	var list []Variant
	var moved []string
	for _, key := range []string{"wc", "washing-machine", "shower", "bath"} {
		if !slices.ContainsFunc(in.Home.Uses, func(u demand.Use) bool { return u.Key == key && u.Line == demand.Either }) {
			continue
		}
		moved = append(moved, key)
		v, err := Through(in, moved...)
		if err != nil {
			return nil, err
		}
		list = append(list, Variant{ID: "through", Uses: slices.Clone(moved), Input: v})
	}
	return list, nil
}

// Through returns the input with the uses of some keys drawn out of the store always.
func Through(in *Input, keys ...string) (*Input, error) {
	h := in.Home.Household
	h.Uses = slices.Clone(h.Uses)
	for i := range h.Uses {
		if u := &h.Uses[i]; u.Line == demand.Either && slices.Contains(keys, u.Key) {
			u.Line = demand.OnStore
		}
	}
	m, err := demand.Make(h, in.Home.Seed)
	if err != nil {
		return nil, err
	}
	v := *in
	v.Home = m
	return &v, nil
}

// And is two changes at once: the first, and what the second changes laid over it.
func (v *Variant) And(o *Variant) Variant {
	both := *v.Input
	switch o.ID {
	case "through":
		both.Home = o.Input.Home
	case "in-turn":
		both.Stores = o.Input.Stores
	case "routine":
		both.Routine = o.Input.Routine
	case "ration":
		both.Ration = o.Input.Ration
	case "battery":
		both.Pump = o.Input.Pump
	case "automatic":
		both.Change = o.Input.Change
	default:
		panic("seasons: variant " + o.ID + ": not known")
	}
	return Variant{ID: "both", Input: &both}
}
