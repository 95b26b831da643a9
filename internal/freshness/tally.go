package freshness

import "math"

// Tally keeps weights of a figure over any number of years in fixed room: classes that
// grow by the same factor, and exact moments.
type Tally struct {
	first, factor float64 // upper end of the first class, growth
	weight        []float64
	Sum           float64 // of all weights
	first1, sum2  float64 // Σ w x, Σ w x²
	Least, Most   float64
}

// NewTally has classes from first to last, each wider than the one before by factor;
// what is below or above counts in the outermost.
func NewTally(first, last, factor float64) *Tally {
	n := int(math.Ceil(math.Log(last/first)/math.Log(factor))) + 2
	return &Tally{first: first, factor: math.Log(factor), weight: make([]float64, n), Least: math.Inf(1), Most: math.Inf(-1)}
}

// NewAges is a tally of ages from a minute to ten years, to 5 %.
func NewAges() *Tally { return NewTally(60, 10*365*86400, 1.05) }

// class is the index of the class of x.
func (t *Tally) class(x float64) int {
	if x <= t.first {
		return 0
	}
	return min(int(math.Log(x/t.first)/t.factor)+1, len(t.weight)-1)
}

// edge is the upper end of a class.
func (t *Tally) edge(i int) float64 { return t.first * math.Exp(float64(i)*t.factor) }

// Add counts a weight spread evenly between two values (the same value twice: all at it).
func (t *Tally) Add(a, b, weight float64) {
	if !(weight > 0) {
		return
	}
	if a > b {
		a, b = b, a
	}
	t.Sum += weight
	t.first1 += weight * (a + b) / 2
	t.sum2 += weight * (a*a + a*b + b*b) / 3
	t.Least, t.Most = math.Min(t.Least, a), math.Max(t.Most, b)
	i, j := t.class(a), t.class(b)
	for k := i; k <= j; k++ {
		t.weight[k] += weight * t.share(k, i, j, a, b)
	}
}

// share is the part of [a, b] that lies in class k of those from i to j.
func (t *Tally) share(k, i, j int, a, b float64) float64 {
	if i == j {
		return 1
	}
	low, high := a, b
	if k > i {
		low = t.edge(k - 1)
	}
	if k < j {
		high = t.edge(k)
	}
	return (high - low) / (b - a)
}

// Merge adds what another tally of the same classes holds. Merge in a fixed order: sums
// of numbers depend on it in their last digits.
func (t *Tally) Merge(o *Tally) {
	if len(o.weight) != len(t.weight) || o.first != t.first || o.factor != t.factor {
		panic("freshness: tally: merge: classes must be the same")
	}
	for i, w := range o.weight {
		t.weight[i] += w
	}
	t.Sum += o.Sum
	t.first1 += o.first1
	t.sum2 += o.sum2
	t.Least, t.Most = math.Min(t.Least, o.Least), math.Max(t.Most, o.Most)
}

// Mean is the exact mean; NaN of nothing.
func (t *Tally) Mean() float64 { return t.first1 / t.Sum }

// Variance is the exact variance; NaN of nothing.
func (t *Tally) Variance() float64 { m := t.Mean(); return t.sum2/t.Sum - m*m }

// Quantile is the value below which a share p of the weight lies, right to the width of
// a class; NaN of nothing.
func (t *Tally) Quantile(p float64) float64 {
	if !(t.Sum > 0) {
		return math.NaN()
	}
	sum := 0.0
	for i, w := range t.weight {
		if sum+w >= p*t.Sum && w > 0 {
			low, high := t.Least, math.Min(t.edge(i), t.Most)
			if i > 0 {
				low = math.Max(t.edge(i-1), t.Least)
			}
			if i == len(t.weight)-1 {
				high = t.Most
			}
			return low + (high-low)*(p*t.Sum-sum)/w
		}
		sum += w
	}
	return t.Most
}

// Above is the share of the weight above x, right to the width of a class.
func (t *Tally) Above(x float64) float64 {
	k, above := t.class(x), 0.0
	for i := k + 1; i < len(t.weight); i++ {
		above += t.weight[i]
	}
	low, high := 0.0, t.edge(k)
	if k > 0 {
		low = t.edge(k - 1)
	}
	low, high = math.Max(low, t.Least), math.Min(high, t.Most)
	if high > low && x < high {
		above += t.weight[k] * math.Min(1, (high-x)/(high-low))
	}
	return above / t.Sum
}

// Class is one class of a histogram: its ends and the share of the weight in it.
type Class struct{ From, To, Share float64 }

// Classes returns the classes that hold something.
func (t *Tally) Classes() []Class {
	var list []Class
	for i, w := range t.weight {
		if w == 0 {
			continue
		}
		low := 0.0
		if i > 0 {
			low = t.edge(i - 1)
		}
		list = append(list, Class{low, t.edge(i), w / t.Sum})
	}
	return list
}
