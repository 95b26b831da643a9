package demand

import (
	"cmp"
	"math"
	"slices"

	"tideover/internal/stream"
)

// pulse is one draw: a rectangle. Times in s from the start of the run.
type pulse struct {
	from, to float64
	flow     float64
	use      uint8
	mark     float64 // 0..of: who is cut first when water is rationed
	of       float64
}

// Piece is a stretch in which the flow does not change.
type Piece struct {
	From, To float64
	Flow     float64 // of the uses asked for [m³/s], leak not counted
	Lost     float64 // of the other uses asked for
}

// Reader draws for one home. Hours and days count from the start of the run, a Monday, the
// first of January at 00:00. It holds buffers and no randomness: any reader
// finds the same draws. One goroutine uses it at a time.
type Reader struct {
	m    *Home
	home uint32
	own  float64 // share of the household's draws that this home makes

	hour   int // that is loaded
	pulses []pulse
	day    int
	kind   kind
	shared *Shared

	edges, sorted []edge
	first         []int32 // of the parts of a stretch: where its edges begin
	pieces        []Piece
	open          []open
}

// open is from when to when one tap is open.
type open struct{ from, to float64 }

type edge struct {
	at         float64
	flow, lost float64
	open       int
}

// NewReader returns a reader.
func NewReader(m *Home) *Reader {
	return &Reader{m: m, own: m.Own(0), hour: none, day: none, pulses: make([]pulse, 0, 64), edges: make([]edge, 0, 128), pieces: make([]Piece, 0, 128), open: make([]open, 0, 64)}
}

// none is no hour and no day, and none before the first either.
const none = -2

// Open turns to a home.
func (r *Reader) Open(home uint32) {
	r.home, r.hour, r.day, r.pulses = home, none, none, r.pulses[:0]
	r.own = r.m.Own(home)
}

// People returns how many are there on a day of the run.
func (r *Reader) People(day int) float64 {
	r.today(day)
	return r.kind.people
}

func (r *Reader) today(day int) {
	if r.day != day {
		r.day, r.kind = day, r.m.kindOf(r.home, uint32(day/365), day%365)
		r.kind.indoors *= r.own
		r.kind.outside *= r.own
	}
}

// load makes the draws that touch an hour the ones at hand: those that begin
// in it, and the ends of those that began before. No draw lasts longer than an hour.
func (r *Reader) load(hour int) {
	if r.hour == hour {
		return
	}
	if r.hour != hour-1 {
		r.pulses = r.pulses[:0]
		if hour > 0 {
			r.begin(hour - 1)
		}
	}
	start := float64(hour) * Hour
	kept := r.pulses[:0]
	for _, p := range r.pulses {
		if p.to > start {
			kept = append(kept, p)
		}
	}
	r.pulses = kept
	r.begin(hour)
	r.hour = hour
}

// begin adds the draws that begin in an hour.
func (r *Reader) begin(hour int) {
	if r.shared != nil {
		r.pulses = append(r.pulses, r.shared.of(r, hour)...)
		return
	}
	r.draws(hour)
}

// draws makes them.
func (r *Reader) draws(hour int) {
	day := hour / 24
	r.today(day)
	week, clock := day%7, hour%24
	counts := stream.Of(r.key(stream.Count, hour, 0))
	person, whole, outside, _ := counts.Block()
	for k, u := range [Groups]uint32{person, whole, outside} {
		g := Group(k)
		if rate := r.rate(g, hour); rate > 0 {
			r.draw(g, hour, day, week, clock, r.count(g, hour, rate, u))
		}
	}
}

// count is how many draws begin: the Poisson law turned upside down, so that more people
// add draws and take none away; above the mean where that would take long, by rejection.
func (r *Reader) count(g Group, hour int, rate float64, w uint32) int {
	if rate > 300 {
		s := stream.Of(r.key(stream.Count, hour, 1+uint32(g)))
		return s.Poisson(rate)
	}
	u := (float64(w) + 0.5) * 0x1p-32
	if u <= 1-rate { // e^(−rate) is more than that: none, without working it out
		return 0
	}
	n, p := 0, math.Exp(-rate)
	for u > p && p > 0 {
		u -= p
		n++
		p *= rate / float64(n)
	}
	return n
}

