package day

import "math"

// The error a step may make, in the volumes that move the circuit [m³].
const (
	tolStore  = 1e-6
	tolVessel = 1e-6
	tolHeader = 1e-6
)

// strides are the buffers of one step and its interpolant.
type strides struct {
	tol   [3]float64   // of iV, iW and iU
	k     [4][]float64 // rates: at the start, at two stages between, at the end
	y1    []float64    // at the end
	trial []float64
	sharp float64 // share of a condition's value at the start of a step to which its fall to 0 is found
	h     float64
	curve bool    // the interpolant is that of the curved step
	guess float64 // length at which a straight step might have done [s]
	grown float64 // length the next curved step may have [s]
}

func newStrides(n int, loose float64) *strides {
	if loose == 0 {
		loose = 1
	}
	s := &strides{tol: [3]float64{iV: loose * tolStore, iW: loose * tolVessel, iU: loose * tolHeader}, sharp: 1e-10 * math.Pow(loose, 3), y1: make([]float64, n), trial: make([]float64, n)}
	for i := range s.k {
		s.k[i] = make([]float64, n)
	}
	return s
}

// still reports whether nothing moves that the circuit depends on.
func still(dy []float64) bool { return dy[iV] == 0 && dy[iW] == 0 && dy[iU] == 0 }

// straight tries one step of length h with the rates at both ends: exact where they are
// the same, as they are while nothing but a level far from anything moves. k[0] holds the
// rates at y. It reports whether the rates differ too little to matter.
func (s *strides) straight(m *machine, y []float64, h float64) (bool, error) {
	for i := range y {
		s.y1[i] = y[i] + h*s.k[0][i]
	}
	if still(s.k[0]) { // the circuit at the end is that at the start
		copy(s.k[3], s.k[0])
	} else if err := m.solve(s.y1, s.k[3]); err != nil {
		return false, err
	}
	bad := 0.0
	for i, tol := range s.tol {
		bad = math.Max(bad, math.Abs(s.k[3][i]-s.k[0][i])*h/2/tol)
	}
	if bad > 1 {
		s.guess = h / math.Sqrt(bad)
		return false, nil
	}
	s.h, s.curve = h, false
	for i := range y {
		s.y1[i] = y[i] + h/2*(s.k[0][i]+s.k[3][i])
	}
	return true, nil
}

// The pair of Bogacki & Shampine (1989), order 3(2): the rates of each stage, those of the
// step itself last, and the share of each in the error. Between two events lie few seconds,
// which pairs of higher order pay more for than they need.
var (
	bsA = [3][3]float64{{1.0 / 2}, {0, 3.0 / 4}, {2.0 / 9, 1.0 / 3, 4.0 / 9}}
	bsE = [4]float64{-5.0 / 72, 1.0 / 12, 1.0 / 9, -1.0 / 8}
)

// curved takes one step of at most h with error control; k[0] holds the rates at y.
func (s *strides) curved(m *machine, y []float64, h float64) error {
	most := 2.5
	for range 60 {
		for i, shares := range bsA {
			copy(s.y1, y)
			for j, a := range shares[:i+1] {
				for n, k := range s.k[j] {
					s.y1[n] += h * a * k
				}
			}
			if err := m.solve(s.y1, s.k[i+1]); err != nil {
				return err
			}
		}
		bad := 0.0
		for n, tol := range s.tol {
			e := 0.0
			for i := range s.k {
				e += bsE[i] * s.k[i][n]
			}
			bad = math.Max(bad, math.Abs(e)*h/tol)
		}
		grow := math.Min(most, math.Max(0.2, 0.9*math.Pow(math.Max(bad, 1e-9), -1.0/3)))
		if bad <= 1 {
			s.h, s.curve, s.grown = h, true, h*grow
			return nil
		}
		h *= grow
		most = 1
	}
	return errLost
}

// at writes the state a share θ of the step along into out. Both interpolants are linear
// in the rates, so what the rates balance stays balanced.
func (s *strides) at(y []float64, theta float64, out []float64) {
	if !s.curve {
		for i := range y {
			out[i] = y[i] + s.h*theta*(s.k[0][i]+theta/2*(s.k[3][i]-s.k[0][i]))
		}
		return
	}
	for i := range y { // the cubic through both ends with the rates there (Hermite)
		r2 := s.y1[i] - y[i]
		r3 := s.h*s.k[0][i] - r2
		r4 := r2 - s.h*s.k[3][i] - r3
		out[i] = y[i] + theta*(r2+(1-theta)*(r3+theta*r4))
	}
}
