package years

import (
	"context"
	"math"

	"tideover/internal/freshness"
	"tideover/internal/seasons"
)

// Result is what the years say.
type Result struct {
	Answer *seasons.Answer
	Own    int
	Fresh  []Fresh
	Carry  [][24]seasons.Carry // from full, by store and hour of the day
	Refill []float64           // from empty to full, from a Monday noon on [s]; +Inf never
	Window *Window             // nil: no size is both enough and fresh
	Knee   int                 // index of the store from which on more buys less; −1 none
	Next   float64             // ride-through that the next 100 litres buy, on the job's own store; NaN unknown
	Opens  []Opened            // what was tried where there is no window
	AsIs   Opened              // the home as it is, on the very outages those were tried on
	Lasts  Lasts               // the own store from full
	Course *Course             // of the own store through one future; nil where none was lived
	Notes  int                 // what was assumed on the way: Home.Notes

	FreshTo         float64 // usable water up to which the mean age keeps the ceiling; 0 none, +Inf all [m³]
	Enough, Ceiling float64 // what counts as enough (share ridden out) and as fresh (mean age [s])
}

// Fresh is how old the water is that one store gives to the taps.
type Fresh struct {
	Mean, Most float64 // volume-weighted mean, and the age that one litre in twenty exceeds [s]
	Drawn      float64 // m³ a year through it
	Classes    []freshness.Class
}

// Lasts is how long the job's own store lasts from full where the main fails at the worst hour
// for it: the one from which the median is least.
type Lasts struct {
	Hour    int     // of the day
	Longest float64 // interruption told of [s]; 0 none
	seasons.Carry
}

// lasts finds the worst hour.
func lasts(of *[24]seasons.Carry, longest float64) Lasts {
	l := Lasts{Longest: longest, Carry: of[0]}
	for hour, c := range of {
		if c.Median < l.Median {
			l.Hour, l.Carry = hour, c
		}
	}
	return l
}

// Window is the sizes that are both enough and fresh.
type Window struct{ First, Last int }

// Opened is a change of how the home lives with its stores, as it was lived through.
type Opened struct {
	ID     string // of seasons.Variant
	Uses   []string
	Every  float64
	Window *Window
	Share  float64 // ridden out by the job's own store then
	Age    float64 // mean age of its water then [s]
}

// EnoughShare is the share of interruptions from which on a store counts as enough: nineteen of
// twenty would ask for worst cases nobody has seen, half is no backup. Judgement.
const EnoughShare = 0.9

// watcher keeps the age of one store's water.
type watcher struct {
	water freshness.Mixed
	ages  *freshness.Tally
	begun bool
	dead  float64
	warm  float64
}

// least is the water that always stays in a store, so that its age has a meaning. [m³]
const least = 1e-6

// See takes a stretch of the store's life.
func (w *watcher) See(s *seasons.Span) {
	if !w.begun {
		w.begun, w.water.Volume = true, s.Before+w.dead
		w.water.Water.Heat = w.warm
	}
	span := s.To - s.From
	if span <= 0 {
		return
	}
	volume := math.Max(s.Before+w.dead, least)
	w.water.Volume = volume
	f := freshness.Flow{Span: span, In: math.Max(s.In, 0), Out: math.Max(s.Out+s.Spilled, 0)}
	if after := volume + (f.In-f.Out)*span; after < least {
		f.Out = math.Max(f.In+(volume-least)/span, 0)
	}
	out := w.water.Step(f, freshness.Water{Heat: w.warm}, freshness.Around{Outside: w.warm}, freshness.UsualDecay)
	if out.Volume > 0 {
		w.ages.Add(out.First.Age, out.Last.Age, out.Volume)
	}
}

// ageYears is how long the water of one store is followed: its age settles within weeks of
// use, and a year has every season.
const ageYears = 2

// Age lives one future of one store and tells how old the water is that it gives.
func (h *Home) Age(ctx context.Context, in *seasons.Input, store int) (Fresh, error) {
	short := *in
	short.Years = ageYears
	short.Stores, store = in.Stores[store:store+1], 0
	in = &short
	w, err := seasons.NewWorker(in)
	if err != nil {
		return Fresh{}, err
	}
	seen := &watcher{ages: freshness.NewAges(), dead: in.Stores[store].Dead + in.Stores[store].Reserve, warm: h.Warm}
	if _, err := w.Chunk(ctx, 0, seen, store); err != nil {
		return Fresh{}, err
	}
	if seen.ages.Sum == 0 {
		return Fresh{Mean: math.Inf(1), Most: math.Inf(1)}, nil
	}
	return Fresh{Mean: seen.ages.Mean(), Most: seen.ages.Quantile(0.95), Drawn: seen.ages.Sum / float64(in.Years), Classes: seen.ages.Classes()}, nil
}

// Read puts a run's answer together with age, carry and refill times. ceiling is the mean age
// up to which water counts as fresh [s].
func (h *Home) Read(ctx context.Context, a *seasons.Answer, fresh []Fresh, ceiling float64) (*Result, error) {
	w, err := seasons.NewWorker(h.Input)
	if err != nil {
		return nil, err
	}
	r := &Result{Answer: a, Own: h.Own, Fresh: fresh, Knee: -1, Next: math.NaN(), Enough: EnoughShare, Ceiling: ceiling, Notes: len(h.Notes)}
	if r.Carry, err = w.CarryTimes(ctx, 0); err != nil {
		return nil, err
	}
	r.Lasts = lasts(&r.Carry[h.Own], h.Longest)
	for i := range h.Input.Stores {
		r.Refill = append(r.Refill, h.Input.Refill(i, 12))
	}
	r.Window = WindowOf(a, fresh, ceiling)
	r.FreshTo = freshTo(h.Input.Stores, fresh, ceiling)
	if a.Middle >= 0 {
		if r.Course, err = h.Course(ctx, a.Middle); err != nil {
			return nil, err
		}
	}
	if k, ok := a.Knee(); ok {
		r.Knee = k
	}
	if won, ok := a.More(h.Own, 0.1); ok {
		r.Next = won.Value
	}
	return r, nil
}

// WindowOf is the sizes that are both enough and fresh, or nil.
func WindowOf(a *seasons.Answer, fresh []Fresh, ceiling float64) *Window {
	first, last, ok := a.Window(EnoughShare, func(i int) bool { return fresh[i].Mean <= ceiling })
	if !ok {
		return nil
	}
	return &Window{first, last}
}

// Variants are the changes that may open a window: those of the run itself, and where the
// pump stands without power a battery, where a hand turns the valve a changeover by itself.
// The two come first: they are what holds most homes back.
func (h *Home) Variants() ([]seasons.Variant, error) {
	var list []seasons.Variant
	if h.Input.Pump.Needs && h.Input.Pump.Battery == 0 {
		v := *h.Input
		v.Pump.Battery, v.Pump.Recharge = backup, 0.5
		list = append(list, seasons.Variant{ID: "battery", Input: &v})
	}
	if h.Input.Change == seasons.ByHand {
		v := *h.Input
		v.Change = seasons.Automatic
		list = append(list, seasons.Variant{ID: "automatic", Input: &v})
	}
	more, err := seasons.Variants(h.Input)
	return append(list, more...), err
}
