package years

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"tideover/internal/demand"
	"tideover/internal/freshness"
	"tideover/internal/outage"
	"tideover/internal/seasons"
)

// never is a supply in which nothing ever fails.
type never struct{}

func (never) Future(uint32) seasons.Future                  { return never{} }
func (never) Off(dst []outage.Spell, _ int) []outage.Spell  { return dst }
func (never) Weak(dst []outage.Spell, _ int) []outage.Spell { return dst }
func (never) Dark(dst []outage.Spell, _ int) []outage.Spell { return dst }

// through is a home that draws steadily through its stores of so many litres, with a tenth of
// that below the outlet, the float valve giving just what is drawn.
func through(t *testing.T, flow float64, litres ...float64) (*Home, *seasons.Input) {
	t.Helper()
	home, err := demand.Make(demand.Household{Scale: 1, Leak: flow, LeakLine: demand.OnStore,
		Uses: []demand.Use{{Key: "use", Volume: 1e-3, Flow: 1e-4, Hours: [24]float64{1}, Weekend: [24]float64{1}, Week: [7]float64{1, 1, 1, 1, 1, 1, 1},
			Keep: [3]float64{1, 1, 1}, Less: [3]float64{1, 1, 1}, Line: demand.OnStore}}}, 1)
	if err != nil {
		t.Fatal(err)
	}
	in := &seasons.Input{Home: home, Supply: never{}, Mains: []seasons.Main{{}, {Serves: true, Head: 30}}, Weak: 1, Change: seasons.Never, Years: 1, Warm: 1}
	for h := range in.Week {
		in.Week[h] = 1
	}
	for _, l := range litres {
		in.Stores = append(in.Stores, seasons.Store{Usable: l / 1000, Dead: l / 10000, Edges: []float64{1}, Fill: [][]float64{{0}, {5 * flow}}})
	}
	return &Home{Input: in, Site: Site{Arriving: 15, Chlorine: 0.5e-3, Decay: freshness.Decay{}}}, in
}

