package day

import (
	"math"

	"tideover/internal/quantity"
)

// Row is the interruption as a long row of them has it: the store is not full again before the next.
type Row struct {
	Begins quantity.Volume // usable water that one of them finds
	Result *Result
}

// inRow runs the interruption once more as one of a long row, where a store that began it full was
// not full again when the next was due.
//
// What a round takes out and lets in moves a level x to min(hi, max(lo, x + s)), for a store is
// between empty and full. From full it came back to less, so that s < 0, and a long row of rounds
// ends where one that begins empty does.
func (d *Day) inRow(ended func() error) error {
	st := &d.Plant.Store
	r, err := byEvents(d.Plant, d.Schedule.begun(d.In, st.Low), ended)
	if err != nil {
		return err
	}
	begins := r.End
	if r, err = byEvents(d.Plant, d.Schedule.begun(d.In, begins), ended); err != nil {
		return err
	}
	d.Row = &Row{quantity.Volume(math.Max(0, st.volume(begins))), r}
	return nil
}

// begun is a failing day on which nothing happens until the water fails, with the store then at a level.
func (s *Schedule) begun(in Inputs, level float64) *Schedule {
	o := *s
	o.Level, o.Draws = level, nil
	for _, d := range s.Draws {
		if d.Start >= in.At {
			o.Draws = append(o.Draws, d)
		}
	}
	o.Main = []Pressing{{Off: true}}
	for _, m := range s.Main {
		if m.From >= in.At+in.Fails {
			o.Main = append(o.Main, m)
		}
	}
	return &o
}

// Judged is the run that the store is judged by: of one interruption of a long row where these find
// it less than full.
func (d *Day) Judged() *Result {
	if d.Row != nil {
		return d.Row.Result
	}
	return d.Result
}

// mostDry is the share of the time in which taps are open in an interruption from which on a store
// that nobody has turned to yet is no store: one less what counts as enough. Judgement.
const mostDry = 0.1

// without is the share of the time in which taps are open in the interruption that falls before a hand
// has turned the home to the store; 0 where none has to.
func (d *Day) without() float64 {
	dry, all := 0.0, 0.0
	for _, draw := range d.Schedule.Draws {
		if draw.Start < d.In.At || draw.Start >= d.In.At+d.In.Fails {
			continue
		}
		all += draw.Duration
		if draw.Start < d.Schedule.Dry.To {
			dry += draw.Duration
		}
	}
	if all == 0 {
		return 0
	}
	return dry / all
}

// lasted is how long into the interruption water came on a run of it; the whole of it where it did not run dry.
func (r *Result) lasted(in Inputs) float64 {
	for _, at := range r.RanDry {
		if at <= in.At+in.Fails {
			return math.Max(0, at-in.At)
		}
	}
	return in.Fails
}
