package appraise

import (
	"tideover/internal/seasons"
	"tideover/internal/years"
)

// habits lives through what people do when the water fails, on as many futures as a change is.
func (r *yearsRun) habits(res *years.Result) error {
	list, inputs := r.home.Habits()
	some := *r
	some.ask.Store = 0
	some.ask.Least, some.ask.Most = min(openFutures, r.ask.Most), min(openFutures, r.ask.Most)
	answers, err := some.together(inputs, nil)
	if err != nil {
		return err
	}
	for i, a := range answers {
		by := &a.Stores[0].By
		list[i].Share, list[i].Short, list[i].Futures = by[seasons.RideThrough], by[seasons.ShortYear], a.Futures
	}
	res.Habits = list
	return nil
}
