package stream

import (
	"math"
	"math/rand/v2"
	"sync"
	"testing"
)

// The known answers published with the algorithm (Salmon & others 2011, file of vectors).
func TestKnownAnswers(t *testing.T) {
	const f = 0xffffffff
	for _, c := range []struct {
		count [4]uint32
		key   [2]uint32
		want  [4]uint32
	}{
		{[4]uint32{}, [2]uint32{}, [4]uint32{0x6627e8d5, 0xe169c58d, 0xbc57ac4c, 0x9b00dbd8}},
		{[4]uint32{f, f, f, f}, [2]uint32{f, f}, [4]uint32{0x408f276d, 0x41c83b0e, 0xa20bc7c6, 0x6d5451fd}},
		{[4]uint32{0x243f6a88, 0x85a308d3, 0x13198a2e, 0x03707344}, [2]uint32{0xa4093822, 0x299f31d0},
			[4]uint32{0xd16cfe09, 0x94fdcceb, 0x5001e420, 0x24126ea1}},
	} {
		if got := philox(c.count, c.key); got != c.want {
			t.Errorf("philox(%x, %x) = %x, want %x", c.count, c.key, got, c.want)
		}
	}
}

func TestKeysNeverMeet(t *testing.T) {
	seen := map[[4]uint32]Key{}
	for home := range uint32(4) {
		for year := range uint32(4) {
			for p := Posterior; p <= Weather; p++ {
				for item := range uint32(4) {
					k := Key{1 << 40, home, year, p, item}
					s := Of(k)
					if was, twice := seen[s.count]; twice {
						t.Fatalf("%+v and %+v share a counter", was, k)
					}
					seen[s.count] = k
				}
			}
		}
	}
}

func TestAnyOrderAnyWorker(t *testing.T) {
	const n = 400
	draw := func(i int) float64 {
		s := Of(Key{Seed: 9, Home: uint32(i % 7), Year: uint32(i), Process: Mains})
		return s.Gamma(0.7) + s.Normal() + float64(s.Poisson(30)) + s.Exp()
	}
	want, got := make([]float64, n), make([]float64, n)
	for i := range want {
		want[i] = draw(i)
	}
	var wg sync.WaitGroup
	for i := n - 1; i >= 0; i-- {
		wg.Go(func() { got[i] = draw(i) })
	}
	wg.Wait()
	for i := range want {
		if want[i] != got[i] {
			t.Fatalf("stream %d gave %g, then %g", i, want[i], got[i])
		}
	}
}

func TestIsASource(t *testing.T) {
	a, b := Of(Key{Seed: 3}), Of(Key{Seed: 3})
	r := rand.New(&a)
	if x, y := r.Uint64(), b.Uint64(); x != y {
		t.Errorf("as a source %x, alone %x", x, y)
	}
}

func TestUniformIsOpen(t *testing.T) {
	for _, u := range []uint64{0, math.MaxUint64} {
		if x := (float64(u>>12) + 0.5) * 0x1p-52; !(x > 0 && x < 1) {
			t.Errorf("the ends of the uniform are %g", x)
		}
	}
}

// moments draws n numbers and returns mean, variance and the standard errors of both.
func moments(n int, draw func() float64) (m, v, em, ev float64) {
	x := make([]float64, n)
	for i := range x {
		x[i] = draw()
		m += x[i] / float64(n)
	}
	var m4 float64
	for _, xi := range x {
		d := (xi - m) * (xi - m)
		v += d / float64(n)
		m4 += d * d / float64(n)
	}
	return m, v, math.Sqrt(v / float64(n)), math.Sqrt((m4 - v*v) / float64(n))
}

func TestMoments(t *testing.T) {
	s := Of(Key{Seed: 11})
	gamma := func(a float64) func() float64 { return func() float64 { return s.Gamma(a) } }
	poisson := func(m float64) func() float64 { return func() float64 { return float64(s.Poisson(m)) } }
	for _, c := range []struct {
		name           string
		draw           func() float64
		mean, variance float64
	}{
		{"uniform", s.Uniform, 0.5, 1.0 / 12}, {"exponential", s.Exp, 1, 1}, {"normal", s.Normal, 0, 1},
		{"gamma 0.3", gamma(0.3), 0.3, 0.3}, {"gamma 1", gamma(1), 1, 1}, {"gamma 7.5", gamma(7.5), 7.5, 7.5},
		{"poisson 0.2", poisson(0.2), 0.2, 0.2}, {"poisson 9.9", poisson(9.9), 9.9, 9.9},
		{"poisson 10", poisson(10), 10, 10}, {"poisson 250", poisson(250), 250, 250},
		{"beta 2, 5", func() float64 { return s.Beta(2, 5) }, 2.0 / 7, 10.0 / (49 * 8)},
	} {
		m, v, em, ev := moments(100_000, c.draw)
		if math.Abs(m-c.mean) > 4.5*em || math.Abs(v-c.variance) > 4.5*ev {
			t.Errorf("%s: mean %g ±%g want %g; variance %g ±%g want %g", c.name, m, em, c.mean, v, ev, c.variance)
		}
	}
}

