package demand

import (
	"errors"
	"math"
	"testing"
)

func even() (w [24]float64) {
	for h := range w {
		w[h] = 1
	}
	return w
}

// plain is a use at a steady rate with nothing left to chance but when.
func plain(perDay, litres, flow float64) Use {
	return Use{Key: "plain", Group: PerHome, PerDay: perDay, Volume: litres / 1000, Flow: flow / 1000, Hours: even(), Weekend: even(),
		Week: [7]float64{1, 1, 1, 1, 1, 1, 1}, Line: Either, Keep: [Stages]float64{1, 0.5, 0.2}, Less: [Stages]float64{1, 0.8, 0.5}}
}

// byLine is what a stretch asks for on each line.
func byLine(r *Reader, a, b float64, stage int) (lines [Lines]float64) {
	uses := make([]float64, len(r.m.Uses))
	r.Total(a, b, stage, uses)
	for i, x := range uses {
		lines[r.m.Uses[i].Line] += x
	}
	return lines
}

func family() Household {
	peak := even()
	peak[7], peak[19] = 4, 3
	wc, shower, kitchen, garden := plain(5, 6, 0.1), plain(0.8, 50, 0.13), plain(14, 3, 0.1), plain(0.4, 60, 0.2)
	wc.Key, shower.Key, kitchen.Key, garden.Key = "wc", "shower", "kitchen", "garden"
	wc.Group, shower.Group, garden.Group = PerPerson, PerPerson, Outside
	for _, u := range []*Use{&wc, &shower, &kitchen} {
		u.Hours, u.VolumeSpread, u.FlowSpread = peak, 0.5, 0.3
	}
	garden.Swing, garden.Peak = 0.9, 20
	kitchen.Line, garden.Line = OnStore, OnMain
	return Household{People: 4, Uses: []Use{wc, shower, kitchen, garden}, Scale: 1, DaySpread: 0.3,
		Away: Stay{0.05, 5}, Guests: Stay{0.04, 3}, Extra: 2}
}

func ready(t testing.TB, h Household) *Home {
	t.Helper()
	m, err := Make(h, 11)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// TestPulses holds the draws against the closed forms of the rectangular-pulse process:
// mean, variance, covariance at three lags, chance of n at once, on 8,000 hours.
func TestPulses(t *testing.T) {
	const hours, each = 8000, 40
	m := ready(t, Household{Uses: []Use{plain(480, 6, 0.1)}, Scale: 1})
	r := NewReader(m)
	r.Open(3)
	var flow []float64
	for h := range hours {
		a := float64(h) * Hour
		k := 0
		for _, p := range r.Pieces(a, a+Hour, 0, r.m.On(Either), 0) {
			for ; k < each && a+float64(k)*Hour/each < p.To; k++ {
				flow = append(flow, p.Flow)
			}
		}
	}
	if len(flow) != hours*each {
		t.Fatalf("%d moments, want %d", len(flow), hours*each)
	}
	lambda, tau, q := 480/Day, 60.0, 1e-4
	mean, count := 0.0, map[int]float64{}
	for _, f := range flow {
		mean += f / float64(len(flow))
		count[int(math.Round(f/q))] += 1 / float64(len(flow))
	}
	near(t, "mean", mean, MeanFlow.Fn([]float64{lambda, tau, q}), 0.02)
	cov := func(lag int) (c float64) {
		for i := range len(flow) - lag {
			c += (flow[i] - mean) * (flow[i+lag] - mean) / float64(len(flow)-lag)
		}
		return c
	}
	near(t, "variance", cov(0), FlowVariance.Fn([]float64{lambda, tau, q}), 0.02)
	for n := range 4 {
		near(t, "chance of n at once", count[n], Busy.Fn([]float64{lambda, tau, float64(n)}), []float64{0.01, 0.02, 0.05, 0.15}[n])
	}
	if got := cov(1) / cov(0); math.Abs(got) > 0.02 { // 90 s apart, draws of 60 s: nothing in common
		t.Errorf("correlation at 90 s = %g, want 0", got)
	}
}

// TestCovariance: 15 s and 30 s apart, draws of 60 s share 3/4 and 1/2 of the variance; with a
// spread of durations the closed form is the log-normal's mean excess.
func TestCovariance(t *testing.T) {
	spread := plain(480, 6, 0.1)
	spread.VolumeSpread = 0.8
	s := math.Sqrt(math.Log1p(0.64))
	phi := func(x float64) float64 { return math.Erfc(-x/math.Sqrt2) / 2 }
	excess := func(lag float64) float64 { // E max(0, D − lag), D log-normal of mean 60 s
		mu := math.Log(60) - s*s/2
		return 60*phi((mu+s*s-math.Log(lag))/s) - lag*phi((mu-math.Log(lag))/s)
	}
	for _, c := range []struct {
		use  Use
		want [3]float64
	}{
		{plain(480, 6, 0.1), [3]float64{45, 30, 15}},
		{spread, [3]float64{excess(15), excess(30), excess(45)}},
	} {
		r := NewReader(ready(t, Household{Uses: []Use{c.use}, Scale: 1}))
		r.Open(5)
		var flow []float64
		for h := range 6000 {
			a, k := float64(h)*Hour, 0
			for _, p := range r.Pieces(a, a+Hour, 0, r.m.On(Either), 0) {
				for ; k < 240 && a+float64(k)*15 < p.To; k++ {
					flow = append(flow, p.Flow/1e-4)
				}
			}
		}
		lambda, mean := 480/Day, 0.0
		for _, f := range flow {
			mean += f / float64(len(flow))
		}
		for lag := 1; lag <= 3; lag++ {
			sum := 0.0
			for i := range len(flow) - lag {
				sum += (flow[i] - mean) * (flow[i+lag] - mean)
			}
			near(t, "covariance", sum/float64(len(flow)-lag), lambda*c.want[lag-1], 0.04)
		}
	}
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol*math.Abs(want)) {
		t.Errorf("%s = %g, want %g within %g %%", what, got, want, 100*tol)
	}
}

