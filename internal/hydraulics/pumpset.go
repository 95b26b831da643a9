package hydraulics

import "math"

// Pumps that stand side by side add their flows at one head. In a circuit each is an
// element of its own with its own non-return valve, and nothing more is needed; a case
// runs one, the other or both. What follows is for a sheet: one curve for several alike,
// and who carries what.

// NewPumpsAlike makes the curve of count pumps alike side by side:
//
//	H = A − (B/n) q − (C/n²) q²
//
// passages of pumps standing and free-wheeling add up.
func NewPumpsAlike(part string, p *Pump, count int) (*Pump, error) {
	g := guard{part: part}
	g.want("number of pumps", float64(count), count >= 1 && count <= 20, "1 to 20")
	if p == nil {
		g.want("pump", math.NaN(), false, "a curve")
	}
	if err := g.fail(); err != nil {
		return nil, err
	}
	k := float64(count)
	through := 0.0
	if p.passage != nil {
		through = k * p.passage.kv
	}
	return NewPumpCurve(part, p.A, p.B/k, p.C/(k*k), through)
}

// FlowAt is the flow at which a pump at speed s adds the head h [m³/s]: the inverse of
// Head. 0 at or above its shut-off head, where its non-return valve stands shut.
func (p *Pump) FlowAt(h, s float64) float64 {
	d := s*s*p.A - h
	if d <= 0 || s <= 0 {
		return 0
	}
	b := s * p.B
	return 2 * d / (b + math.Sqrt(b*b+4*p.C*d))
}

// PumpSet is several pumps side by side, each at its own speed (0: standing, held shut by
// its own non-return valve).
type PumpSet struct {
	Pumps []*Pump
	Speed []float64
}

// NewPumpSet makes a set of pumps; speeds from 0 to 1, one for each.
func NewPumpSet(part string, pumps []*Pump, speed []float64) (PumpSet, error) {
	g := guard{part: part}
	g.want("number of pumps", float64(len(pumps)), len(pumps) >= 1, "1 or more")
	g.want("number of speeds", float64(len(speed)), len(speed) == len(pumps), "one for each pump")
	for _, p := range pumps {
		if p == nil {
			g.want("pump", math.NaN(), false, "a curve")
		}
	}
	for _, s := range speed {
		g.want("speed", s, s >= 0 && s <= 1, "0 to 1")
	}
	return PumpSet{pumps, speed}, g.fail()
}

// Shares returns what each pump carries at head h [m³/s], and the sum.
func (c PumpSet) Shares(h float64) (share []float64, sum float64) {
	share = make([]float64, len(c.Pumps))
	for i, p := range c.Pumps {
		share[i] = p.FlowAt(h, c.Speed[i])
		sum += share[i]
	}
	return share, sum
}

// Head is the head at which the set carries q > 0 together [m]: the inverse of Shares, by
// halving. With every pump standing there is none, and it is NaN.
func (c PumpSet) Head(q float64) float64 {
	hi := math.Inf(-1)
	for i, p := range c.Pumps {
		if c.Speed[i] > 0 {
			hi = math.Max(hi, p.ShutOff(c.Speed[i]))
		}
	}
	if math.IsInf(hi, -1) || math.IsNaN(q) {
		return math.NaN()
	}
	lo := hi - 1
	for _, sum := c.Shares(lo); sum < q; _, sum = c.Shares(lo) {
		lo = hi - 2*(hi-lo)
	}
	for range 200 {
		mid := (lo + hi) / 2
		if mid == lo || mid == hi {
			break
		}
		if _, sum := c.Shares(mid); sum > q {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

// Rota is which pump of a set leads: duty and standby by turns.
type Rota struct {
	Count int // pumps
	Lead  int // the one on duty, 0 to Count − 1
}

// Next is the rota after a start: the next pump leads, so that all wear alike and none
// stands until its water is stale.
func (r Rota) Next() Rota {
	if r.Count > 0 {
		r.Lead = (r.Lead + 1) % r.Count
	}
	return r
}

// Running tells which pumps run when want of them are asked for and some have failed: the
// lead first, then the next in turn, passing over what failed.
func (r Rota) Running(want int, failed []bool) []bool {
	run := make([]bool, r.Count)
	for i := range r.Count {
		k := (r.Lead + i) % r.Count
		if want > 0 && (k >= len(failed) || !failed[k]) {
			run[k] = true
			want--
		}
	}
	return run
}
