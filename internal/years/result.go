package years

import (
	"context"
	"math"

	"tideover/internal/outage"
	"tideover/internal/seasons"
	"tideover/internal/site"
)

// Result is what the years say.
type Result struct {
	Answer  *seasons.Answer
	Own     int
	Fresh   []Fresh
	Ages    Effort              // what Fresh rests on
	Carry   [][24]seasons.Carry // from full, by store and hour of the day
	Refill  []float64           // from empty to full, from a Monday noon on [s]; +Inf never
	Window  *Window             // nil: no size is both enough and fresh
	Knee    int                 // index of the store from which on more buys less; −1 none
	Next    float64             // ride-through that the next 100 litres buy, on the job's own store; NaN unknown
	Opens   []Opened            // what was tried where there is no window
	AsIs    Opened              // the home as it is, on the very outages those were tried on
	Habits  []Habit             // what people do when the water fails, the first none; nil in a short run
	Lasts   Lasts               // the own store from full
	Course  *Course             // of the own store through one future; nil where none was lived
	Notes   int                 // what was assumed on the way: Home.Notes
	Tails   []Tail              // none in a brief run
	Hours   *Hours              // nil where no battery runs the pump
	Stops   *Stops              // nil where it is told how many power cuts stop the main, or nothing hangs on it
	Site    Site
	Dry     []string        // taps that the store's water does not get to, or too little of it
	Log     *outage.Against // nil: no log
	Watched bool            // the interruptions are those of a log that says when somebody kept it
	Blank   string          // the field for want of which nobody knows what a tap gets, or ""

	FreshTo         float64 // usable water up to which the mean age keeps the ceiling; 0 none, +Inf all [m³]
	Stale           float64 // mean age beyond which it should not be drunk [s]; 0 where the local rules say none
	Enough, Ceiling float64 // what counts as enough (share ridden out) and as fresh (mean age [s])
}

// Effort is how much was lived for an answer.
type Effort struct {
	Years   float64 // counted
	Futures int
	Narrow  bool // the answer is as narrow as was asked
}

// Lasts is how long the job's own store lasts from full where the main fails at the worst hour
// for it: the one from which the median is least.
type Lasts struct {
	Hour    int     // of the day
	Longest float64 // interruption told of [s]; 0 none
	seasons.Carry

	Row    *site.Row     // interruptions that follow each other and find less in the store; nil: it is full
	Begins float64       // what they find [m³]
	Then   seasons.Carry // how long that lasts
}

// lasts finds how long the own store lasts, also from what interruptions in a row find in it.
func (h *Home) lasts(ctx context.Context, full *[24]seasons.Carry) (Lasts, error) {
	l := worstHour(full, h.Longest)
	if h.Row == nil {
		return l, nil
	}
	l.Row, l.Begins = h.Row, h.Begins*h.Input.Stores[h.Own].Usable
	if l.Begins <= 0 {
		return l, nil
	}
	part := *h.Input
	part.Stores = part.Stores[h.Own : h.Own+1 : h.Own+1]
	part.Stores = append([]seasons.Store(nil), part.Stores...)
	part.Stores[0].Usable = l.Begins
	w, err := seasons.NewWorker(&part)
	if err != nil {
		return l, err
	}
	from, err := w.CarryTimes(ctx, 0)
	if err != nil {
		return l, err
	}
	l.Then = worstHour(&from[0], h.Longest).Carry
	return l, nil
}

// worstHour finds the worst hour.
func worstHour(of *[24]seasons.Carry, longest float64) Lasts {
	l := Lasts{Longest: longest, Carry: of[0]}
	for hour, c := range of {
		if c.Median < l.Median {
			l.Hour, l.Carry = hour, c
		}
	}
	return l
}

// Tail is what the own store does in those of the futures lived in which the lengths of
// interruptions are of one law: how much hangs on the long ones nobody has seen yet. As these
// are the headline's own futures, the headline lies between its tails.
type Tail struct {
	Law                 string // "exponential", "weibull", "log-normal", "two-kinds"
	Futures             int
	Share, Worst, Short seasons.Estimate // ridden out; longest spell dry in ten years [s]; litres missing in a year [m³/a]
}