// Quiet returns how many hours from one on, at most so many, surely see none of some uses draw: no
// draw of the groups they belong to begins in them, or in the hour before the first.
func (r *Reader) Quiet(hour, most int, uses uint64) (hours int) {
	if hour > 0 && r.starts(hour-1, uses) {
		return 0
	}
	for hours < most && !r.starts(hour+hours, uses) {
		hours++
	}
	return hours
}

// starts reports whether a draw of the groups that some uses belong to begins in an hour.
func (r *Reader) starts(hour int, uses uint64) bool {
	var words [Groups]uint32
	known := false
	for g := range Groups {
		if r.m.of[g]&uses == 0 || r.m.rate[g][hour/24%7][hour%24] == 0 {
			continue
		}
		if !known {
			counts := stream.Of(r.key(stream.Count, hour, 0))
			words[0], words[1], words[2], _ = counts.Block()
			known = true
			r.today(hour / 24)
		}
		if rate := r.rate(g, hour); rate > 0 && r.count(g, hour, rate, words[g]) > 0 {
			return true
		}
	}
	return false
}

// rate is the mean number of draws of a group that begin in an hour of today.
func (r *Reader) rate(g Group, hour int) float64 {
	rate := r.m.rate[g][hour/24%7][hour%24]
	switch g {
	case PerPerson:
		return rate * r.kind.indoors * r.kind.people
	case PerHome:
		return rate * r.kind.indoors
	}
	return rate * r.kind.outside
}

// key is that of an hour's draws, each group with its own.
func (r *Reader) key(p stream.Process, hour int, item uint32) stream.Key {
	return stream.Key{Seed: r.m.Seed, Home: r.home, Year: uint32(hour / yearHours), Process: p, Item: item<<14 + uint32(hour%yearHours)}
}

const yearHours = 365 * 24

// draw adds n draws of a group. Draw k takes the k-th block of the hour's stream: which
// use, how much, when, and how fast.
func (r *Reader) draw(g Group, hour, day, week, clock, n int) {
	if n == 0 {
		return
	}
	m, start := r.m, float64(hour)*Hour
	share, uses := m.pick[g][week][clock], m.uses[g]
	s := stream.Of(r.key(stream.Volume, hour, uint32(g)))
	for range n {
		word, size, when, fast := s.Block()
		which := (float64(word) + 0.5) * 0x1p-32
		k, low := 0, 0.0
		for which > share[k] && k < len(share)-1 {
			low = share[k]
			k++
		}
		mark, wide := which-low, share[k]-low
		i := uses[k]
		u := &m.Uses[i]
		if u.Swing > 0 {
			// Thinned from the season's most, and the mark made even again.
			keep := u.season(day%365) / (1 + u.Swing)
			if mark > keep*wide {
				continue
			}
			mark /= keep
		}
		flow, volume := at(m.flow[i], fast), at(m.vol[i], size)
		lasts := volume / flow
		if lasts > Hour {
			lasts, flow = Hour, volume/Hour
		}
		from := start + float64(when)*(0x1p-32*Hour)
		r.pulses = append(r.pulses, pulse{from, from + lasts, flow, uint8(i), mark, wide})
	}
}

// cut is when a draw ends at a stage of rationing; 0 when it is not made at all.
func (p *pulse) cut(m *Home, stage int) float64 {
	if stage == 0 {
		return p.to
	}
	u := &m.Uses[p.use]
	if p.mark >= u.Keep[stage]*p.of {
		return 0
	}
	return p.from + (p.to-p.from)*u.Less[stage]
}

// Total returns what is asked for from a to b, which lie in one hour of the run, at a
// stage of rationing, by use; the leak not counted. [m³]
func (r *Reader) Total(a, b float64, stage int, uses []float64) {
	r.load(int(a / Hour))
	clear(uses)
	for i := range r.pulses {
		p := &r.pulses[i]
		if d := min(p.cut(r.m, stage), b) - max(p.from, a); d > 0 {
			uses[p.use] += p.flow * d
		}
	}
}

