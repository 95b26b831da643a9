package years

import (
	"math"
	"slices"

	"tideover/internal/freshness"
	"tideover/internal/seasons"
)

// Fresh is how old and how well chlorinated the water is that one store gives to the taps. An
// age is that of the mixed water of the store at the moment it is drawn; litres count alike.
type Fresh struct {
	Mean, Middle, Most seasons.Estimate // mean, median, and the age that one litre in twenty exceeds [s]; +Inf with N 0 where nothing is ever drawn
	Old                seasons.Estimate // share of the litres that have stood for two weeks
	Below              seasons.Estimate // share of the days on which some is drawn on which it has, on that day's mean, less chlorine than is wanted
	Scant              seasons.Estimate // and the same where chlorine goes as fast as it may
	Days               int              // on which some was drawn, all futures together
	Drawn              float64          // a year [m³/a]
	Through            [24]float64      // in each hour of the day, on the mean [m³/s]
	Each               []Flask          // what each future says by itself
	Ways               []Way            // in which the water of the own store may move else than stirred all through
	ages               []*freshness.Tally
	all                *freshness.Tally
}

// Flask is the water of one future.
type Flask struct {
	Mean, Middle, Most, Old, Below, Scant float64
	Longest, Scantest                     float64 // Most and Scant in the worst way the water may move
	Ways                                  bool    // these were lived in this future
	Through                               [24]float64
	Days                                  int // 0: nothing was drawn, and the rest says nothing
}

// Sure counts the futures in which something was drawn, and those of them that a judgement
// holds in.
func (f *Fresh) Sure(holds func(*Flask) bool) (n, of int) {
	for i := range f.Each {
		if f.Each[i].Days == 0 {
			continue
		}
		of++
		if holds(&f.Each[i]) {
			n++
		}
	}
	return n, of
}

// SureInAll is Sure over the futures in which all ways the water may move were lived; over all
// where none was.
func (f *Fresh) SureInAll(holds func(*Flask) bool) (n, of int) {
	some := slices.ContainsFunc(f.Each, func(k Flask) bool { return k.Ways })
	if !some {
		return f.Sure(holds)
	}
	part := Fresh{Each: slices.DeleteFunc(slices.Clone(f.Each), func(k Flask) bool { return !k.Ways })}
	return part.Sure(holds)
}

// Next is the range in which a figure of the water lies in nine futures of ten (seasons.Next).
func (f *Fresh) Next(watched bool, of func(*Flask) float64) seasons.Range {
	var list []seasons.Pair
	for i := range f.Each {
		if k := &f.Each[i]; k.Days > 0 {
			list = append(list, seasons.Pair{Num: of(k), Den: 1})
		}
	}
	r, _ := seasons.Next(list, watched)
	return r
}

// Quantile is the age that a share p of the litres is not above. Its interval is Woodruff's:
// the share of the litres up to that age has an interval over the futures, and the ages at
// whose ends all litres together have these shares are the ends.
// Source: Woodruff 1952, J. Am. Stat. Assoc. 47:635.
func (f *Fresh) Quantile(p float64) seasons.Estimate {
	if f.all == nil || !(f.all.Sum > 0) {
		return seasons.Estimate{Value: math.Inf(1), Low: math.Inf(1), High: math.Inf(1)}
	}
	q := f.all.Quantile(p)
	var below seasons.Ratio
	for _, t := range f.ages {
		if t.Sum > 0 {
			below.Add(t.Sum*(1-t.Above(q)), t.Sum)
		}
	}
	e := below.Part()
	return seasons.Estimate{Value: q, Low: math.Min(q, f.all.Quantile(e.Low)), High: math.Max(q, f.all.Quantile(e.High)), N: e.N}
}

// Between is the share of the litres whose age lies from one to another.
func (f *Fresh) Between(from, to float64) seasons.Estimate {
	var part seasons.Ratio
	for _, t := range f.ages {
		if t.Sum > 0 {
			part.Add(t.Sum*(t.Above(from)-t.Above(to)), t.Sum)
		}
	}
	return part.Part()
}

// Ages gathers what the futures say of the water of each store. Add them in the order of
// their numbers: the last digits of a sum depend on it.
type Ages struct {
	stores  [][]*follower // by store, then future
	Years   float64       // counted, all futures together
	Futures int
}

