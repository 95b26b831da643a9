package outage

import (
	"cmp"
	"math"
	"slices"

	"tideover/internal/stream"
)

// Cuts appends the times without power that begin in the given year, in order and apart
// (the same rules as Year). Water and power each fail as often and as long as was said
// of them alone (two cuts that come to overlap are one); what binds them is when: of the
// power cuts, the share that stops the main is moved to the nearest interruption of the
// water that has no cut of its own yet, and begins a lag before it. Cuts beyond the
// number of interruptions stay where they were drawn. A timetable is another matter:
// there the cuts that stop the main take water away from the hours it should run, see
// Year, and no cut is moved.
func (f *Future) Cuts(dst []Spell, year int) []Spell {
	begin := len(dst)
	dst = f.power.year(dst, year)
	if f.Share == 0 || f.water.slots != nil || len(dst) == begin {
		return dst
	}
	f.spells = f.again.year(f.spells[:0], year)
	f.taken = append(f.taken[:0], make([]bool, len(f.spells))...)
	k := f.power.key
	k.Year, k.Process = uint32(year), stream.Joint
	s := stream.Of(k)
	low, high := max(f.power.held, float64(year)*Year), float64(year+1)*Year
	for i := range dst[begin:] {
		if cut := &dst[begin+i]; s.Uniform() < f.Share {
			f.move(cut, low, high)
		}
	}
	return union(dst, begin, math.Inf(-1))
}

// move brings a cut to the nearest interruption without one, where that lies in the year.
func (f *Future) move(cut *Spell, low, high float64) {
	n := f.nearest(cut.From + f.lag)
	if n < 0 {
		return
	}
	from := f.spells[n].From - f.lag
	if to := from + cut.Length(); from >= low && to <= high {
		*cut = Spell{from, to}
		f.taken[n] = true
	}
}

// nearest is the index of the free interruption that begins nearest to t, −1 for none.
func (f *Future) nearest(t float64) int {
	above, _ := slices.BinarySearchFunc(f.spells, t, func(s Spell, t float64) int { return cmp.Compare(s.From, t) })
	below := above - 1
	for below >= 0 && f.taken[below] {
		below--
	}
	for above < len(f.spells) && f.taken[above] {
		above++
	}
	switch {
	case above == len(f.spells):
		return below
	case below < 0 || f.spells[above].From-t < t-f.spells[below].From:
		return above
	}
	return below
}
