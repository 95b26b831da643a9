package seasons

import (
	"context"
	"math"
	"testing"

	"tideover/internal/demand"
)

// fluid is the store with constant draw d and net refill r, the main up for exponential
// times of mean u and down for m: an outage runs dry with chance dry, and the store is
// empty for the share p0 and full for the share pc of all time.
//
// In the up state the level has density K e^(zx), in the down state (r/d) K e^(zx), with
// z = μ/d − λ/r, λ = 1/u, μ = 1/m; masses r K/μ at the bottom and (r/λ) K e^(zC) at the
// top. Source: Mitra 1988, Adv. Appl. Probab. 20:646, two-state case; derived again here.
func fluid(c, d, r, u, m float64) (dry, p0, pc float64, below func(x float64) float64) {
	lambda, mu := 1/u, 1/m
	z := mu/d - lambda/r
	area := func(x float64) float64 {
		if z == 0 {
			return x
		}
		return math.Expm1(z*x) / z
	}
	k := 1 / (r/mu + (1+r/d)*area(c) + r/lambda*math.Exp(z*c))
	p0, pc = r*k/mu, r/lambda*k*math.Exp(z*c)
	if got := EmptyEq.Fn([]float64{c, d, r, u, m}); math.Abs(got-p0) > 1e-12 {
		panic("the registered equation is not the one derived here")
	}
	return DryEq.Fn([]float64{p0, u, m}), p0, pc, func(x float64) float64 { return p0 + (1+r/d)*k*area(x) }
}

// gauge sums how long a level was met.
type gauge struct {
	usable      float64
	empty, full float64
	below       [4]float64 // under 1/5, 2/5, 3/5, 4/5
	time        float64
	spans       int
	last        float64
	t           *testing.T
}

func (g *gauge) See(s *Span) {
	g.spans++
	if g.last != 0 && math.Abs(s.From-g.last) > 1e-6 {
		g.t.Fatalf("span %d begins at %g, the one before ended at %g", g.spans, s.From, g.last)
	}
	dt := s.To - s.From
	if moved := (s.In - s.Out - s.Spilled) * dt; math.Abs(s.After-s.Before-moved) > 1e-9 {
		g.t.Fatalf("span %d: %g to %g, moved %g", g.spans, s.Before, s.After, moved)
	}
	g.last = s.To
	g.time += dt
	switch {
	case s.Before == 0 && s.After == 0:
		g.empty += dt
	case s.Before == g.usable && s.After == g.usable:
		g.full += dt
	}
	for k := range g.below {
		x := g.usable * float64(k+1) / 5
		low, high := min(s.Before, s.After), max(s.Before, s.After)
		switch {
		case high <= x:
			g.below[k] += dt
		case low < x:
			g.below[k] += dt * (x - low) / (high - low)
		}
	}
}

// TestFluidQueue: shares of time empty, full and below four levels, with their sampling
// error, against the exact stationary law.
func TestFluidQueue(t *testing.T) {
	d, r := 20/3.6e6, 45/3.6e6
	u, m := 30*Hour, 12*Hour
	in := input(steady(t, d, demand.OnStore), renewal{up: u, down: m}, tanks((45+20), 400))
	in.Warm = 1
	w, err := NewWorker(in)
	if err != nil {
		t.Fatal(err)
	}
	const futures = 40
	g := gauge{usable: 0.4, t: t}
	empty := 0.0
	for k := range uint32(futures) {
		g.last = 0
		y, err := w.Chunk(context.Background(), k, &g, 0)
		if err != nil {
			t.Fatal(err)
		}
		empty += y.Stores[0].Empty
	}
	_, p0, pc, below := fluid(0.4, d, r, u, m)
	near(t, "time lived", g.time/Year, 10*futures, 1e-6)
	near(t, "share empty", g.empty/g.time, p0, 0.03*p0)
	near(t, "share empty by its count", empty/g.time, g.empty/g.time, 1e-12)
	near(t, "share full", g.full/g.time, pc, 0.02*pc)
	for k := range g.below {
		near(t, "share below a level", g.below[k]/g.time, below(0.4*float64(k+1)/5), 0.02)
	}
}

