package outage

import (
	"math"
	"testing"

	"tideover/internal/stream"
)

// bruteKinds is the posterior of two kinds by plain sums over a lattice of all five parameters:
// a second program, with the formulae written out again, for whole lengths [s]. It returns the
// evidence and the chance that the next length is above each of the times.
func bruteKinds(lengths, above []float64) (evidence float64, survival []float64) {
	const cells = 17
	normal := func(x, mu, sd float64) float64 {
		return math.Exp(-(x-mu)*(x-mu)/2/sd/sd) / sd / math.Sqrt(2*math.Pi)
	}
	upper := func(z float64) float64 { return math.Erfc(z/math.Sqrt2) / 2 }
	lattice := func(from, to float64) (xs []float64, width float64) {
		for i := range cells {
			xs = append(xs, from+(to-from)*(float64(i)+0.5)/cells)
		}
		return xs, (to - from) / cells
	}
	mean, sd := 0.0, 0.0
	for _, t := range lengths {
		mean += math.Log(t) / float64(len(lengths))
	}
	for _, t := range lengths {
		sd += math.Pow(math.Log(t)-mean, 2) / float64(len(lengths))
	}
	wide := math.Sqrt(sd) + 0.8
	mus, dMu := lattice(mean-3.5*wide, mean+2.5*wide)
	sigmas, dSigma := lattice(math.Log(0.6)-3.2*0.4, math.Log(0.6)+3.2*0.4)
	gaps, dGap := lattice(math.Log(2), math.Log(8)+3.2*0.7)
	shares, dShare := lattice(0, 1)
	beta := math.Gamma(7.5) / math.Gamma(1.5) / math.Gamma(6)
	cut := upper((math.Log(2) - math.Log(8)) / 0.7)
	survival = make([]float64, len(above))
	short := make([]float64, len(lengths))
	long := make([]float64, len(lengths))
	for _, mu := range mus {
		for _, s1 := range sigmas {
			for i, t := range lengths {
				short[i] = normal(math.Log(t), mu, math.Exp(s1))
			}
			for _, gap := range gaps {
				for _, s2 := range sigmas {
					for i, t := range lengths {
						long[i] = normal(math.Log(t), mu+gap, math.Exp(s2))
					}
					p0 := normal(mu, math.Log(8*3600), 2) * normal(s1, math.Log(0.6), 0.4) * normal(gap, math.Log(8), 0.7) / cut * normal(s2, math.Log(0.6), 0.4)
					for _, w := range shares {
						p := p0 * beta * math.Sqrt(w) * math.Pow(1-w, 5)
						for i := range lengths {
							p *= (1-w)*short[i] + w*long[i]
						}
						evidence += p
						for k, t := range above {
							survival[k] += p * ((1-w)*upper((math.Log(t)-mu)/math.Exp(s1)) + w*upper((math.Log(t)-mu-gap)/math.Exp(s2)))
						}
					}
				}
			}
		}
	}
	for k := range survival {
		survival[k] /= evidence
	}
	return evidence * dMu * dSigma * dGap * dSigma * dShare, survival
}

// TestKindsAgainstBruteForce: the points drawn say what plain sums over all parameters say, of
// small records: evidence and predictive chances.
func TestKindsAgainstBruteForce(t *testing.T) {
	for _, hours := range [][]float64{{5}, {3, 4, 5, 40}, {2, 4, 6, 9, 7, 3}} {
		var seen []Seen
		var lengths []float64
		for _, h := range hours {
			seen, lengths = append(seen, Seen{Length: h * Hour}), append(lengths, h*Hour)
		}
		above := []float64{6 * Hour, 24 * Hour, 72 * Hour}
		evidence, want := bruteKinds(lengths, above)
		c := newCloud(seen, DownPrior)
		if math.Abs(c.evidence-math.Log(evidence)) > 0.25 {
			t.Errorf("%v: ln evidence %.3f, plain sums %.3f", hours, c.evidence, math.Log(evidence))
		}
		p := &Posterior{parts: []part{c}, weights: []float64{1}}
		for k, at := range above {
			got := p.Survival(at)
			if se := 3 * math.Sqrt(want[k]*(1-want[k])/crowd); math.Abs(got-want[k]) > math.Max(0.01, se) {
				t.Errorf("%v: chance above %.0f h %.4f, plain sums %.4f", hours, at/Hour, got, want[k])
			}
			t.Logf("%v %.0f h: %.4f, plain sums %.4f; evidence %.3f, %.3f", hours, at/Hour, got, want[k], c.evidence, math.Log(evidence))
		}
	}
}

