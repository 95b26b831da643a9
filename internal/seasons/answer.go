package seasons

import "math"

// Answer is what the futures lived so far say.
type Answer struct {
	Stores  []Odds
	Futures int
	Middle  int     // the future that half of them are kinder than: one to be shown, neither lucky nor unlucky
	Years   float64 // lived and counted, all futures together
	Narrow  bool    // the headline is as narrow as was asked
	Asked   float64 // of the store's side in a year [m³/a]
	Main    float64 // short in a year at taps that only the main feeds: no store helps there [m³/a]
	Called  float64 // time in a year in which the main does not serve [s/a]
}

// Odds are the figures of one store.
type Odds struct {
	Name    string
	Usable  float64
	By      [Measures]Estimate
	Total   Count
	Next    [Measures]Range  // what the coming years bring in nine futures of ten (see Next); of measures with an N above 0
	Each    [Measures][]Pair // of every future in turn
	Gain    Estimate         // ride-through won against the store before, on the same outages; N 0 for the first
	Saved   Estimate         // litres a year no longer short against the store before [m³/a]
	Idle    bool             // no future had anything to live through: there are no odds
	Balance float64          // |in − out − stored − spilled| over what went through: below 1e-9 [–]
	// Deficit is what the refill lacks a day, were the store as large as you like; 0 where it
	// can keep up. Above 0 no store can help. [m³/d]
	Deficit float64
}

// Sure counts the futures that had interruptions, and those of them in which the share ridden
// out reaches enough (above), or does not: how firmly a judgement on it holds, luck and doubt
// about the supply counted in.
func (o *Odds) Sure(enough float64, above bool) (n, of int) {
	for _, p := range o.Each[RideThrough] {
		if p.Den == 0 {
			continue
		}
		of++
		if (p.Num/p.Den >= enough-1e-9) == above {
			n++
		}
	}
	return n, of
}

// Answer reads the figures off the sums so far.
func (g *Gather) Answer() *Answer {
	y := math.Max(g.total.Years, 1)
	a := &Answer{Futures: g.next, Years: g.total.Years, Asked: g.total.Asked / y, Main: g.total.Main / y, Called: g.total.Called / y}
	if g.next == 0 {
		return a
	}
	a.Narrow, a.Middle = g.narrow(), g.middling()
	for i := range g.in.Stores {
		s, c := &g.in.Stores[i], g.total.Stores[i]
		o := Odds{Name: s.Name, Usable: s.Usable, Total: c, Balance: c.balance(), Idle: g.total.Called == 0 && c.Outages == 0 && c.Short == 0}
		for m := range Measures {
			o.By[m] = g.estimate(i, m)
			o.Each[m] = g.each[i][m][:g.next:g.next]
			o.Next[m], _ = Next(o.Each[m], g.in.Watched)
		}
		if i > 0 {
			o.Gain, o.Saved = g.gains[i][0].mean(), g.gains[i][1].mean()
		}
		if lacks := g.total.Asked - c.Potential; lacks > 0 {
			o.Deficit = lacks / (y * 365)
		}
		a.Stores = append(a.Stores, o)
	}
	return a
}

// balance is how far in and out miss each other, as a share of what went through.
func (c *Count) balance() float64 {
	through := c.In + c.Out + math.Abs(c.Stored)
	if through == 0 {
		return 0
	}
	return math.Abs(c.In-c.Out-c.Spilled-c.Stored) / through
}

// Hopeless says that no store can help: with every store tried, what the main can give in
// the hours it is there is less than what is asked. Shortfall is the least of it. [m³/d]
type Hopeless struct{ Shortfall float64 }

// Hopeless returns the shortfall where there is no store that can keep up, else nil.
func (a *Answer) Hopeless() *Hopeless {
	if len(a.Stores) == 0 {
		return nil
	}
	least := math.Inf(1)
	for i := range a.Stores {
		least = math.Min(least, a.Stores[i].Deficit)
	}
	if least == 0 {
		return nil
	}
	return &Hopeless{least}
}

// Window returns the first and the last store that both rides out enough (the low end of
// the interval reaches the share) and stays fresh by the ceiling given; ok is false when
// there is none. Stores are taken in the order of Input.
func (a *Answer) Window(enough float64, fresh func(store int) bool) (first, last int, ok bool) {
	first, last = -1, -1
	for i := range a.Stores {
		if e := a.Stores[i].By[RideThrough]; e.N == 0 || e.Low < enough || !fresh(i) {
			continue
		}
		if first < 0 {
			first = i
		}
		last = i
	}
	return first, last, first >= 0
}

// Knee returns the store at which more litres begin to buy less: where the curve of
// ride-through against usable water lies highest above the straight line from the
// first store to the last. ok is false with fewer than three or where nothing is won.
// Source: Satopää, Albrecht, Irwin & Raghavan 2011, "Finding a 'kneedle' in a haystack",
// ICDCS Workshops, section III.
func (a *Answer) Knee() (store int, ok bool) {
	n := len(a.Stores) - 1
	if n < 2 {
		return 0, false
	}
	x0, x1 := a.Stores[0].Usable, a.Stores[n].Usable
	y0, y1 := a.Stores[0].By[RideThrough].Value, a.Stores[n].By[RideThrough].Value
	best := 0.0
	for i := 1; i < n; i++ {
		x, y := a.Stores[i].Usable, a.Stores[i].By[RideThrough].Value
		if above := (y-y0)*(x1-x0) - (y1-y0)*(x-x0); above > best {
			best, store = above, i
		}
	}
	return store, best > 1e-9*(x1-x0)
}

// More returns what litres more buy from a store on: ride-through won for so much more usable
// water [m³], by the line to the next store and its interval. ok is false for the last.
func (a *Answer) More(store int, water float64) (won Estimate, ok bool) {
	if store < 0 || store+1 >= len(a.Stores) {
		return Estimate{}, false
	}
	next := a.Stores[store+1]
	k := water / (next.Usable - a.Stores[store].Usable)
	if !(k > 0) || math.IsInf(k, 0) || next.Gain.N == 0 {
		return Estimate{}, false
	}
	g := next.Gain
	return Estimate{g.Value * k, g.Low * k, g.High * k, g.N}, true
}
