package appraise

import (
	"tideover/internal/seasons"
	"tideover/internal/workers"
	"tideover/internal/years"
)

// agesAsk is how long the water of the stores is followed: until the ages of the own store's
// are known to a share of themselves, or Most futures are.
type agesAsk struct {
	Share       float64
	Least, Most int
}

// How narrow the ages are wanted, and what they may cost: judgement. A brief run, and each change
// that is tried, follows as few as an interval can be made from.
var (
	longAges  = agesAsk{Share: 0.05, Least: 16, Most: 64}
	briefAges = agesAsk{Share: 1, Least: 8, Most: 8}
)

// ageStep is how many futures lie between two looks at the intervals: how many are followed
// must not hang on how many cores there are.
const ageStep = 8

// ages follows the water of an input's stores, or of some of them, through futures of its own until
// its ages are narrow enough.
func (r *yearsRun) ages(in *seasons.Input, answer *seasons.Answer, which []int) ([]years.Fresh, years.Effort, error) {
	var a years.Ages
	for {
		lived := make([]*years.Lived, min(ageStep, r.old.Most-a.Futures))
		faults := make([]error, len(lived))
		err := workers.Each(r.ctx, len(lived), nil, func(i int) { lived[i], faults[i] = r.home.Follow(r.ctx, in, answer, which, a.Futures+i) })
		for i, l := range lived {
			if err == nil {
				err = faults[i]
			}
			if err != nil {
				return nil, years.Effort{}, err
			}
			a.Add(l)
		}
		narrow := a.Narrow(r.ask.Store, r.old.Share)
		if a.Futures >= r.old.Most || narrow && a.Futures >= r.old.Least {
			return a.All(), years.Effort{Years: a.Years, Futures: a.Futures, Narrow: narrow}, nil
		}
	}
}