// TestFluidDry: the share of outages that run dry, litres short and the mean time empty, with
// small draws that stand for a constant one, within their own 95 % intervals widened by half.
func TestFluidDry(t *testing.T) {
	d, r := 20/3.6e6, 45/3.6e6
	u, m := 30*Hour, 12*Hour
	for _, c := range []float64{250} {
		h := home(t, demand.Household{Uses: []demand.Use{{Key: "drops", Group: demand.PerHome, PerDay: 24 * 40, Volume: 0.0005, Flow: 5e-5,
			Hours: even(), Weekend: even(), Week: [7]float64{1, 1, 1, 1, 1, 1, 1}, Line: demand.Either, Keep: [3]float64{1}, Less: [3]float64{1}}}, Scale: 1})
		in := input(h, renewal{up: u, down: m}, tanks(45, c))
		in.Years, in.Warm = 4, 1
		a := lives(t, in, 12)
		// On the automatic changeover nothing is drawn while the main is up: refill is r.
		dry, p0, _, _ := fluid(c/1000, d, r, u, m)
		o := a.Stores[0]
		inside(t, "share ridden out", o.By[RideThrough], 1-dry)
		inside(t, "time empty", o.By[EmptyYear], p0*Year)
		inside(t, "litres short", o.By[ShortYear], p0*Year*d)
		if o.Balance > 1e-9 {
			t.Errorf("balance missed by %g", o.Balance)
		}
	}
}

func inside(t *testing.T, what string, e Estimate, want float64) {
	t.Helper()
	if h := e.Half() * 1.5; !(math.Abs(e.Value-want) <= h) {
		t.Errorf("%s = %.6g (%.6g to %.6g), want %.6g", what, e.Value, e.Low, e.High, want)
	}
}

// TestTimetable: off 60 h in every 100 h, 10 L/h drawn from 480 L, refill 25 L/h net of
// nothing while the main serves. Each outage empties the store after 48 h, is dry for 12 h, and
// 40 h of refill bring it to the 480 it needs only if 25 × 40 ≥ 480: 19.2 h.
func TestTimetable(t *testing.T) {
	in := input(steady(t, 10/3.6e6, demand.Either), renewal{up: 40 * Hour, down: 60 * Hour, fixed: true}, tanks(25, 480, 700))
	in.Years = 1
	var seen trace
	w, err := NewWorker(in)
	if err != nil {
		t.Fatal(err)
	}
	y, err := w.Chunk(context.Background(), 0, &seen, 0)
	if err != nil {
		t.Fatal(err)
	}
	want := []float64{40, 40 + 48, 100, 100 + 19.2, 140, 188, 200, 219.2} // full until, empty at, main back, full at…
	for k := range want {
		if k >= len(seen) || math.Abs(seen[k]/Hour-want[k]) > 1e-9 {
			t.Fatalf("corners at %v h, want %v", seen[:min(len(seen), 10)], want)
		}
	}
	// 87 whole rounds of 100 h and 60 h of the 88th, of which 40 h up and 20 h down.
	near(t, "hours empty", y.Stores[0].Empty/Hour, 87*12, 1e-6)
	near(t, "hours empty, larger", y.Stores[1].Empty/Hour, 0, 0)
	near(t, "longest", y.Stores[0].Worst/Hour, 12, 1e-9)
	near(t, "outages", y.Stores[0].Outages, 87, 0)
	near(t, "water out", y.Stores[0].Out, 87*0.48+20*0.01, 1e-9)
}

// trace notes when a store begins to do something else.
type trace []float64

func (c *trace) See(s *Span) {
	const filling, falling, still = 1, 2, 0
	kind := still
	switch {
	case s.After > s.Before:
		kind = filling
	case s.After < s.Before:
		kind = falling
	}
	if n := len(*c); n%4 != []int{still: n % 4, falling: 1, filling: 3}[kind] || kind == still && n%2 == 1 {
		*c = append(*c, s.From)
	}
}
