package stream

import "math"

// Uniform returns a number between 0 and 1, neither of them ever: the middle of one of
// 2⁵² equal parts, exactly.
func (s *Stream) Uniform() float64 {
	return (float64(s.Uint64()>>12) + 0.5) * 0x1p-52
}

// Exp returns an exponential number of mean 1, by inversion: −ln U, so that a smaller
// uniform gives a longer wait in every variant that is compared.
func (s *Stream) Exp() float64 { return -math.Log(s.Uniform()) }

// Normal returns a standard normal number by inversion, √2 erf⁻¹(2U − 1), one uniform
// each. 2U − 1 is exact, so the tails are as fine as the uniform (to 8.2 deviations).
func (s *Stream) Normal() float64 {
	return math.Sqrt2 * math.Erfinv(2*s.Uniform()-1)
}

// Gamma returns a gamma number of the given shape and scale 1, shape above 0.
// Source: Marsaglia & Tsang 2000, "A simple method for generating gamma variables",
// ACM Trans. Math. Softw. 26(3), sections 4 and 6 (shape below 1).
func (s *Stream) Gamma(shape float64) float64 {
	if !(shape > 0) || math.IsInf(shape, 1) {
		panic("stream: gamma: shape must be above 0")
	}
	if shape < 1 {
		g := s.Gamma(shape + 1)
		return g * math.Pow(s.Uniform(), 1/shape)
	}
	d := shape - 1.0/3
	c := 1 / math.Sqrt(9*d)
	for {
		x := s.Normal()
		v := 1 + c*x
		if v <= 0 {
			continue
		}
		v *= v * v
		if math.Log(s.Uniform()) < x*x/2+d-d*v+d*math.Log(v) {
			return d * v
		}
	}
}

// Beta returns a beta number of the given shapes, both above 0: the share one gamma
// number takes of two.
func (s *Stream) Beta(a, b float64) float64 {
	x := s.Gamma(a)
	return x / (x + s.Gamma(b))
}

// searchBelow is the mean up to which counting up to the uniform is the quicker way.
const searchBelow = 10

// Poisson returns how many events happen where mean are expected; mean 0 or above.
// Below 10 it inverts the distribution, so a larger mean never gives fewer from the
// same uniform; above, it is rejected into place.
func (s *Stream) Poisson(mean float64) int {
	switch {
	case !(mean >= 0) || math.IsInf(mean, 1):
		panic("stream: poisson: mean must be 0 or above")
	case mean < searchBelow:
		return s.countUp(mean)
	}
	return s.transformed(mean)
}

func (s *Stream) countUp(mean float64) int {
	u, p := s.Uniform(), math.Exp(-mean)
	n := 0
	for u > p && n < 1000 { // 1000 cannot be reached by a mean below 10 but by rounding of u near 1
		u -= p
		n++
		p *= mean / float64(n)
		if p == 0 {
			return n
		}
	}
	return n
}

// transformed draws by rejection from a table mountain.
// Source: Hörmann 1993, "The transformed rejection method for generating Poisson random
// variables", Insurance: Mathematics and Economics 12(1), algorithm PTRS (mean 10 or above).
func (s *Stream) transformed(mean float64) int {
	b := 0.931 + 2.53*math.Sqrt(mean)
	a := -0.059 + 0.02483*b
	inverse := 1.1239 + 1.1328/(b-3.4)
	quick := 0.9277 - 3.6224/(b-2)
	for {
		u, v := s.Uniform()-0.5, s.Uniform()
		us := 0.5 - math.Abs(u)
		k := math.Floor((2*a/us+b)*u + mean + 0.43)
		if us >= 0.07 && v <= quick {
			return int(k)
		}
		if k < 0 || us < 0.013 && v > us {
			continue
		}
		lg, _ := math.Lgamma(k + 1)
		if math.Log(v*inverse/(a/(us*us)+b)) <= k*math.Log(mean)-mean-lg {
			return int(k)
		}
	}
}
