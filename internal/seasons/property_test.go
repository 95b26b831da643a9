package seasons

import (
	"context"
	"errors"
	"math"
	"reflect"
	"sync"
	"testing"

	"tideover/internal/demand"
)

// town is a home whose main fails often: 4 people, sizes from far too small to ample.
func town(t testing.TB, people float64, change Change) *Input {
	in := input(family(t, people, demand.Either), renewal{up: 120 * Hour, down: 18 * Hour},
		tanks(300, 100, 200, 300, 400, 500, 600, 800, 1000, 1200, 1500, 1800, 2000, 2500, 3000))
	for i := range in.Stores {
		in.Stores[i].Edges = []float64{0.9, 1}
		in.Stores[i].Fill = [][]float64{{0, 0}, {300 / 3.6e6, 120 / 3.6e6}}
	}
	in.Change, in.Years = change, 1
	for m := range in.Hand.There {
		h := m / 60
		in.Hand.There[m] = h%24 >= 18 && h%24 < 23 || h%24 == 7
	}
	in.Hand.Least, in.Hand.Most = 300, 3600
	return in
}

// fan lives futures on so many workers, each taking them from the end backwards, and adds them up as they come.
func fan(t testing.TB, in *Input, ask Ask, workers, futures int) *Answer {
	g := NewGather(in, ask)
	next, lock := futures, sync.Mutex{}
	var wait sync.WaitGroup
	for range workers {
		wait.Go(func() {
			w, err := NewWorker(in)
			if err != nil {
				t.Error(err)
				return
			}
			for {
				lock.Lock()
				next--
				k := next
				lock.Unlock()
				if k < 0 {
					return
				}
				y, err := w.Chunk(context.Background(), uint32(k), nil, 0)
				if err != nil {
					t.Error(err)
					return
				}
				lock.Lock()
				g.Add(k, y)
				lock.Unlock()
			}
		})
	}
	wait.Wait()
	return g.Answer()
}

// TestSameBits: 1, 2 and 7 workers, and futures lived in any order, give the same bits; so
// does stopping by itself.
func TestSameBits(t *testing.T) {
	in := town(t, 4, ByHand)
	ask := Ask{Measure: RideThrough, Store: 4, Half: 0.02}
	one := fan(t, in, ask, 1, 96)
	for _, workers := range []int{2, 7} {
		if got := fan(t, in, ask, workers, 96); !reflect.DeepEqual(got, one) {
			t.Errorf("%d workers give another answer than one", workers)
		}
	}
	if !one.Narrow || one.Futures >= 96 || one.Stores[4].By[RideThrough].Half() > 0.02 {
		t.Errorf("after %d futures: narrow %v, half-width %g: it should have stopped by itself", one.Futures, one.Narrow, one.Stores[4].By[RideThrough].Half())
	}
}

// TestBiggerIsNeverWorse: on the same outages a bigger store never rides out fewer and is
// never shorter; nor do more people ever need less. Every balance closes.
func TestBiggerIsNeverWorse(t *testing.T) {
	for _, change := range []Change{Automatic, ByHand} {
		few, many := town(t, 4, change), town(t, 5, change)
		a, b := worker(t, few), worker(t, many)
		for k := range uint32(6) {
			x, y := chunk(t, a, k), chunk(t, b, k)
			for i := range x.Stores {
				c, d := x.Stores[i], y.Stores[i]
				if d.Outages != c.Outages || d.Ridden > c.Ridden || d.Short < c.Short {
					t.Errorf("future %d store %d: five people ride out %g of %g and lack %g m³, four %g of %g and %g", k, i, d.Ridden, d.Outages, d.Short, c.Ridden, c.Outages, c.Short)
				}
				if i > 0 && (c.Ridden < x.Stores[i-1].Ridden || c.Short > x.Stores[i-1].Short+1e-12 || c.Unserved > x.Stores[i-1].Unserved+1e-6) {
					t.Errorf("future %d: store %d does worse than the smaller one before it", k, i)
				}
				if e := c.balance(); e > 1e-9 {
					t.Errorf("future %d store %d: the balance misses %g", k, i, e)
				}
				if c.Unserved > c.Empty+1e-6 && change == Automatic {
					t.Errorf("future %d store %d: unserved %g s, empty only %g", k, i, c.Unserved, c.Empty)
				}
			}
		}
	}
}

