package outage

import "math"

// kinds are the two kinds of a TwoKinds law, each log-normal, with the share of each.
func (l Length) kinds() (short, long Length, often, seldom float64) {
	return Length{Law: LogNormal, Mu: l.Mu, Sigma: l.Sigma}, Length{Law: LogNormal, Mu: l.Mu + l.Gap, Sigma: l.SigmaLong}, 1 - l.Share, l.Share
}

// mixed is ln(often·e^a + seldom·e^b), without leaving the range of numbers.
func mixed(often, a, seldom, b float64) float64 {
	a, b = math.Log(often)+a, math.Log(seldom)+b
	if a < b {
		a, b = b, a
	}
	if math.IsInf(a, -1) {
		return a
	}
	return a + math.Log1p(math.Exp(b-a))
}

// logDensityOfKinds is ln of the density of y = ln t under two kinds.
func (l Length) logDensityOfKinds(y float64) float64 {
	short, long, often, seldom := l.kinds()
	return mixed(often, short.logDensity(y), seldom, long.logDensity(y))
}

// logSurvivalOfKinds is ln S at y = ln t under two kinds.
func (l Length) logSurvivalOfKinds(y float64) float64 {
	short, long, often, seldom := l.kinds()
	return mixed(often, short.logSurvival(y), seldom, long.logSurvival(y))
}

// logMeanOfKinds is ln of the mean of two kinds.
func (l Length) logMeanOfKinds() float64 {
	short, long, often, seldom := l.kinds()
	return mixed(often, short.logMean(), seldom, long.logMean())
}

// logBeyondOfKinds is ln of ∫ S from t on, over the mean: each kind's, weighed by how much
// of the time is spent in it.
func (l Length) logBeyondOfKinds(t float64) float64 {
	short, long, often, seldom := l.kinds()
	return mixed(often, short.logMean()+short.logBeyond(t), seldom, long.logMean()+long.logBeyond(t)) - l.logMeanOfKinds()
}

// ageOfKinds solves −ln S(t) = h. The answer lies between those of the two kinds alone; the
// bracket is halved where a step of Newton's would leave it. Within 1e-12 of ln t.
func (l Length) ageOfKinds(h float64) float64 {
	short, long, _, _ := l.kinds()
	a, b := math.Log(short.Age(h)), math.Log(long.Age(h))
	low, high := math.Min(a, b), math.Max(a, b)
	y := (low + high) / 2
	for range 200 {
		ln := l.logSurvivalOfKinds(y)
		off := h + ln
		if off > 0 {
			low = y
		} else {
			high = y
		}
		next := y + off/math.Exp(l.logDensityOfKinds(y)-ln)
		if !(next > low && next < high) {
			next = (low + high) / 2
		}
		if math.Abs(next-y) <= 1e-12*math.Max(1, math.Abs(y)) {
			return math.Exp(next)
		}
		y = next
	}
	return math.Exp(y)
}
