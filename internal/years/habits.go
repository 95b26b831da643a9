package years

import (
	"tideover/internal/quantity"
	"tideover/internal/seasons"
	"tideover/internal/words"
)

// What people do when the water fails, where they do. Judgement, each: nothing published was found.
const (
	bucketsEach = 0.040        // filled by each person [m³]
	caughtUp    = 0.5          // share of what went missing that is asked for again: what was put off, not what was done without
	caughtIn    = 12 * 3600.0  // for how long [s]
	tapLeft     = 0.1e-3       // a basin's tap fully open [m³/s]
	tapFor      = seasons.Hour // until somebody comes home or hears it [s]
	tapForgets  = 0.1          // share of the interruptions in which taps stood dry
)

// Habit is something people do when the water fails, as it was lived through with the job's own store.
type Habit struct {
	ID      string           // "plain": as on any day; "buckets", "catch-up", "tap-left"
	Volume  quantity.Volume  // put by, of buckets
	Share   seasons.Estimate // of the interruptions ridden out
	Short   seasons.Estimate // what is missing in a year [m³]
	Futures int
}

// Habits are the inputs of the habits that are told, the job's own store alone, the first with none.
func (h *Home) Habits() ([]Habit, []*seasons.Input) {
	list := []Habit{{ID: "plain"}, {ID: "buckets", Volume: quantity.Volume(bucketsEach * h.Input.Home.People)}, {ID: "catch-up"}, {ID: "tap-left"}}
	do := []seasons.Habits{{}, {Buckets: float64(list[1].Volume)}, {Caught: caughtUp, CaughtIn: caughtIn},
		{Left: tapLeft, LeftFor: tapFor, Forgets: tapForgets}}
	inputs := make([]*seasons.Input, len(list))
	for i := range list {
		in := *h.Input
		in.Stores = in.Stores[h.Own : h.Own+1 : h.Own+1]
		in.Habits = do[i]
		inputs[i] = &in
	}
	return list, inputs
}

// Text says what people do.
func (h *Habit) Text(sys quantity.System) string {
	return words.Say("habit."+h.ID, words.Args{
		"volume": quantity.Format(quantity.Quantity{Dim: quantity.VolumeDim, SI: float64(h.Volume), Basis: quantity.Stated}, sys),
		"each":   quantity.Format(quantity.Quantity{Dim: quantity.VolumeDim, SI: bucketsEach, Basis: quantity.Stated}, sys),
		"in":     quantity.Format(quantity.Quantity{Dim: quantity.TimeDim, SI: caughtIn, Basis: quantity.Stated}, sys),
		"flow":   quantity.Format(quantity.Quantity{Dim: quantity.FlowDim, SI: tapLeft, Basis: quantity.Stated}, sys),
		"for":    quantity.Format(quantity.Quantity{Dim: quantity.TimeDim, SI: tapFor, Basis: quantity.Stated}, sys),
	})
}