// TestTotalIsItsDraws: the total of any stretch is the sum of its pieces, at each stage, and
// the same whichever hours were read before.
func TestTotalIsItsDraws(t *testing.T) {
	m := ready(t, family())
	a, b := NewReader(m), NewReader(m)
	a.Open(1)
	b.Open(1)
	for k := range 3000 {
		from := float64(k)*Hour + float64(k%7)*311
		to := from + 200 + float64(k%5)*300
		b.Open(1)
		for stage := range Stages {
			one, other := byLine(a, from, to, stage), byLine(b, from, to, stage)
			if one != other {
				t.Fatalf("hour %d: %v read in order, %v read alone", k, one, other)
			}
			sum, lost, end, running := 0.0, 0.0, from, 0.0
			for _, p := range b.Pieces(from, to, stage, m.On(Either)|m.On(OnStore), m.On(OnMain)) {
				if p.From != end {
					t.Fatalf("hour %d: a gap at %g", k, end)
				}
				sum, lost, end = sum+p.Flow*(p.To-p.From), lost+p.Lost*(p.To-p.From), p.To
				if p.Flow+p.Lost > 0 {
					running += p.To - p.From
				}
			}
			if got := a.Running(from, to, stage, m.On(Either)|m.On(OnStore)|m.On(OnMain)); math.Abs(got-running) > 1e-6 {
				t.Fatalf("hour %d stage %d: a tap is open for %g s, by the pieces %g", k, stage, got, running)
			}
			if want := one[Either] + one[OnStore]; end != to || math.Abs(sum-want) > 1e-12 || math.Abs(lost-one[OnMain]) > 1e-12 {
				t.Fatalf("hour %d stage %d: pieces %g and %g to %g, total %g and %g", k, stage, sum, lost, end, want, one[OnMain])
			}
		}
	}
}

// TestMean: what is drawn over forty years is what Mean says, by line; rescaling to a meter
// reading makes it that.
func TestMean(t *testing.T) {
	h := family()
	h.Leak, h.LeakLine = 1e-7, OnStore
	if err := h.Rescale(0.52 / Day); err != nil {
		t.Fatal(err)
	}
	near(t, "mean", h.Mean(), 0.52/Day, 1e-12)
	r := NewReader(ready(t, h))
	r.Open(2)
	var got [Lines]float64
	const hours = 40 * 8760
	for k := range hours {
		for l, x := range byLine(r, float64(k)*Hour, float64(k+1)*Hour, 0) {
			got[l] += x
		}
	}
	want := h.MeanBy()
	want[OnStore] -= h.Leak
	for l := range got {
		near(t, "mean of a line", got[l]/hours/Hour, want[l], 0.015)
	}
}