// Tails sorts the futures lived by the law that each drew; none where no length of an
// interruption is drawn at random.
func (h *Home) Tails(a *seasons.Answer) (list []Tail) {
	laws := make([]outage.Law, a.Futures)
	for k := range laws {
		law, random := h.future(k).Law()
		if !random {
			return nil
		}
		laws[k] = law
	}
	own := &a.Stores[h.Own]
	for _, law := range outage.Laws {
		which := func(k int) bool { return laws[k] == law }
		among := func(m seasons.Measure) seasons.Estimate { return seasons.Among(m, own.Each[m], which) }
		t := Tail{Law: lawNames[law], Share: among(seasons.RideThrough), Worst: among(seasons.WorstSpell), Short: among(seasons.ShortYear)}
		for k := range laws {
			if which(k) {
				t.Futures++
			}
		}
		if t.Share.N > 0 {
			list = append(list, t)
		}
	}
	return list
}

func (h *Home) future(k int) *outage.Future { return h.Model.Future(h.Input.Home.Seed, uint32(k)) }

var lawNames = map[outage.Law]string{outage.Exponential: "exponential", outage.Weibull: "weibull", outage.LogNormal: "log-normal", outage.TwoKinds: "two-kinds"}

// Window is the sizes that are both enough and fresh.
type Window struct{ First, Last int }

// Opened is a change of how the home lives with its stores, as it was lived through.
type Opened struct {
	ID      string // of seasons.Variant
	Uses    []string
	Every   float64
	Both    []Opened // of two changes at once: each alone
	Window  *Window
	Share   seasons.Estimate // ridden out by the job's own store then, with what so few futures leave open
	Age     seasons.Estimate // mean age of its water then [s], with what they leave open
	Futures int              // lived for that
}

// EnoughShare is the share of interruptions from which on a store counts as enough: nineteen of
// twenty would ask for worst cases nobody has seen, half is no backup. Judgement.
const EnoughShare = 0.9

// Read puts a run's answer together with age, carry and refill times. ceiling is the mean age
// up to which water counts as fresh [s].
func (h *Home) Read(ctx context.Context, a *seasons.Answer, fresh []Fresh, ceiling float64) (*Result, error) {
	w, err := seasons.NewWorker(h.Input)
	if err != nil {
		return nil, err
	}
	r := &Result{Answer: a, Own: h.Own, Watched: h.Input.Watched, Log: h.Model.Water.Against, Fresh: fresh, Knee: -1, Next: math.NaN(), Enough: EnoughShare, Ceiling: ceiling, Notes: len(h.Notes), Site: h.Site, Dry: h.Dry, Blank: h.Blank}
	if r.Carry, err = w.CarryTimes(ctx, 0); err != nil {
		return nil, err
	}
	if r.Lasts, err = h.lasts(ctx, &r.Carry[h.Own]); err != nil {
		return nil, err
	}
	for i := range h.Input.Stores {
		r.Refill = append(r.Refill, h.Input.Refill(i, 12))
	}
	r.Stops, r.Hours = h.stops(a), h.hours(a)
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

// Nearly reports whether some size is both enough and fresh by its figures as they stand, doubt
// left aside.
func Nearly(a *seasons.Answer, fresh []Fresh, ceiling float64) bool {
	for i := range a.Stores {
		if e := a.Stores[i].By[seasons.RideThrough]; e.N > 0 && e.Value >= EnoughShare && fresh[i].Mean.Value <= ceiling {
			return true
		}
	}
	return false
}

// EnoughOnes are the sizes that ride out enough, doubt left aside, and one beside: no other can
// be in a window, however fresh its water.
func EnoughOnes(a *seasons.Answer, beside int) (which []int) {
	for i := range a.Stores {
		if e := a.Stores[i].By[seasons.RideThrough]; i == beside || e.N > 0 && e.Value >= EnoughShare {
			which = append(which, i)
		}
	}
	return which
}

// FreshOnes are the sizes whose water keeps the ceiling, doubt left aside: no other can be in a
// window.
func FreshOnes(fresh []Fresh, ceiling float64) (which []int) {
	for i := range fresh {
		if fresh[i].Mean.Value <= ceiling {
			which = append(which, i)
		}
	}
	return which
}

// WindowOf is the sizes that are both enough and fresh, each by the worse end of its interval;
// nil where none is.
func WindowOf(a *seasons.Answer, fresh []Fresh, ceiling float64) *Window {
	first, last, ok := a.Window(EnoughShare, func(i int) bool { return fresh[i].Mean.High <= ceiling })
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
	if h.Input.Pump.Needs && h.Input.Pump.Battery == h.Aloft { // no battery as yet
		v := *h.Input
		v.Pump = withBattery(v.Pump, h.Battery)
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
