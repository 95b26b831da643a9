package day

import "math"

// Moment is what stood at one time.
type Moment struct {
	At      float64
	Level   float64 // of the store
	Upper   float64 // of the header tank; 0 without one
	Vessel  float64 // head at it; its charge when empty
	Pumping bool
	Store   bool      // the pump is allowed by the lock-out
	Filling float64   // flow through the float valves
	Low     []float64 // per Plant.Watch: gauge heads above the point; equal where determined
	High    []float64
}

// Tap is what one outlet got.
type Tap struct {
	Tag      string
	Drawn    float64 // m³
	Open     float64 // s
	Unserved float64 // s open with less than half its need
}

// Fill is one filling of the store.
type Fill struct {
	From, To float64 // off its seat; sealed again, or +Inf
	Start    float64 // level at From
}

// Change is one decision of the lock-out.
type Change struct {
	At    float64
	Store bool // the pump may run: the store serves
}

// Balance is how well the books close: what is missing over what was moved. The energy is +Inf
// where it was not booked.
type Balance struct{ Water, Energy float64 }

// Result is a day.
type Result struct {
	Until   float64
	Moments []Moment
	Taps    []Tap
	Starts  []float64 // when the pump started
	Changes []Change
	Fills   []Fill
	Stops   []float64 // when the dry-run stop acted
	RanDry  []float64 // when the store, or the header tank where there is one, gave its last
	Back    float64   // when the main came back the last time; +Inf: never away, or not yet

	In, Street, Out, Spilled, Drawn, Pumped float64 // m³
	RunTime                                 float64 // s
	Socket, Lifted                          float64 // electrical energy; given to the water, where it was booked [J]
	Lowest, End                             float64 // level
	Least                                   float64 // usable water in store and header tank at the least [m³]
	Closes                                  Balance
	Solves                                  int // of the circuit, for measure
}

// record gathers what happens.
type record struct {
	p   *Plant
	s   *Schedule
	r   *Result
	low float64 // level last seen

	most int // figures that are kept
}

func newRecord(p *Plant, s *Schedule) *record {
	r := &Result{Back: never, Lowest: s.Level, Least: never}
	r.Moments = make([]Moment, 0, 4*len(s.Draws)+32)
	return &record{p: p, s: s, r: r, low: s.Level, most: mostFigures}
}

// mostFigures is how many figures of its moments a run keeps, some 32 MB: 170,000 events of a home
// with seven taps, two hundred times those of an ordinary day.
const mostFigures = 4 << 20

// full reports whether no more moments are kept.
func (l *record) full() bool { return len(l.r.Moments)*(8+2*len(l.p.Watch)) > l.most }

func (l *record) start(now float64)   { l.r.Starts = append(l.r.Starts, now) }
func (l *record) dryStop(now float64) { l.r.Stops = append(l.r.Stops, now) }
func (l *record) dry(now float64)     { l.r.RanDry = append(l.r.RanDry, now) }

func (l *record) change(now float64, store bool) {
	l.r.Changes = append(l.r.Changes, Change{now, store})
}

func (l *record) main(now float64, was, off bool) {
	switch {
	case off:
		l.r.Back = never
	case was:
		l.r.Back = now
	}
}

func (l *record) opened(now float64) {
	l.r.Fills = append(l.r.Fills, Fill{From: now, To: never, Start: l.low})
}

func (l *record) sealed(now float64) {
	if n := len(l.r.Fills); n > 0 && math.IsInf(l.r.Fills[n-1].To, 1) {
		l.r.Fills[n-1].To = now
		return
	}
	l.r.Fills = append(l.r.Fills, Fill{From: 0, To: now, Start: l.s.Level})
}

// refilled reports whether the float valve has shut since the main came back.
func (l *record) refilled() bool {
	n := len(l.r.Fills)
	return n > 0 && l.r.Fills[n-1].To < never && l.r.Fills[n-1].To > l.r.Back
}

// lower follows the level of the store.
func (l *record) lower(y []float64) float64 {
	l.low = 0
	if len(l.p.Store.Surface) > 0 {
		l.low = l.p.Store.level(y[iV])
		l.r.Lowest = math.Min(l.r.Lowest, l.low)
		l.r.Least = math.Min(l.r.Least, y[iV]+y[iU])
	}
	return l.low
}