// TestDaysVary: days vary more than chance alone by the multiplier asked for.
func TestDaysVary(t *testing.T) {
	u := plain(200, 3, 0.1)
	r := NewReader(ready(t, Household{Uses: []Use{u}, Scale: 1, DaySpread: 0.3}))
	r.Open(1)
	n, sum, square := 0.0, 0.0, 0.0
	for d := range 4000 {
		day := 0.0
		for h := range 24 {
			a := float64(d)*Day + float64(h)*Hour
			l := byLine(r, a, a+Hour, 0)
			day += l[Either] / u.Volume
		}
		n, sum, square = n+1, sum+day, square+day*day
	}
	mean := sum / n
	near(t, "draws a day", mean, 200, 0.02)
	near(t, "variance of the draws a day", square/n-mean*mean, 200+math.Pow(0.3*200, 2), 0.08)
}

// TestMorePeople: more people draw more in every hour, never less, as each adds draws.
func TestMorePeople(t *testing.T) {
	few, many := family(), family()
	many.People++
	if err := errors.Join(few.Rescale(4*0.13/Day), many.Rescale(5*0.13/Day)); err != nil {
		t.Fatal(err)
	}
	a, b := NewReader(ready(t, few)), NewReader(ready(t, many))
	a.Open(7)
	b.Open(7)
	for k := range 20000 {
		x, y := byLine(a, float64(k)*Hour, float64(k+1)*Hour, 0), byLine(b, float64(k)*Hour, float64(k+1)*Hour, 0)
		if x[Either] > y[Either]+1e-12 || x[OnStore] > y[OnStore]+1e-12 {
			t.Fatalf("hour %d: four draw %v, five %v", k, x, y)
		}
	}
}

// TestRationing: each stage takes no more than the one before in any stretch, and about what
// was said on the long run.
func TestRationing(t *testing.T) {
	r := NewReader(ready(t, Household{Uses: []Use{plain(200, 3, 0.1)}, Scale: 1}))
	r.Open(1)
	var sum [Stages]float64
	for k := range 20000 {
		last := math.Inf(1)
		for s := range Stages {
			l := byLine(r, float64(k)*Hour, float64(k+1)*Hour, s)
			if l[Either] > last+1e-15 {
				t.Fatalf("hour %d: stage %d takes %g, the one before %g", k, s, l[Either], last)
			}
			last, sum[s] = l[Either], sum[s]+l[Either]
		}
	}
	near(t, "stage 1", sum[1]/sum[0], 0.5*0.8, 0.02)
	near(t, "stage 2", sum[2]/sum[0], 0.2*0.5, 0.03)
}

func TestRefused(t *testing.T) {
	for name, spoil := range map[string]func(*Household){
		"no use":        func(h *Household) { h.Uses = nil },
		"nothing drawn": func(h *Household) { h.Scale = 0 },
		"NaN people":    func(h *Household) { h.People = math.NaN() },
		"long away":     func(h *Household) { h.Away = Stay{0.5, 3} },
		"no volume":     func(h *Household) { h.Uses[0].Volume = 0 },
		"minus weight":  func(h *Household) { h.Uses[0].Hours[3] = -0.5 },
		"all cut":       func(h *Household) { h.Uses[0].Keep[0] = 0.5 },
	} {
		h := family()
		spoil(&h)
		if _, err := Make(h, 1); err == nil {
			t.Errorf("%s: accepted", name)
		}
	}
	if _, err := Make(Household{Scale: 1}, 1); !errors.Is(err, ErrNoUse) {
		t.Errorf("a home without uses: %v", err)
	}
	h := family()
	if h.Leak = 1; h.Rescale(0.5) == nil {
		t.Error("a mean below the leak is accepted")
	}
}

func TestNoAllocation(t *testing.T) {
	r := NewReader(ready(t, family()))
	r.Open(1)
	k, l := 0, make([]float64, len(r.m.Uses))
	one := func() {
		r.Total(float64(k)*Hour, float64(k+1)*Hour, 0, l)
		r.Pieces(float64(k)*Hour, float64(k+1)*Hour, 1, 3, 4)
		k++
	}
	for range 20000 {
		one()
	}
	if n := testing.AllocsPerRun(2000, one); n != 0 {
		t.Errorf("%g allocations an hour, want none", n)
	}
}

func BenchmarkHour(b *testing.B) {
	r := NewReader(ready(b, family()))
	r.Open(1)
	l := make([]float64, len(r.m.Uses))
	for k := 0; b.Loop(); k++ {
		r.Total(float64(k)*Hour, float64(k+1)*Hour, 0, l)
	}
}
