package hydraulics

import (
	"errors"
	"fmt"
	"math"
)

// A part that regulates brings the head at a point to a set one by moving a setting of
// its own: a pump its speed, a reducing valve what it takes off. The head rises with the
// setting, so that there is one setting at most that does it, and it can be bracketed:
//
//	the part can do it          the setting in (0, 1) that gives the head, to 1e-7 m
//	it cannot, even flat out    setting 1, and the head falls short
//	it is not needed            setting 0: the head is there already
//
// The circuit is solved with the setting held, and the setting is found around it: guessed
// from the circuit solved flat out (foresee.go), and closed in on where the guess is out.
// For a
// part that feels its own outlet the head never falls as the setting rises, whatever else
// there is, rings and all: water put in at one point and taken out at another raises the
// first (the inverse of the matrix of a circuit has no entry greater than the diagonal's
// in its row). Two that can answer one another round a ring may settle in more than one
// way: Regulate names them and does not pick.

// holdTol is how close a regulated head is brought to the set one [m].
const holdTol = 1e-7

// creep is the setting at which a part is asked whether it is needed at all: at 0 itself
// a pump may block, and the head behind it is then nobody's.
const creep = 1e-10

// regulating is a law with a setting to be found. u is the setting's measure, 0 to 1, in
// which the head it gives is nearly straight.
type regulating interface {
	measure(x float64) float64          // u at the state's opening x
	setting(u float64) float64          // the state's opening at u
	firstGuess(over, q float64) float64 // u, when at u = 1 the head is over too high at flow q
}

// setting is the speed: by affinity the head goes with its square.
func (p *Pump) setting(u float64) float64 { return math.Sqrt(u) }

func (p *Pump) measure(x float64) float64 { return x * x }

// firstGuess takes the flow to fall with the speed: the pump's head then falls as u.
func (p *Pump) firstGuess(over, q float64) float64 {
	return 1 - over/math.Max(p.Head(math.Max(q, 0), 1), 1e-3*p.A)
}

func (r *Reducer) setting(u float64) float64 { return u }

func (r *Reducer) measure(x float64) float64 { return x }

// firstGuess takes off what is too much.
func (r *Reducer) firstGuess(over, _ float64) float64 { return 1 - over/reducerSpan }

// HoldPressure solves for a speed-controlled pump that holds the head at a point: it
// finds the speed of the pump element and leaves it in s.Opening[element], with the
// solved state in a. See Regulate for what the speed comes to. A speed between 0 and 1 in
// s.Opening[element] on the way in is taken for one near it, and saves time where it is.
//
// The head at the point must rise with the speed, which it does wherever the pump feeds
// it; two solves find it, as a rule.
func (n *Net) HoldPressure(s *State, a *Answer, w *Work, element, point int32, head float64) error {
	if element < 0 || int(element) >= len(n.elements) || n.ways[element].pump == nil {
		return fmt.Errorf("hydraulics: element %d is not a pump: only a pump's speed can hold a pressure", element)
	}
	return n.HoldTogether(s, a, w, []int32{element}, point, head)
}

// HoldTogether is HoldPressure for pumps alike side by side that run at one speed: it is
// left in the opening of each. elements names them all.
func (n *Net) HoldTogether(s *State, a *Answer, w *Work, elements []int32, point int32, head float64) error {
	if len(elements) == 0 {
		return errors.New("hydraulics: no pump is named that could hold a pressure")
	}
	for _, e := range elements {
		if e < 0 || int(e) >= len(n.elements) || n.ways[e].pump == nil {
			return fmt.Errorf("hydraulics: element %d is not a pump: only a pump's speed can hold a pressure", e)
		}
	}
	r := keeper{Regulator: Regulator{elements[0], point, head}, with: elements[1:]}
	if len(n.sets) == 0 {
		return n.regulate(s, a, w, r)
	}
	if err := n.checkState(s); err != nil {
		a.Status = NotSolved
		return err
	}
	if names := n.rivals(s, n.withSets(s, []keeper{r})); names != nil {
		a.Status = NotUnique
		return &Several{Parts: names, Why: "each regulates a head that another in the same ring can change"}
	}
	// The reducers are set anew at every speed tried: by turns, two that feed one pipe with
	// little between them would creep towards one another. What the head does then still
	// never falls as the speed rises (rivals.go).
	r.over = true
	if err := n.regulate(s, a, w, r); err != nil {
		return err
	}
	return n.ending(s, a, w)
}

// regulate finds the setting of one part, which others may follow.
func (n *Net) regulate(s *State, a *Answer, w *Work, r keeper) error {
	law, err := n.checkRegulator(r.Regulator)
	if err != nil {
		return err
	}
	warm, quick := w.Warm, w.Quick
	w.pin = r.Point // its head is wanted at every step of a guess
	defer func() { w.Warm, w.Quick, w.pin = warm, quick, -1 }()
	w.Quick = true // on the way; the setting found is certified below
	misfit := func(u float64) (float64, error) {
		s.Opening[r.Element] = law.setting(u)
		for _, e := range r.with {
			s.Opening[e] = s.Opening[r.Element]
		}
		solve := n.solve
		if r.over {
			solve = n.Solve
		}
		err := solve(s, a, w)
		w.Warm = true
		return a.Head[r.Point] + r.fall*a.Flow[r.Element] - r.Head, err
	}
	foresee := func(u float64) float64 {
		if len(r.with) > 0 || r.over { // it moves one part alone
			return math.NaN()
		}
		aim := r.Regulator
		aim.Head -= r.fall * a.Flow[r.Element]
		return n.foresee(a, w, aim, law, u)
	}
	err = tune(misfit, foresee, law.measure(s.Opening[r.Element]), func(top float64) float64 {
		return law.firstGuess(top, a.Flow[r.Element])
	})
	if err != nil {
		return fmt.Errorf("hydraulics: %s: holding %g m: %w", n.elements[r.Element].Name, r.Head, err)
	}
	w.Quick = quick
	n.witness(s, a, w, true)
	return n.verdict(a, w)
}

// tune finds the zero of misfit. start, where it is inside (0, 1), is a setting near the
// one looked for: then the part need not be tried flat out.
func tune(misfit func(float64) (float64, error), foresee func(float64) float64, start float64, first func(top float64) float64) error {
	if start > 0 && start < 1 {
		if _, err := misfit(start); err == nil {
			if u := foresee(start); u > 0 {
				if f, err := misfit(u); err == nil && math.Abs(f) <= holdTol {
					return nil
				}
			}
		}
	}
	top, err := misfit(1)
	if err != nil || top <= holdTol {
		return err
	}
	guess := first(top)
	if u := foresee(1); u > 0 {
		guess = u
	}
	return bracket(misfit, guess, top)
}

// bracket finds the zero of misfit between 0 and 1, knowing misfit(1) = top > 0.
func bracket(misfit func(float64) (float64, error), u, top float64) error {
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
			if math.IsNaN(flo) { // is the part needed at all?
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
	return errors.New("no setting found: the head does not settle as it changes")
}
