package hydraulics

import (
	"errors"
	"fmt"
	"math"
)

// holdTol is how close a speed-controlled pump is brought to its set head [m].
const holdTol = 1e-7

// creep is the square of a speed at which a pump does nothing but let water through: at
// speed 0 itself it may block, and the head behind it is then nobody's.
const creep = 1e-10

// HoldPressure solves for a speed-controlled pump that holds the head at a point: it
// finds the speed of the pump element and leaves it in s.Opening[element], with the
// solved state in a.
//
//	the pump can do it          the speed in (0, 1) that gives head at point, to 1e-7 m
//	it cannot, even flat out    speed 1, and a falls short of head
//	it is not needed            speed 0: with the pump barely turning the head is there already
//
// The head at the point must rise with the speed, which it does wherever the pump feeds
// it; the speed is found between brackets by a secant in the square of the speed, in
// which affinity makes the head nearly straight, so that it takes four or five solves.
func (n *Net) HoldPressure(s *State, a *Answer, w *Work, element, point int32, head float64) error {
	if element < 0 || int(element) >= len(n.elements) || n.ways[element].pump == nil {
		return fmt.Errorf("hydraulics: element %d is not a pump: only a pump's speed can hold a pressure", element)
	}
	if point < 0 || int(point) >= len(n.points) || math.IsNaN(head) || math.IsInf(head, 0) {
		return fmt.Errorf("hydraulics: %s: cannot hold a head of %g m at point %d of %d", n.elements[element].Name, head, point, len(n.points))
	}
	warm, quick := w.Warm, w.Quick
	defer func() { w.Warm, w.Quick = warm, quick }()
	w.Quick = true // on the way; the speed found is certified below
	misfit := func(u float64) (float64, error) {
		s.Opening[element] = math.Sqrt(u)
		err := n.Solve(s, a, w)
		w.Warm = true
		return a.Head[point] - head, err
	}
	top, err := misfit(1)
	if err == nil && top > holdTol {
		// Affinity: if the flow fell with the speed, the pump's head would fall as u.
		p := n.ways[element].pump
		guess := 1 - top/math.Max(p.Head(math.Max(a.Flow[element], 0), 1), 1e-3*p.A)
		err = n.bracket(misfit, guess, top)
	}
	if err != nil {
		return fmt.Errorf("hydraulics: %s: holding %g m: %w", n.elements[element].Name, head, err)
	}
	w.Quick = quick
	return n.verdict(s, a, w, true)
}

// bracket finds the zero of misfit between 0 and 1, knowing misfit(1) = top > 0.
func (n *Net) bracket(misfit func(float64) (float64, error), u, top float64) error {
	lo, hi, fhi := 0.0, 1.0, top
	flo := math.NaN() // not known yet
	width := 2.0      // of the bracket three guesses ago
	for i := range 90 {
		if i%3 == 2 { // a secant that creeps from one side is helped by halving
			if hi-lo > width/2 {
				u = math.NaN()
			}
			width = hi - lo
		}
		if !(u > lo && u < hi) {
			if math.IsNaN(flo) { // is the pump needed at all?
				f, err := misfit(creep)
				if err != nil {
					return err
				}
				if f >= -holdTol {
					_, err = misfit(0)
					return err
				}
				lo, flo = creep, f
			}
			u = (lo + hi) / 2
		}
		f, err := misfit(u)
		if err != nil || math.Abs(f) <= holdTol || hi-lo < 1e-15 {
			return err
		}
		// The next guess: the secant through the newest point and the nearer old one.
		old, fold := hi, fhi
		if !math.IsNaN(flo) && math.Abs(flo) < math.Abs(fhi) {
			old, fold = lo, flo
		}
		if f < 0 {
			lo, flo = u, f
		} else {
			hi, fhi = u, f
		}
		u -= f * (old - u) / (fold - f)
	}
	return errors.New("no speed found: the head does not settle as the speed changes")
}