// TestKindsAreOneLaw: density, survival, mean, age and what lies beyond fit each other.
func TestKindsAreOneLaw(t *testing.T) {
	s := stream.Of(stream.Key{Seed: 3})
	for range 200 {
		l := drawPoint(&s, DownPrior).length()
		for _, h := range []float64{1e-6, 0.01, 0.3, 1, 3, 12} {
			if got := l.Hazard(l.Age(h)); math.Abs(got-h) > 1e-6*math.Max(h, 1e-3) {
				t.Fatalf("%+v: hazard of the age at %g is %g", l, h, got)
			}
		}
		at := l.Quantile(0.6)
		y, e := math.Log(at), 1e-5
		slope := (math.Exp(l.logSurvival(y-e)) - math.Exp(l.logSurvival(y+e))) / (2 * e)
		if want := math.Exp(l.logDensity(y)); math.Abs(slope-want) > 1e-5 {
			t.Fatalf("%+v: density %g, slope of the survival %g", l, want, slope)
		}
		rest, n := 0.0, 4000 // ∫ S from at on, by steps in ln t
		top := math.Log(l.Quantile(1-1e-13)) + 2
		for i := range n {
			u := y + (top-y)*(float64(i)+0.5)/float64(n)
			rest += math.Exp(l.logSurvival(u)+u) * (top - y) / float64(n)
		}
		if got := math.Exp(l.logBeyond(at)) * l.Mean(); math.Abs(got-rest) > 2e-4*rest {
			t.Fatalf("%+v: %g beyond, by steps %g", l, got, rest)
		}
	}
}

// TestOneKindInTwo: where the long kind is none, two kinds are one log-normal.
func TestOneKindInTwo(t *testing.T) {
	one := Length{Law: LogNormal, Mu: 9, Sigma: 0.7}
	two := Length{Law: TwoKinds, Mu: 9, Sigma: 0.7, Gap: 2, SigmaLong: 0.5}
	for _, at := range []float64{1000, 8000, 1e5} {
		if a, b := one.Survival(at), two.Survival(at); math.Abs(a-b) > 1e-15+1e-12*a {
			t.Errorf("survival at %g: %g, %g", at, a, b)
		}
	}
	if a, b := one.Age(2), two.Age(2); math.Abs(a-b) > 1e-9*a {
		t.Errorf("age %g, %g", a, b)
	}
}

// TestSpellsOfTwoKinds: the spells lived have the law's own shares, cut at the longest.
func TestSpellsOfTwoKinds(t *testing.T) {
	l := Length{Law: TwoKinds, Mu: math.Log(4 * Hour), Sigma: 0.5, Gap: math.Log(10), SigmaLong: 0.8, Share: 0.3}
	up := Length{Law: Exponential, Mu: math.Log(2 * Day), Sigma: 1}
	p := Process{Seasons: []Season{{To: Year, Up: Known(up), Down: Known(l), Longest: 80 * Hour}}}
	f := (&Model{Water: p}).Future(4, 0)
	n, above := 0.0, map[float64]float64{}
	for y := range 200 {
		for _, s := range f.Year(nil, y) {
			n++
			for _, h := range []float64{2, 4, 9, 30, 60, 80} {
				if s.Length() > h*Hour {
					above[h]++
				}
			}
		}
	}
	rest := l.Survival(80 * Hour)
	for h, k := range above {
		want := (l.Survival(h*Hour) - rest) / (1 - rest)
		if math.Abs(k/n-want) > 3.5*math.Sqrt(want*(1-want)/n) {
			t.Errorf("above %g h: %.4f of %g, want %.4f", h, k/n, n, want)
		}
	}
	if above[80] > 0 || n < 20000 {
		t.Errorf("%g of %g are longer than the longest", above[80], n)
	}
}

// TestTwoKindsAreFound: from forty outages of two kinds (85 of a hundred about 4 h, the others
// about 40 h) the law is told from the others, and the tail is not understated.
func TestTwoKindsAreFound(t *testing.T) {
	truth := Length{Law: TwoKinds, Mu: math.Log(4 * Hour), Sigma: 0.5, Gap: math.Log(10), SigmaLong: 0.5, Share: 0.15}
	held, weight := 0, 0.0
	const logs = 40
	for k := range logs {
		s := stream.Of(stream.Key{Seed: 12, Home: uint32(k)})
		p, err := Fit(lengths(truth, 40, &s), DownPrior)
		if err != nil {
			t.Fatal(err)
		}
		weight += p.Weight(TwoKinds) / logs
		low, _, high := p.Interval(func(l Length) float64 { return l.Survival(48 * Hour) }, 0.95)
		if x := truth.Survival(48 * Hour); low <= x && x <= high {
			held++
		}
	}
	t.Logf("weight %.2f, the interval of 95 %% for more than 48 h held the truth in %d of %d", weight, held, logs)
	if weight < 0.85 || held < logs*85/100 {
		t.Errorf("two kinds have a weight of %.2f on the mean; the interval held the truth in %d of %d", weight, held, logs)
	}
}

// TestTheSameLogTheSamePoints: nothing but the record decides.
func TestTheSameLogTheSamePoints(t *testing.T) {
	seen := []Seen{{Length: 3 * Hour}, {Length: 30 * Hour}, {Length: 4 * Hour, How: Running}}
	a, b := newCloud(seen, DownPrior), newCloud(seen, DownPrior)
	for k := range a.points {
		if a.points[k] != b.points[k] {
			t.Fatalf("point %d: %+v, then %+v", k, a.points[k], b.points[k])
		}
	}
}

func BenchmarkCloud(b *testing.B) {
	truth := Length{Law: TwoKinds, Mu: math.Log(4 * Hour), Sigma: 0.5, Gap: math.Log(10), SigmaLong: 0.5, Share: 0.15}
	s := stream.Of(stream.Key{Seed: 12})
	seen := lengths(truth, 40, &s)
	for b.Loop() {
		newCloud(seen, DownPrior)
	}
}
