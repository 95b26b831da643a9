package years

import (
	"slices"

	"tideover/internal/quantity"
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
	if !h.Model.StopsUnknown() || !h.Input.Pump.Needs {
		return nil
	}
	t, ok := h.thirds(a, func(k int) float64 { return h.future(k).Share })
	if !ok {
		return nil
	}
	return &Stops{t.low, t.high, t.withLow, t.withHigh}
}

// thirds is what the own store rides out in that third of the futures lived in which a figure that
// each drew is least, and in that in which it is most, with the figure's mean in each.
type thirds struct {
	low, high         float64
	withLow, withHigh seasons.Estimate
}

// thirds sorts the futures; ok is false where there are too few.
func (h *Home) thirds(a *seasons.Answer, drew func(k int) float64) (t thirds, ok bool) {
	third := a.Futures / 3
	if third == 0 {
		return t, false
	}
	drawn := make([]float64, a.Futures)
	for k := range drawn {
		drawn[k] = drew(k)
	}
	order := slices.Sorted(slices.Values(drawn))
	low, high := order[third-1], order[a.Futures-third]
	own := a.Stores[h.Own].Each[seasons.RideThrough]
	t = thirds{mean(order[:third]), mean(order[a.Futures-third:]),
		seasons.Among(seasons.RideThrough, own, func(k int) bool { return drawn[k] <= low }),
		seasons.Among(seasons.RideThrough, own, func(k int) bool { return drawn[k] >= high })}
	return t, t.withLow.N > 0 && t.withHigh.N > 0
}

// Hours is what hangs on how long a battery runs the pump: what the own store rides out in that third
// of the futures in which it does for the least, and in that in which it does for the longest.
type Hours struct {
	Short, Long         float64 // on the mean of each third [s]
	WithShort, WithLong seasons.Estimate
	Told                bool // what the battery stores
}

// hours sorts the futures lived by how long the battery of each ran.
func (h *Home) hours(a *seasons.Answer) *Hours {
	if !h.Input.Pump.Needs || !(h.Input.Pump.Most > h.Input.Pump.Battery) {
		return nil
	}
	t, ok := h.thirds(a, func(k int) float64 { return h.Input.BatteryHours(uint32(k)) })
	if !ok {
		return nil
	}
	return &Hours{t.low, t.high, t.withLow, t.withHigh, h.Battery.Told}
}

// text says it; nothing where nothing is to be said.
func (s *Hours) text(sys quantity.System) string {
	if s == nil {
		return ""
	}
	id := "ride.battery"
	if !s.Told {
		id = "ride.battery-unknown"
	}
	return " " + words.Say(id, words.Args{"short": timeText(s.Short, sys), "long": timeText(s.Long, sys), "with-short": hundredths(s.WithShort.Value), "with-long": hundredths(s.WithLong.Value)})
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