// TestPoissonLaw holds the counts against the law itself (chi-squared, 99.99 % limit).
func TestPoissonLaw(t *testing.T) {
	for _, mean := range []float64{3, 15} {
		s := Of(Key{Seed: 5, Year: uint32(mean)})
		const n, bins = 100_000, 30
		var seen [bins]float64
		for range n {
			seen[min(s.Poisson(mean), bins-1)]++
		}
		p, rest, chi, used := math.Exp(-mean), 1.0, 0.0, 0
		for k := range bins {
			if k == bins-1 {
				p = rest
			}
			if p*n > 5 {
				chi += (seen[k] - p*n) * (seen[k] - p*n) / (p * n)
				used++
			}
			rest -= p
			p *= mean / float64(k+1)
		}
		if limit := float64(used) + 3.72*math.Sqrt(2*float64(used)) + 8; chi > limit {
			t.Errorf("Poisson(%g): chi-squared %g over %d, limit %g", mean, chi, used, limit)
		}
	}
}

// TestIndependence: neighbouring keys, in each of their fields, are uncorrelated, and the
// first numbers of many streams are as even as those of one.
func TestIndependence(t *testing.T) {
	const n = 20_000
	base := func(i int) Key {
		return Key{Seed: 4, Home: uint32(i), Year: uint32(3 * i), Process: Mains, Item: uint32(i % 366)}
	}
	for name, beside := range map[string]func(Key) Key{
		"seed":    func(k Key) Key { k.Seed++; return k },
		"home":    func(k Key) Key { k.Home++; return k },
		"year":    func(k Key) Key { k.Year++; return k },
		"process": func(k Key) Key { k.Process++; return k },
		"item":    func(k Key) Key { k.Item++; return k },
	} {
		var sum, mean float64
		for i := range n {
			a, b := Of(base(i)), Of(beside(base(i)))
			x, y := a.Uniform()-0.5, b.Uniform()-0.5
			sum += 12 * x * y / n
			mean += x / n
		}
		if math.Abs(sum) > 4.5/math.Sqrt(n) || math.Abs(mean) > 4.5/math.Sqrt(12*n) {
			t.Errorf("neighbours in %s: correlation %g, mean off by %g", name, sum, mean)
		}
	}
}

func TestPoissonRises(t *testing.T) {
	for y := range uint32(500) {
		a, b := Of(Key{Year: y}), Of(Key{Year: y})
		if few, many := a.Poisson(2), b.Poisson(5); few > many {
			t.Fatalf("year %d: mean 2 gave %d, mean 5 gave %d", y, few, many)
		}
	}
}

func TestNothingIsAllocated(t *testing.T) {
	sum := 0.0
	n := testing.AllocsPerRun(100, func() {
		s := Of(Key{Seed: 1})
		sum += s.Uniform() + s.Exp() + s.Normal() + s.Gamma(0.5) + float64(s.Poisson(3)+s.Poisson(40))
	})
	if n != 0 {
		t.Errorf("drawing allocates %g times", n)
	}
}

func TestRefuses(t *testing.T) {
	s := Of(Key{})
	for name, f := range map[string]func(){
		"gamma 0": func() { s.Gamma(0) }, "gamma NaN": func() { s.Gamma(math.NaN()) },
		"poisson -1": func() { s.Poisson(-1) }, "poisson NaN": func() { s.Poisson(math.NaN()) },
		"item": func() { Of(Key{Item: 1 << 24}) },
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s was taken", name)
				}
			}()
			f()
		}()
	}
}

func BenchmarkDraws(b *testing.B) {
	s := Of(Key{Seed: 1})
	for name, f := range map[string]func(){
		"uniform": func() { s.Uniform() }, "exp": func() { s.Exp() }, "normal": func() { s.Normal() },
		"gamma": func() { s.Gamma(2.5) }, "poisson-3": func() { s.Poisson(3) }, "poisson-40": func() { s.Poisson(40) },
	} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				f()
			}
		})
	}
}

// TestBlock: a block is the next four words.
func TestBlock(t *testing.T) {
	k := Key{Seed: 5, Home: 3, Year: 2, Process: Volume, Item: 9}
	a, b := Of(k), Of(k)
	for range 10 {
		w0, w1, w2, w3 := a.Block()
		for i, w := range []uint32{w0, w1, w2, w3} {
			if got := b.Uint32(); got != w {
				t.Fatalf("word %d: block %#x, one by one %#x", i, w, got)
			}
		}
	}
}
