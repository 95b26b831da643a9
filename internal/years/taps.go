package years

import (
	"slices"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/demand"
	"tideover/internal/quantity"
	"tideover/internal/seasons"
)

// Tap is what one outlet gets from each supply: enough to be used, or nothing.
type Tap struct {
	Outlet      string
	Store, Dark bool   // out of the store with power, and without
	Main        []bool // from the main at each pressure asked for
	Calls       []bool // opened, it lets an automatic changeover go over to the store, at each
}

// Gets answers what every outlet gets with the main at each of some pressures at rest [Pa]. blank
// names the field for want of which that cannot be judged.
type Gets func(mains []quantity.Pressure) (taps []Tap, blank string, err error)

// taps are the outlets sorted by what gets water to them: the number of each in reach.
type taps map[string]int

// taps asks what every outlet gets and puts it into the input.
func (h *Home) taps(a *assembly.Assembly, in *seasons.Input, gets Gets) (taps, error) {
	asked := make([]quantity.Pressure, 0, len(in.Mains)-1)
	for _, m := range in.Mains[1:] {
		asked = append(asked, circuit.PressureOf(m.Head, 0))
	}
	list, blank, err := gets(asked)
	if err != nil {
		return nil, err
	}
	h.Blank = blank
	at, side := taps{}, a.Sides()
	for _, i := range a.Of(assembly.Outlet) {
		tag := a.Parts[i].Tag
		k := slices.IndexFunc(list, func(t Tap) bool { return t.Outlet == tag })
		r := seasons.Reach{Main: make([]bool, len(in.Mains)), Calls: make([]bool, len(in.Mains))}
		if k >= 0 {
			t := &list[k]
			r.Store, r.Dark = t.Store, t.Dark && h.Aloft == 0 // a header tank that nobody fills is empty
			copy(r.Main[1:], t.Main)
			copy(r.Calls[1:], t.Calls)
		}
		if side.Store[i] && !r.Store {
			h.Dry = append(h.Dry, tag)
		}
		same := slices.IndexFunc(in.Reach, func(o seasons.Reach) bool {
			return o.Store == r.Store && o.Dark == r.Dark && slices.Equal(o.Main, r.Main) && slices.Equal(o.Calls, r.Calls)
		})
		if same < 0 {
			same = len(in.Reach)
			in.Reach = append(in.Reach, r)
		}
		at[tag] = same
	}
	return at, nil
}

// sides says how the outlets of a kind hang on the changeover and what gets water to them.
func (t taps) sides(a *assembly.Assembly) demand.Sides {
	s := a.Sides()
	return func(kind string) (parts []demand.Part) {
		n := 0.0
		for _, i := range a.Of(assembly.Outlet) {
			row, _ := a.Parts[i].Row.(catalogue.Outlet)
			if row.Kind != kind {
				continue
			}
			n++
			line := demand.OnMain
			switch {
			case s.Main[i] && s.Store[i]:
				line = demand.Either
			case s.Store[i]:
				line = demand.OnStore
			}
			k := slices.IndexFunc(parts, func(p demand.Part) bool { return p.Line == line && p.Taps == t[a.Parts[i].Tag] })
			if k < 0 {
				k = len(parts)
				parts = append(parts, demand.Part{Line: line, Taps: t[a.Parts[i].Tag]})
			}
			parts[k].Share++
		}
		for k := range parts {
			parts[k].Share /= n
		}
		slices.SortStableFunc(parts, func(x, y demand.Part) int { return int(x.Line) - int(y.Line) })
		return parts
	}
}
