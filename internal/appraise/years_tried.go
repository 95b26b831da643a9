package appraise

import (
	"runtime"
	"sync"

	"tideover/internal/seasons"
	"tideover/internal/workers"
	"tideover/internal/years"
)

// together lives several inputs through as many futures as are asked for at the most, side by
// side, for draws that they have in common are made once then. tell hears of half of what is
// left to do after the years as they are.
func (r *yearsRun) together(inputs []*seasons.Input, tell func(done, total int)) ([]*seasons.Answer, error) {
	if len(inputs) == 0 {
		return nil, nil
	}
	n := r.ask.Most
	sums := make([]*seasons.Gather, len(inputs))
	for i, in := range inputs {
		sums[i] = seasons.NewGather(in, r.ask)
	}
	crews := make(chan *seasons.Crew, runtime.GOMAXPROCS(0))
	for range min(cap(crews), n) {
		c, err := seasons.NewCrew(inputs)
		if err != nil {
			return nil, err
		}
		crews <- c
	}
	if tell != nil {
		whole := tell
		tell = func(done, total int) { whole(2*total+done, 4*total) }
	}
	var mu sync.Mutex
	var fault error
	err := workers.Each(r.ctx, n, tell, func(k int) {
		c := <-crews
		tallies, err := c.Chunk(r.ctx, uint32(k))
		crews <- c
		mu.Lock()
		defer mu.Unlock()
		if err != nil {
			fault = err
			return
		}
		for i, t := range tallies {
			sums[i].Add(k, t)
		}
	})
	if err == nil {
		err = fault
	}
	if err != nil {
		return nil, err
	}
	answers := make([]*seasons.Answer, len(sums))
	for i, g := range sums {
		answers[i] = g.Answer()
	}
	return answers, nil
}

// nearFutures is how many a change is lived through that opens a window but for the doubt of a
// short run.
const nearFutures = 64

// nearer has more years say whether a change opens a window. Only sizes whose water is fresh can
// be in one, and only those are lived.
func (r *yearsRun) nearer(in *seasons.Input, fresh []years.Fresh, ceiling float64, futures int) (*years.Window, error) {
	some, which := *in, years.FreshOnes(fresh, ceiling)
	some.Stores = nil
	var kept []years.Fresh
	for _, i := range which {
		some.Stores, kept = append(some.Stores, in.Stores[i]), append(kept, fresh[i])
	}
	more := *r
	more.ask.Store, more.ask.Least, more.ask.Most = 0, futures, futures
	answer, err := more.lives(&some)
	if err != nil {
		return nil, err
	}
	w := years.WindowOf(answer, kept, ceiling)
	if w != nil {
		w = &years.Window{First: which[w.First], Last: which[w.Last]}
	}
	return w, nil
}
