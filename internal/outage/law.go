package outage

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// Law is the family a length of time is drawn from. Those of one kind are families of location
// and scale in the logarithm, y = ln t, z = (y − μ)/σ, so one fit serves every one.
// Source: Lawless 2003, "Statistical models and methods for lifetime data", 2nd ed.,
// chapters 1 and 5.
type Law uint8

// The laws, by the weight of their tails.
const (
	Exponential Law = iota // S = exp(−t/e^μ), σ = 1: no memory
	Weibull                // S = exp(−e^z)
	LogNormal              // S = Φ(−z): the heaviest tail of one kind
	TwoKinds               // most are of a short kind, some of a long one (repairs and bursts), each log-normal
)

// Laws lists every law.
var Laws = []Law{Exponential, Weibull, LogNormal, TwoKinds}

// oneKind lists the laws of one location and one scale.
var oneKind = Laws[:TwoKinds]

// Length is one law with its parameters. Sigma is 1 for the exponential. Of two kinds, Mu
// and Sigma are the short one's.
type Length struct {
	Law       Law
	Mu, Sigma float64 // of ln t, t in s

	Gap       float64 // two kinds: the middle of the long one lies e^Gap times higher
	SigmaLong float64 // two kinds: σ of the long one
	Share     float64 // two kinds: how many are of the long one
}

// Survival is the chance that a length is above t. [–]
func (l Length) Survival(t float64) float64 {
	if t <= 0 {
		return 1
	}
	return math.Exp(l.logSurvival(math.Log(t)))
}

// Hazard is the cumulative hazard, −ln S(t). [–]
func (l Length) Hazard(t float64) float64 {
	if t <= 0 {
		return 0
	}
	return -l.logSurvival(math.Log(t))
}

// Age is the length at which the cumulative hazard reaches h, the inverse of Hazard. [s]
func (l Length) Age(h float64) float64 {
	if h <= 0 {
		return 0
	}
	switch l.Law {
	case LogNormal:
		return math.Exp(l.Mu + l.Sigma*normalAt(h))
	case TwoKinds:
		return l.ageOfKinds(h)
	}
	return math.Exp(l.Mu + l.Sigma*math.Log(h))
}

// Quantile is the length that a share p of all lengths stays below, p in [0, 1). [s]
func (l Length) Quantile(p float64) float64 { return l.Age(-math.Log1p(-p)) }

// Mean is the mean length; it may be far above any length that is ever drawn where
// Sigma is large. [s]
func (l Length) Mean() float64 { return math.Exp(l.logMean()) }

func (l Length) logMean() float64 {
	switch l.Law {
	case LogNormal:
		return l.Mu + l.Sigma*l.Sigma/2
	case TwoKinds:
		return l.logMeanOfKinds()
	}
	g, _ := math.Lgamma(1 + l.Sigma)
	return l.Mu + g
}

// logDensity is ln of the density of y = ln t.
func (l Length) logDensity(y float64) float64 {
	z := (y - l.Mu) / l.Sigma
	switch l.Law {
	case LogNormal:
		return -z*z/2 - math.Log(l.Sigma) - logRoot2Pi
	case TwoKinds:
		return l.logDensityOfKinds(y)
	}
	return z - math.Exp(z) - math.Log(l.Sigma)
}

const logRoot2Pi = 0.91893853320467274178

func (l Length) logSurvival(y float64) float64 {
	z := (y - l.Mu) / l.Sigma
	switch l.Law {
	case LogNormal:
		return logUpper(z)
	case TwoKinds:
		return l.logSurvivalOfKinds(y)
	}
	return -math.Exp(z)
}

// logBeyond is ln of ∫ S from t on, over the mean: the chance that a supply met at a
// random moment goes on for longer than t.
func (l Length) logBeyond(t float64) float64 {
	z := (math.Log(t) - l.Mu) / l.Sigma
	if l.Law == TwoKinds {
		return l.logBeyondOfKinds(t)
	}
	if l.Law == LogNormal {
		whole := math.Exp(logUpper(z - l.Sigma))
		return math.Log(math.Max(whole-math.Exp(math.Log(t)-l.logMean()+logUpper(z)), math.SmallestNonzeroFloat64))
	}
	return math.Log(math.Max(mathext.GammaIncRegComp(l.Sigma, math.Exp(z)), math.SmallestNonzeroFloat64))
}

// logUpper is ln Φ(−z), good in the far tail too (there by the first terms of Mills'
// ratio, to 1e-5 above z = 25).
func logUpper(z float64) float64 {
	if z > 25 {
		return -z*z/2 - math.Log(z) - logRoot2Pi + math.Log1p(-1/(z*z))
	}
	if z < -1 {
		return math.Log1p(-math.Erfc(-z/math.Sqrt2) / 2)
	}
	return math.Log(math.Erfc(z/math.Sqrt2) / 2)
}

// normalAt is the z with −ln Φ(−z) = h. Both tails go by their logarithm, for there
// Φ and its complement have lost their digits.
func normalAt(h float64) float64 {
	switch {
	case h > tailFrom:
		return upperTail(h)
	case h < 0.05: // −ln 0.05 = 3.0
		return -upperTail(-math.Log(-math.Expm1(-h)))
	}
	return math.Sqrt2 * math.Erfinv(1-2*math.Exp(-h))
}

const tailFrom = 3

// upperTail solves −ln Φ(−z) = h, h above 2.9, by Newton's steps from √(2h): the function
// is convex and its slope is the hazard of the normal law.
func upperTail(h float64) float64 {
	z := math.Sqrt(2 * h)
	for range 6 {
		ln := logUpper(z)
		step := (h + ln) / math.Exp(-z*z/2-logRoot2Pi-ln)
		z += step
		if math.Abs(step) < 1e-10*z {
			break
		}
	}
	return z
}