// Add takes one future in.
func (a *Ages) Add(l *Lived) {
	if a.stores == nil {
		a.stores = make([][]*follower, len(l.stores))
	}
	for i, w := range l.stores {
		if w != nil {
			a.stores[i] = append(a.stores[i], w)
		}
	}
	a.Years += l.years
	a.Futures++
}

// Fresh reads off what the futures so far say of one store: of one that was not followed what
// it says of one that nothing is drawn from.
func (a *Ages) Fresh(store int) Fresh {
	var f Fresh
	var mean, old, below, scant seasons.Ratio
	for _, w := range a.stores[store] {
		t := w.ages
		f.Each = append(f.Each, w.flask())
		if t.Sum > 0 {
			mean.Add(t.Sum*t.Mean(), t.Sum)
			old.Add(t.Sum*t.Above(freshness.StandingLimit), t.Sum)
			below.Add(float64(w.keeps[0].below), float64(w.days))
			scant.Add(float64(w.keeps[1].below), float64(w.days))
			if f.all == nil {
				f.all = freshness.NewAges()
			}
			f.all.Merge(t)
		}
		f.ages = append(f.ages, t)
		f.Days += w.days
		for hour, v := range w.through {
			f.Through[hour] += v / (a.Years * 365 * seasons.Hour)
		}
	}
	f.Mean, f.Old, f.Below, f.Scant = mean.Mean(), old.Part(), below.Proportion(), scant.Proportion()
	f.Mean.Low = math.Max(f.Mean.Low, 0)
	f.Middle, f.Most = f.Quantile(0.5), f.Quantile(0.95)
	if f.all == nil {
		f.Mean.Value, f.Mean.Low, f.Mean.High, f.Old.Value = math.Inf(1), math.Inf(1), math.Inf(1), 1
		return f
	}
	f.Drawn = f.all.Sum / a.Years
	f.Ways = waysOf(a.stores[store])
	return f
}

// All is Fresh of every store.
func (a *Ages) All() []Fresh {
	list := make([]Fresh, len(a.stores))
	for i := range list {
		list[i] = a.Fresh(i)
	}
	return list
}

// Narrow says whether the ages of a store are known to a share of themselves, and the share of
// its days short of chlorine to so much.
func (a *Ages) Narrow(store int, share float64) bool {
	f := a.Fresh(store)
	for _, e := range []seasons.Estimate{f.Mean, f.Middle, f.Most} {
		if e.N > 0 && !(e.Half() <= share*e.Value) {
			return false
		}
	}
	return f.Below.N == 0 || f.Below.Half() <= share && f.Scant.Half() <= share
}

// flask is what one future says by itself.
func (w *follower) flask() Flask {
	f := Flask{Days: w.days}
	for hour, v := range w.through {
		f.Through[hour] = v / (w.years * 365 * seasons.Hour)
	}
	if w.ages.Sum > 0 && w.days > 0 {
		f.Mean, f.Middle, f.Most, f.Old = w.ages.Mean(), w.ages.Quantile(0.5), w.ages.Quantile(0.95), w.ages.Above(freshness.StandingLimit)
		f.Below, f.Scant = float64(w.keeps[0].below)/float64(w.days), float64(w.keeps[1].below)/float64(w.days)
		f.Longest, f.Scantest, f.Ways = f.Most, f.Scant, len(w.ways) > 0
		for _, y := range w.ways {
			f.Longest, f.Scantest = max(f.Longest, y.ages.Quantile(0.95)), max(f.Scantest, float64(y.below)/float64(w.days))
		}
	}
	return f
}

// settle is how many years the water of the stores is left to come to its usual age before it
// is counted: three times as long as the slowest of them takes to be drawn once, ten years at
// the most. through is what each gives in a year [m³/a], whole what it holds when full [m³];
// turnover is how long each takes [s], slowest the longest of them in years.
func settle(through, whole []float64) (years int, slowest float64, turnover []float64) {
	for i, q := range through {
		t := math.Min(whole[i]/math.Max(q, 1e-9), longestSettling/3)
		turnover = append(turnover, t*seasons.Year)
		slowest = math.Max(slowest, t)
	}
	return max(1, int(math.Ceil(3*slowest))), slowest, turnover
}

const longestSettling = 10.0 // years
