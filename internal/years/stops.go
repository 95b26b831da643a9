package years

import (
	"slices"

	"tideover/internal/seasons"
	"tideover/internal/words"
)

// Stops is what hangs on how many of the power cuts stop the main, where nobody has told it: what
// the own store rides out in that third of the futures in which the fewest do, and in that in
// which the most do. They are the headline's own futures.
type Stops struct {
	Few, Many         float64          // share of the cuts, on the mean of each third
	WithFew, WithMany seasons.Estimate // ridden out
}

// stops sorts the futures lived by the share of the cuts that each drew; nil where the job tells
// it, no pump needs power, or there are too few to sort.
func (h *Home) stops(a *seasons.Answer) *Stops {
	third := a.Futures / 3
	if !h.Model.StopsUnknown() || !h.Input.Pump.Needs || third == 0 {
		return nil
	}
	shares := make([]float64, a.Futures)
	for k := range shares {
		shares[k] = h.future(k).Share
	}
	order := slices.Sorted(slices.Values(shares))
	low, high := order[third-1], order[a.Futures-third]
	own := a.Stores[h.Own].Each[seasons.RideThrough]
	s := &Stops{Few: mean(order[:third]), Many: mean(order[a.Futures-third:]),
		WithFew:  seasons.Among(seasons.RideThrough, own, func(k int) bool { return shares[k] <= low }),
		WithMany: seasons.Among(seasons.RideThrough, own, func(k int) bool { return shares[k] >= high })}
	if s.WithFew.N == 0 || s.WithMany.N == 0 {
		return nil
	}
	return s
}

func mean(list []float64) float64 {
	sum := 0.0
	for _, x := range list {
		sum += x
	}
	return sum / float64(len(list))
}

// text says it; nothing where nothing is to be said.
func (s *Stops) text() string {
	if s == nil {
		return ""
	}
	return " " + words.Say("ride.stops", words.Args{"few": hundredths(s.Few), "many": hundredths(s.Many), "with-few": hundredths(s.WithFew.Value), "with-many": hundredths(s.WithMany.Value)})
}
