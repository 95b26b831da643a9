package seasons

import "math"

// Ratio is Σx/Σd over independent futures, and what its interval is judged from. The zero
// value has seen none.
type Ratio struct{ sums moments }

// Add takes one future in.
func (r *Ratio) Add(x, d float64) { r.sums.add(x, d) }

// Mean is the interval of a figure that is no share: Student's t on the futures. N is 0
// where nothing was seen (Σd = 0).
func (r *Ratio) Mean() Estimate { return r.sums.mean() }

// Proportion is the interval of a share of trials (days, interruptions), d the trials of a
// future and x those that succeeded.
func (r *Ratio) Proportion() Estimate { return r.sums.proportion() }

// Part is the interval of a share of something that is measured, not counted (litres): Wilson's,
// with as many trials as would be as uncertain as the futures are; where all futures say none,
// or all, each future is one trial, so no share is ever known to be nil.
func (r *Ratio) Part() Estimate {
	p, v := r.sums.ratio()
	if math.IsNaN(p) {
		return Estimate{}
	}
	p = math.Min(math.Max(p, 0), 1)
	if p < rounding {
		p, v = 0, 0
	}
	if r.sums.n < 2 {
		return Estimate{p, 0, 1, int(r.sums.n)}
	}
	n := r.sums.n
	if plain := p * (1 - p); plain > 0 && v > 0 {
		n = plain / v
	}
	low, high := wilson(p, n, student(r.sums.n-1))
	return Estimate{p, low, high, int(r.sums.n)}
}

// rounding is the share below which what was measured is left over from adding and taking away.
const rounding = 1e-12

// wilson is the interval of a share p seen in n trials, z wide.
// Source: Wilson 1927, J. Am. Stat. Assoc. 22:209.
func wilson(p, n, z float64) (low, high float64) {
	mid := (p + z*z/(2*n)) / (1 + z*z/n)
	half := z / (1 + z*z/n) * math.Sqrt(p*(1-p)/n+z*z/(4*n*n))
	return math.Max(0, mid-half), math.Min(1, mid+half)
}
