package outage

import "slices"

// Expected is what the coming years bring by a model, for arithmetic that knows no chance.
type Expected struct {
	PerYear     float64 // interruptions in a year
	Least, Most float64 // eight of ten last between these [s]
	Longest     float64 // in ten years: half of the futures have one as long [s]
}

// How much of the future is lived for it: a median over so many futures is known to a tenth.
const (
	expectFutures = 64
	expectYears   = 10
)

// Expect lives futures of the water and counts. ok is false where nothing ever fails.
func (m *Model) Expect(seed uint64) (e Expected, ok bool) {
	return m.expect(seed, (*Future).Year)
}

// ExpectCuts is Expect of the power.
func (m *Model) ExpectCuts(seed uint64) (e Expected, ok bool) {
	return m.expect(seed, (*Future).Cuts)
}

func (m *Model) expect(seed uint64, of func(f *Future, dst []Spell, year int) []Spell) (e Expected, ok bool) {
	var all, longest []float64
	var year []Spell
	for k := range uint32(expectFutures) {
		f, most := m.Future(seed, k), 0.0
		for y := range expectYears {
			year = of(f, year[:0], y)
			for _, s := range year {
				all, most = append(all, s.Length()), max(most, s.Length())
			}
		}
		longest = append(longest, most)
	}
	if len(all) == 0 {
		return e, false
	}
	slices.Sort(all)
	slices.Sort(longest)
	at := func(list []float64, share float64) float64 { return list[int(share*float64(len(list)-1))] }
	return Expected{PerYear: float64(len(all)) / (expectFutures * expectYears) * 365.25 / 365,
		Least: at(all, 0.1), Most: at(all, 0.9), Longest: at(longest, 0.5)}, true
}