// Pieces returns the draws behind Total in order of time: stretches of one flow that fill
// a to b, of the uses in the mask draws (see Household.On), and beside them of those in lost.
// The slice is the reader's own, good until the next call.
func (r *Reader) Pieces(a, b float64, stage int, draws, lost uint64) []Piece {
	r.load(int(a / Hour))
	r.edges, r.pieces = r.edges[:0], r.pieces[:0]
	for i := range r.pulses {
		p := &r.pulses[i]
		bit := uint64(1) << p.use
		from, to := max(p.from, a), min(p.cut(r.m, stage), b)
		if to <= from || bit&(draws|lost) == 0 {
			continue
		}
		e := edge{at: from, open: 1}
		if bit&draws != 0 {
			e.flow = p.flow
		} else {
			e.lost = p.flow
		}
		r.edges = append(r.edges, e, edge{to, -e.flow, -e.lost, -1})
	}
	r.order(a, b)
	return r.sweep(a, b)
}

// Running returns how long at least one tap of the uses in the mask is open from a to b,
// which lie in one hour of the run, at a stage of rationing: what the Pieces that flow add up
// to, without laying them out. [s]
func (r *Reader) Running(a, b float64, stage int, uses uint64) (sum float64) {
	r.load(int(a / Hour))
	r.open = r.open[:0]
	for i := range r.pulses {
		p := &r.pulses[i]
		if from, to := max(p.from, a), min(p.cut(r.m, stage), b); to > from && uses>>p.use&1 == 1 {
			r.open = append(r.open, open{from, to})
		}
	}
	r.inOrder()
	end := a
	for _, o := range r.open {
		if o.to > end {
			sum += o.to - max(o.from, end)
			end = o.to
		}
	}
	return sum
}

// inOrder sorts the open times by their beginning.
func (r *Reader) inOrder() {
	if len(r.open) > 2*few {
		slices.SortFunc(r.open, func(x, y open) int { return cmp.Compare(x.from, y.from) })
		return
	}
	for i := 1; i < len(r.open); i++ {
		o, k := r.open[i], i
		for ; k > 0 && o.from < r.open[k-1].from; k-- {
			r.open[k] = r.open[k-1]
		}
		r.open[k] = o
	}
}

// few edges are put in order as they come.
const few = 12

// order sorts the edges by time, those of one moment as they came. Many are first spread
// over as many equal parts of the stretch: draws begin anywhere in it, so that each part
// holds one or two.
func (r *Reader) order(a, b float64) {
	if n := len(r.edges); n > few {
		r.spread(a, float64(n)/(b-a))
	}
	for i := 1; i < len(r.edges); i++ {
		e, k := r.edges[i], i
		for ; k > 0 && e.at < r.edges[k-1].at; k-- {
			r.edges[k] = r.edges[k-1]
		}
		r.edges[k] = e
	}
}

func (r *Reader) spread(a, per float64) {
	n := len(r.edges)
	if cap(r.sorted) < n || cap(r.first) < n+1 {
		r.sorted, r.first = make([]edge, 2*n), make([]int32, 2*n+1)
	}
	to, first := r.sorted[:n], r.first[:n+1]
	clear(first)
	for i := range r.edges {
		first[part(r.edges[i].at-a, per, n)+1]++
	}
	for k := range n {
		first[k+1] += first[k]
	}
	for i := range r.edges {
		k := part(r.edges[i].at-a, per, n)
		to[first[k]] = r.edges[i]
		first[k]++
	}
	r.edges, r.sorted = to, r.edges[:cap(r.edges)]
}

func part(t, per float64, n int) int { return min(int(t*per), n-1) }

func (r *Reader) sweep(a, b float64) []Piece {
	now := Piece{From: a}
	open := 0
	for _, e := range r.edges {
		if e.at > now.From {
			now.To = e.at
			r.pieces = append(r.pieces, now)
			now.From = e.at
		}
		now.Flow, now.Lost = now.Flow+e.flow, now.Lost+e.lost
		if open += e.open; open == 0 {
			now.Flow, now.Lost = 0, 0 // what adding and taking away left over
		}
	}
	if b > now.From {
		now.To = b
		r.pieces = append(r.pieces, now)
	}
	return r.pieces
}
