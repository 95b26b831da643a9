package seasons

import "math"

// Estimate is an answer with the range the run itself leaves open: 95 % of runs like this
// one would hold the true figure of the model between Low and High.
type Estimate struct {
	Value, Low, High float64
	N                int // futures it rests on; 0: nothing was seen and nothing is said
}

// Half is half the width of the interval.
func (e Estimate) Half() float64 { return (e.High - e.Low) / 2 }

// moments are the sums a ratio Σx/Σd over futures is judged from. Futures are independent;
// years of one future are not.
type moments struct{ n, x, d, xx, xd, dd float64 }

func (m *moments) add(x, d float64) {
	m.n++
	m.x += x
	m.d += d
	m.xx += x * x
	m.xd += x * d
	m.dd += d * d
}

// ratio returns the mean and the variance of its error.
// Source: Cochran 1977, Sampling Techniques, 3rd ed., eq. 6.13 (ratio estimator).
func (m *moments) ratio() (r, variance float64) {
	if m.d == 0 {
		return math.NaN(), math.NaN()
	}
	r = m.x / m.d
	if m.n < 2 {
		return r, math.Inf(1)
	}
	s := math.Max(0, m.xx-2*r*m.xd+r*r*m.dd)
	return r, s * m.n / (m.n - 1) / (m.d * m.d)
}

// mean returns the interval of a figure that is no share: Student's t on the futures.
func (m *moments) mean() Estimate {
	r, v := m.ratio()
	if math.IsNaN(r) {
		return Estimate{}
	}
	h := student(m.n-1) * math.Sqrt(v)
	return Estimate{r, r - h, r + h, int(m.n)}
}

// proportion returns the interval of a share: Wilson's, with the number of trials that
// would be as uncertain if they were independent (never more than twice what there were).
// Where none or all succeeded the trials count as they are, so no risk is ever shown as nil.
// Source: design effect: Kish 1965, Survey Sampling.
func (m *moments) proportion() Estimate {
	r, v := m.ratio()
	if math.IsNaN(r) {
		return Estimate{}
	}
	r = math.Min(math.Max(r, 0), 1)
	n := m.d
	if plain := r * (1 - r); plain > 0 && v > 0 {
		n = math.Min(2*n, plain/v)
		if math.IsInf(v, 1) {
			return Estimate{r, 0, 1, int(m.n)}
		}
	}
	z := student(m.n - 1)
	if m.n < 2 {
		return Estimate{r, 0, 1, int(m.n)}
	}
	low, high := wilson(r, n, z)
	return Estimate{r, low, high, int(m.n)}
}

// student returns the 97.5 % point of Student's t law with so many degrees of freedom.
// Source: Abramowitz & Stegun 1964, eq. 26.7.5; within 0.1 % from 5 degrees up. Below that
// exact for 1 to 4.
func student(df float64) float64 {
	if df < 1 {
		return math.Inf(1)
	}
	if df < 5 {
		return [...]float64{12.706205, 4.302653, 3.182446, 2.776445}[int(df)-1]
	}
	const z = 1.959963984540054
	z3, z5, z7, z9 := math.Pow(z, 3), math.Pow(z, 5), math.Pow(z, 7), math.Pow(z, 9)
	return z + (z3+z)/4/df + (5*z5+16*z3+3*z)/96/(df*df) + (3*z7+19*z5+17*z3-15*z)/384/(df*df*df) +
		(79*z9+776*z7+1482*z5-1920*z3-945*z)/92160/(df*df*df*df)
}