// TestAgeOfThroughFlow: water drawn steadily out of a full, mixed store is as old as the store
// takes to be drawn once, τ = V/q (Danckwerts 1953); with that, every litre alike. A slow store
// has come to it before it is counted.
func TestAgeOfThroughFlow(t *testing.T) {
	const flow = 2e-3 / seasons.Hour
	h, in := through(t, flow, 100, 1000, 6000)
	w, err := seasons.NewWorker(in)
	if err != nil {
		t.Fatal(err)
	}
	g := seasons.NewGather(in, seasons.Ask{Least: 2, Most: 2})
	var a Ages
	for k := range 2 {
		c, err := w.Chunk(context.Background(), uint32(k), nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		g.Add(k, c)
	}
	for k := range 2 {
		l, err := h.Follow(context.Background(), in, g.Answer(), nil, k)
		if err != nil {
			t.Fatal(err)
		}
		a.Add(l)
	}
	for i, f := range a.All() {
		want := 1.1 * in.Stores[i].Usable / flow
		if math.Abs(f.Mean.Value/want-1) > 1e-6 || math.Abs(f.Most.Value/want-1) > 0.05 || math.Abs(f.Drawn/(flow*seasons.Year)-1) > 1e-6 {
			t.Errorf("store %d: %v s old, one in twenty over %v, %v m³ a year; want %v, %v", i, f.Mean.Value, f.Most.Value, f.Drawn, want, flow*seasons.Year)
		}
		if !(f.Mean.Low <= f.Mean.Value && f.Mean.Value <= f.Mean.High) || f.Mean.N != 2 {
			t.Errorf("store %d: %+v", i, f.Mean)
		}
	}
}

// TestUndrawn: a store that nothing is drawn from says so, and no figure is made up.
func TestUndrawn(t *testing.T) {
	var a Ages
	a.Add(&Lived{stores: []*follower{{ages: freshness.NewAges(), years: 1}}, years: 1})
	f := a.Fresh(0)
	if f.Mean.N != 0 || !math.IsInf(f.Mean.Value, 1) || f.Most.N != 0 || f.Below.N != 0 {
		t.Errorf("%+v", f)
	}
	if n, of := f.Sure(func(*Flask) bool { return true }); n != 0 || of != 0 {
		t.Errorf("%d of %d futures", n, of)
	}
}

// Synthetic futures with a known truth: in each the store turns over in m = 5 d · e^(0.3 z), z
// standard normal; what is drawn goes as 1/m, in ten draws that differ by half, of ages even
// from 0 to 2 m; of 40 days each is short of chlorine with the chance m/(20 d), 1 at the most.
const (
	scale  = 5 * seasons.Day
	spread = 0.3
	draws  = 10
	days   = 40
)

func synthetic(r *rand.Rand) *follower {
	m := scale * math.Exp(spread*r.NormFloat64())
	w := &follower{ages: freshness.NewAges(), years: 1, days: days}
	for range draws {
		age := 2 * m * r.Float64()
		w.ages.Add(age, age, scale/m*(0.5+r.Float64()))
	}
	for range days {
		if r.Float64() < math.Min(1, m/(4*scale)) {
			w.keeps[0].below++
		}
	}
	return w
}

// truth is the mean of f over the futures, weighed by what is drawn in each, and unweighed.
func truth(f func(m float64) float64) (byVolume, plain float64) {
	sum, volume, all := 0.0, 0.0, 0.0
	for z := -8.0; z <= 8; z += 1e-3 {
		p, m := math.Exp(-z*z/2), scale*math.Exp(spread*z)
		sum, volume, all, plain = sum+p*f(m)/m, volume+p/m, all+p, plain+p*f(m)
	}
	return sum / volume, plain / all
}

// TestAgeCoverage: of 2,000 runs with fixed seeds, of 16 futures each, 93 to 97 % of the 95 %
// intervals hold the truth: of the mean, the median, the age that one litre in twenty exceeds,
// the share that has stood for long, the share of days short of chlorine, one bar of the
// histogram.
func TestAgeCoverage(t *testing.T) {
	const repeats, futures = 2000, 16
	under := func(x float64) float64 {
		share, _ := truth(func(m float64) float64 { return math.Min(1, x/(2*m)) })
		return share
	}
	quantile := func(p float64) float64 {
		low, high := 0.0, 100*scale
		for range 60 {
			if mid := (low + high) / 2; under(mid) < p {
				low = mid
			} else {
				high = mid
			}
		}
		return low
	}
	mean, _ := truth(func(m float64) float64 { return m })
	_, short := truth(func(m float64) float64 { return math.Min(1, m/(4*scale)) })
	for _, c := range []struct {
		name  string
		truth float64
		read  func(f *Fresh) seasons.Estimate
	}{
		{"mean", mean, func(f *Fresh) seasons.Estimate { return f.Mean }},
		{"median", quantile(0.5), func(f *Fresh) seasons.Estimate { return f.Middle }},
		{"one in twenty", quantile(0.95), func(f *Fresh) seasons.Estimate { return f.Most }},
		{"one to five days", under(5*seasons.Day) - under(seasons.Day), func(f *Fresh) seasons.Estimate { return f.Between(seasons.Day, 5*seasons.Day) }},
		{"old", 1 - under(freshness.StandingLimit), func(f *Fresh) seasons.Estimate { return f.Old }},
		{"short of chlorine", short, func(f *Fresh) seasons.Estimate { return f.Below }},
	} {
		held := 0
		for run := range repeats {
			r := rand.New(rand.NewPCG(8, uint64(run)))
			var a Ages
			for range futures {
				a.Add(&Lived{stores: []*follower{synthetic(r)}, years: 1})
			}
			f := a.Fresh(0)
			if e := c.read(&f); e.Low <= c.truth && c.truth <= e.High {
				held++
			}
		}
		share := float64(held) / repeats
		t.Logf("%s: truth %.4g, held by %.1f %%", c.name, c.truth, 100*share)
		if share < 0.93 || share > 0.97 {
			t.Errorf("%s: %g of the intervals hold the truth %g, want 0.93 to 0.97", c.name, share, c.truth)
		}
	}
}

// TestFollowSome: the water of a store that is followed alone is what it is among all; of the
// others nothing is made up.
func TestFollowSome(t *testing.T) {
	h, in := through(t, 2e-3/seasons.Hour, 100, 1000, 3000)
	w, err := seasons.NewWorker(in)
	if err != nil {
		t.Fatal(err)
	}
	g := seasons.NewGather(in, seasons.Ask{Least: 1, Most: 1})
	c, err := w.Chunk(context.Background(), 0, nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	g.Add(0, c)
	var all, one Ages
	for a, which := range map[*Ages][]int{&all: nil, &one: {1}} {
		l, err := h.Follow(context.Background(), in, g.Answer(), which, 3)
		if err != nil {
			t.Fatal(err)
		}
		a.Add(l)
	}
	if x, y := all.Fresh(1), one.Fresh(1); x.Mean != y.Mean || x.Most != y.Most || x.Drawn != y.Drawn || x.Mean.N != 1 {
		t.Errorf("%+v among all, %+v alone", x.Mean, y.Mean)
	}
	if f := one.Fresh(2); f.Mean.N != 0 || !math.IsInf(f.Mean.High, 1) {
		t.Errorf("of a store nobody followed: %+v", f.Mean)
	}
}