// keep notes the moment.
func (l *record) keep(m *machine, y []float64) {
	level := l.lower(y)
	o := Moment{At: m.now, Level: level, Pumping: m.pump != standing, Store: m.allowed, Filling: m.f.in}
	if m.lifts() {
		o.Upper = l.p.Header.level(y[iU])
	}
	if v := l.p.Vessel; v != nil {
		o.Vessel = v.Head(y[iW])
	}
	if n := len(l.p.Watch); n > 0 {
		both := make([]float64, 2*n)
		o.Low, o.High = both[:n:n], both[n:]
		for i, w := range l.p.Watch {
			o.Low[i], o.High[i] = m.last.answer.Low[w.Point]-w.Z, m.last.answer.High[w.Point]-w.Z
		}
	}
	l.r.Moments = append(l.r.Moments, o)
}

// result closes the books.
func (r *run) result() *Result {
	out, y, n := r.log.r, r.y, len(r.p.Outlets)
	r.log.keep(r.m, y)
	out.Until, out.Solves = r.m.now, r.m.solves
	out.In, out.Out, out.Spilled, out.Street = y[iIn], y[iOut], y[iSpill], y[iStreet]
	out.RunTime, out.Socket, out.Pumped = y[iRun], y[iSocket], y[iPumped]
	out.End = r.log.low
	for i := range n {
		t := Tap{Tag: r.p.Outlets[i].Tag, Drawn: y[iTaps+i], Unserved: y[iTaps+n+i], Open: r.opened(i)}
		out.Drawn += t.Drawn
		out.Taps = append(out.Taps, t)
	}
	stored := y[iV] - r.zero[iV] + y[iW] - r.zero[iW] + y[iU] - r.zero[iU]
	away := out.Street - out.Drawn - out.Spilled - stored
	moved := math.Max(1e-6, math.Abs(out.Street)+out.Drawn+out.Spilled+out.Out)
	out.Closes.Water = math.Abs(away) / moved
	if out.Closes.Energy = math.Inf(1); !r.m.booked {
		return out
	}
	out.Lifted = joules(y[ePump])
	given := y[eStreet] + y[eStore] + y[ePump] - y[eVessel]
	spent := y[eLoss] + y[eMouth]
	turned := math.Abs(y[eStreet]) + math.Abs(y[eStore]) + math.Abs(y[ePump]) + math.Abs(y[eVessel]) + math.Abs(y[eLoss]) + math.Abs(y[eMouth])
	out.Closes.Energy = math.Abs(given-spent) / math.Max(1e-6, turned)
	return out
}

// opened is how long an outlet stood open.
func (r *run) opened(n int) (sum float64) {
	at, count := 0.0, 0
	for _, t := range r.turns {
		if t.at > r.m.now || t.kind != opening && t.kind != closing || t.n != n {
			continue
		}
		switch {
		case t.kind == opening:
			if count++; count == 1 {
				at = math.Max(t.at, 0)
			}
		case t.kind == closing:
			if count--; count == 0 {
				sum += t.at - at
			}
		}
	}
	if count > 0 {
		sum += r.m.now - at
	}
	return sum
}

// Busiest is the most starts within any 3600 s, and when that hour began.
func (r *Result) Busiest() (most int, from float64) {
	first := 0
	for i, at := range r.Starts {
		for r.Starts[first] < at-3600 {
			first++
		}
		if n := i - first + 1; n > most {
			most, from = n, r.Starts[first]
		}
	}
	return most, from
}

// Hunts is how often the changeover went over to the store and back while the store was
// filling, and the mean time between two changes to the store.
func (r *Result) Hunts() (times int, period float64) {
	first, last := 0.0, 0.0
	for i := range r.Changes {
		c := r.Changes[i]
		if !c.Store || !r.fillingAt(c.At) {
			continue
		}
		if times++; times == 1 {
			first = c.At
		}
		last = c.At
	}
	if times < 2 {
		return times, math.Inf(1)
	}
	return times, (last - first) / float64(times-1)
}

func (r *Result) fillingAt(t float64) bool {
	for _, f := range r.Fills {
		if f.From <= t && t <= f.To {
			return true
		}
	}
	return false
}
