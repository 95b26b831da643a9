package outage

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

// TestLawsAgainstAnother holds the laws against gonum's, written by other hands.
func TestLawsAgainstAnother(t *testing.T) {
	mu, sigma := math.Log(8*Hour), 0.7
	for _, c := range []struct {
		l Length
		d interface {
			Survival(float64) float64
			Quantile(float64) float64
			LogProb(float64) float64
			Mean() float64
		}
	}{
		{Length{Law: Exponential, Mu: mu, Sigma: 1}, distuv.Exponential{Rate: math.Exp(-mu)}},
		{Length{Law: Weibull, Mu: mu, Sigma: sigma}, distuv.Weibull{K: 1 / sigma, Lambda: math.Exp(mu)}},
		{Length{Law: LogNormal, Mu: mu, Sigma: sigma}, distuv.LogNormal{Mu: mu, Sigma: sigma}},
	} {
		near(t, "mean", c.l.Mean(), c.d.Mean(), 1e-12)
		for _, p := range []float64{1e-9, 1e-4, 0.03, 0.5, 0.97, 0.9999} {
			x := c.d.Quantile(p)
			near(t, "quantile", c.l.Quantile(p), x, 1e-7)
			near(t, "survival", c.l.Survival(x), c.d.Survival(x), 1e-9)
			near(t, "density", c.l.logDensity(math.Log(x)), c.d.LogProb(x)+math.Log(x), 1e-9)
		}
	}
}

// near fails when got is not want to a relative tolerance.
func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol*math.Max(math.Abs(want), 1e-12)) {
		t.Errorf("%s = %.12g, want %.12g", what, got, want)
	}
}

func TestAgeInvertsHazard(t *testing.T) {
	for _, law := range Laws {
		l := Length{Law: law, Mu: 9, Sigma: 1.3}
		if law == Exponential {
			l.Sigma = 1
		}
		for _, h := range []float64{1e-12, 1e-5, 0.9e-3, 1.1e-3, 0.3, 1, 20, 36, 299, 301, 650} {
			near(t, "hazard of age", l.Hazard(l.Age(h)), h, 2e-5)
		}
		if l.Age(0) != 0 || l.Hazard(0) != 0 || l.Survival(0) != 1 {
			t.Error("a length begins above 0")
		}
	}
}

// TestBeyond integrates the survival by hand.
func TestBeyond(t *testing.T) {
	for _, l := range []Length{{Law: Exponential, Mu: 1, Sigma: 1}, {Law: Weibull, Mu: 1, Sigma: 0.6}, {Law: LogNormal, Mu: 1, Sigma: 0.6}} {
		const from, step = 2.0, 1e-3
		sum := 0.0
		for x := from; x < 200; x += step {
			sum += step * l.Survival(x+step/2)
		}
		near(t, "beyond", math.Exp(l.logBeyond(from)), sum/l.Mean(), 1e-5)
	}
}
