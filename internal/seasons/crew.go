package seasons

import (
	"context"

	"tideover/internal/demand"
)

// Crew lives several inputs through the same future, year by year side by side, and makes the
// draws of homes that draw alike once for all of them: changes to one home that are compared.
// Like a Worker it is used by one goroutine at a time.
type Crew struct {
	workers []*Worker
	futures []Future
	draws   []*demand.Shared
}

// NewCrew checks the inputs and returns a crew for them.
func NewCrew(inputs []*Input) (*Crew, error) {
	c := &Crew{futures: make([]Future, len(inputs))}
	for _, in := range inputs {
		w, err := NewWorker(in)
		if err != nil {
			return nil, err
		}
		c.join(w)
	}
	return c, nil
}

// join has a worker share the draws of the first before it whose home draws alike.
func (c *Crew) join(w *Worker) {
	var s *demand.Shared
	for i, o := range c.workers {
		if o.in.Home.Alike(w.in.Home) {
			s = c.draws[i]
			break
		}
	}
	if s == nil {
		s = &demand.Shared{}
	}
	w.reader.Share(s)
	c.workers, c.draws = append(c.workers, w), append(c.draws, s)
}

// Chunk lives through one future and returns what each input counted: what a worker of its own
// would have.
func (c *Crew) Chunk(ctx context.Context, home uint32) ([]*Tally, error) {
	years := 0
	for i, w := range c.workers {
		w.reset(home)
		c.futures[i] = w.in.Supply.Future(home)
		years = max(years, w.in.Warm+w.in.Years)
	}
	for y := range years {
		for _, s := range c.draws {
			s.Clear()
		}
		for i, w := range c.workers {
			if err := ctx.Err(); err != nil {
				return nil, err
			}
			w.through(c.futures[i], y)
		}
	}
	tallies := make([]*Tally, len(c.workers))
	for i, w := range c.workers {
		tallies[i] = w.finish()
	}
	return tallies, nil
}

// through lives one year, if the input has as many.
func (w *Worker) through(f Future, y int) {
	if y >= w.in.Warm+w.in.Years {
		return
	}
	if y == w.in.Warm {
		w.begin(nil)
	}
	w.year(f, y)
	w.live(float64(y)*Year, float64(y+1)*Year)
}