func worker(t testing.TB, in *Input) *Worker {
	t.Helper()
	w, err := NewWorker(in)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

func chunk(t testing.TB, w *Worker, k uint32) *Tally {
	t.Helper()
	y, err := w.Chunk(context.Background(), k, nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	return y
}

// TestCoverage: of 2,000 runs of 20 futures each, 93 to 97 % of the 95 % intervals hold the
// truth, which is the mean of all of them (a fortieth of an interval sharp).
func TestCoverage(t *testing.T) {
	const repeats, futures = 2000, 20
	in := input(home(t, demand.Household{People: 1, Uses: []demand.Use{use(24, 20, 0.2, demand.Either)}, Scale: 1}), renewal{up: 600 * Hour, down: 12 * Hour}, tanks(100, 300))
	in.Years = 1
	w := worker(t, in)
	measures := []Measure{RideThrough, EmptyYear, ShortYear, ThroughYear}
	var all [Measures]moments
	runs := make([]*Answer, repeats)
	for r := range repeats {
		g := NewGather(in, Ask{Least: futures, Most: futures})
		for k := range futures {
			y := chunk(t, w, uint32(r*futures+k))
			g.Add(k, y)
			for _, m := range measures {
				all[m].add(m.pair(&y.Stores[0], y))
			}
		}
		runs[r] = g.Answer()
	}
	for _, m := range measures {
		truth, _ := all[m].ratio()
		held := 0
		for _, a := range runs {
			if e := a.Stores[0].By[m]; e.Low <= truth && truth <= e.High {
				held++
			}
		}
		share := float64(held) / repeats
		t.Logf("measure %d: truth %.4g, held by %.1f %%", m, truth, 100*share)
		if share < 0.93 || share > 0.97 {
			t.Errorf("measure %d: %g of the intervals hold the truth %g, want 0.93 to 0.97", m, share, truth)
		}
	}
}

// TestHopeless: a main that can give less than is drawn is said to be so, with the litres a
// day that lack; a little more and it is not.
func TestHopeless(t *testing.T) {
	for _, c := range []struct{ refill, lacks float64 }{{20, 0.48 - 0.12}, {90, 0}} {
		// 20 L/h for 6 h of 24, against 20 L/h drawn all day.
		in := input(steady(t, 20/3.6e6, demand.OnStore), renewal{up: 1e9, down: 1, fixed: true}, tanks(c.refill, 500, 5000))
		for h := range in.Week {
			if h%24 >= 6 {
				in.Week[h] = 0
			}
		}
		a := lives(t, in, 2)
		if g := gathered(t, in, 3*few); g.Done() != (c.lacks > 0) || g.Done() && g.Next() != few {
			t.Errorf("refill %g L/h: done %v after %d futures", c.refill, g.Done(), g.Next())
		}
		switch lost := a.Hopeless(); {
		case c.lacks == 0 && lost != nil:
			t.Errorf("refill %g L/h: hopeless, short %g m³ a day", c.refill, lost.Shortfall)
		case c.lacks > 0 && lost == nil:
			t.Errorf("refill %g L/h: not hopeless", c.refill)
		case lost != nil:
			near(t, "lacking a day", lost.Shortfall, c.lacks, 1e-3)
		}
	}
}

// gathered adds up so many futures, or as many as are wanted.
func gathered(t *testing.T, in *Input, n int) *Gather {
	t.Helper()
	w, err := NewWorker(in)
	if err != nil {
		t.Fatal(err)
	}
	g := NewGather(in, Ask{Measure: RideThrough, Half: 0.01, Least: 4 * n})
	for k := range n {
		tally, err := w.Chunk(context.Background(), uint32(k), nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		if g.Add(k, tally) {
			break
		}
	}
	return g
}

func TestRefused(t *testing.T) {
	for name, spoil := range map[string]func(*Input){
		"no home":        func(in *Input) { in.Home = nil },
		"no store":       func(in *Input) { in.Stores = nil },
		"never fills":    func(in *Input) { in.Week, in.Weak = [168]uint8{}, 0 },
		"NaN usable":     func(in *Input) { in.Stores[0].Usable = math.NaN() },
		"fills when off": func(in *Input) { in.Stores[0].Fill = [][]float64{{1e-4, 1e-4}, {1e-4, 1e-4}} },
		"rising refill":  func(in *Input) { in.Stores[0].Fill[1] = []float64{1e-4, 2e-4} },
		"no changeover":  func(in *Input) { in.Change = Never },
		"no years":       func(in *Input) { in.Years = 0 },
		"way unknown":    func(in *Input) { in.Week[5] = 9 },
		"ration upside":  func(in *Input) { in.Ration = [2]float64{0.2, 0.5} },
	} {
		in := town(t, 4, Automatic)
		spoil(in)
		if _, err := NewWorker(in); err == nil {
			t.Errorf("%s: accepted", name)
		}
	}
	in := town(t, 4, Automatic)
	in.Week, in.Weak = [168]uint8{}, 0
	if _, err := NewWorker(in); !errors.Is(err, ErrNoMain) {
		t.Errorf("a main that never comes: %v", err)
	}
}

// TestEndlessOutage: an interruption that never ends leaves the store empty for good and is
// hopeless, not a loop.
func TestEndlessOutage(t *testing.T) {
	in := town(t, 4, Automatic)
	in.Supply = renewal{up: 100 * Hour, down: 1e12, fixed: true}
	a := lives(t, in, 2)
	if a.Hopeless() == nil {
		t.Error("an outage without end is not hopeless")
	}
	if e := a.Stores[0].By[RideThrough]; e.N != 0 {
		t.Errorf("no outage ended and ride-through is %v", e)
	}
}

func TestCancelled(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if _, err := worker(t, town(t, 4, Automatic)).Chunk(ctx, 1, nil, 0); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
}

func TestNoAllocation(t *testing.T) {
	in := town(t, 4, ByHand)
	in.Years = 60
	w := worker(t, in)
	chunk(t, w, 1)
	// The tally and the future's own book-keeping, and nothing for each year lived.
	few := testing.AllocsPerRun(3, func() { chunk(t, w, 1) })
	if few > 8 {
		t.Errorf("%g allocations for 60 years, want those of the tally alone", few)
	}
}
