package circuit

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/hydraulics"
	"tideover/internal/quantity"
)

// Solver is one goroutine's buffers for a Circuit: a state, an answer and the numerics'
// own. After the first case a solve allocates nothing.
type Solver struct {
	C      *Circuit
	State  *hydraulics.State
	Answer *hydraulics.Answer
	Speed  float64 // of the pump in the last case: 0 standing, 1 full

	Ended func() error // looked at before every case: what it gives is the case's error. nil: nothing ends it

	work *hydraulics.Work
	near float64 // speed to look near in the next case that holds; 0: nothing known
}

// NewSolver returns buffers for solving cases of c.
func (c *Circuit) NewSolver() *Solver {
	w := c.Net.NewWork()
	w.Warm = true
	return &Solver{C: c, State: c.Net.NewState(), Answer: c.Net.NewAnswer(), work: w}
}

// Quick leaves the independent certificate out of the next solves, or puts it in again: the
// answer then carries what the solver's own last step left.
func (s *Solver) Quick(yes bool) { s.work.Quick = yes }

// OK reports whether the last answer converged and passed its certificate.
func (s *Solver) OK() bool {
	a := s.Answer
	return (a.Status == hydraulics.Converged || a.Status == hydraulics.Still) && a.Cert.OK()
}

// ended is what ended the work, if anything did; there is no answer then.
func (s *Solver) ended() error {
	if s.Ended == nil {
		return nil
	}
	err := s.Ended()
	if err != nil {
		s.Answer.Status = hydraulics.NotSolved
	}
	return err
}

// Flow returns the flow through a part in its own direction [m³/s]: into port 0 and out
// of the other; of a hand-turned part with several ways, the sum of those out of it.
func (s *Solver) Flow(part int) quantity.Flow {
	if ways := s.C.ways[part]; len(ways) > 0 {
		sum := 0.0
		for _, w := range ways {
			sum += s.Answer.Flow[w.element]
		}
		return quantity.Flow(sum)
	}
	if e := s.C.element[part]; e >= 0 {
		return quantity.Flow(s.Answer.Flow[e])
	}
	return 0
}

// Head returns the head above the datum at a port [m]. Where water stands cut off from
// everything that moves it is one of many; see Between.
func (s *Solver) Head(part, port int) float64 { return s.Answer.Head[s.C.point[part][port]] }

// Between returns the interval the head at a port can stand in [m].
func (s *Solver) Between(part, port int) (low, high float64) {
	p := s.C.point[part][port]
	return s.Answer.Low[p], s.Answer.High[p]
}

// Pressure returns the gauge pressure at a port.
func (s *Solver) Pressure(part, port int) quantity.Pressure {
	return PressureOf(s.Head(part, port), s.C.Assembly.Parts[part].Ports[port].Z)
}

// Draw returns what outlet n gets: its flow, and the pressure it feels while it runs. The
// flow is c √h held to the regulator's limit, as people state it; the solver's own law
// differs from it by less than 0.1 %, so that a regulator is not a step.
func (s *Solver) Draw(n int) (quantity.Flow, quantity.Pressure) {
	i := s.C.Outlets[n]
	p := s.Pressure(i, 0)
	if s.Answer.Flow[s.C.element[i]] <= 0 {
		return 0, 0 // air stands in the open tap
	}
	c, limit := s.C.orifice(i)
	return quantity.Flow(OutletFlow.Fn([]float64{c, float64(p) / Weight, limit})), p
}

// orifice returns the coefficient [m^2.5/s] and the regulator's limit [m³/s] of an outlet;
// a limit of 0 means none.
func (c *Circuit) orifice(part int) (coefficient, limit float64) {
	row := outletRow(&c.Assembly.Parts[part])
	return float64(row.At3Bar) / math.Sqrt(threeBar), float64(row.Limit)
}

// PipeLaw returns the law of a run, or nil for another part.
func (c *Circuit) PipeLaw(part int) *hydraulics.Pipe {
	if c.element[part] < 0 {
		return nil
	}
	law, _ := c.Net.Elements()[c.element[part]].Law.(*hydraulics.Pipe)
	return law
}

// ControlOf returns the control that acts on the pump and is not a lock-out, or nil.
func (c *Circuit) ControlOf() *assembly.Control {
	return c.Assembly.PumpControl()
}

// LockOut returns the main-side lock-out, or nil.
func (c *Circuit) LockOut() *assembly.Control {
	return c.Assembly.LockOut()
}

// Bar returns what can bar the pump whatever its controller says, a main-side lock-out or
// a low-pressure cut-out, as its table; nil where there is neither.
func (c *Circuit) Bar() (*assembly.Control, Lock) {
	if k := c.Assembly.Bar(); k != nil {
		return k, Lock{On: k.On, Off: k.Off, Low: k.Kind == assembly.CutOut}
	}
	return nil, Lock{}
}

// Meets reports whether two ports are one point of the circuit.
func (c *Circuit) Meets(part, port, other, otherPort int) bool {
	return c.point[part][port] == c.point[other][otherPort]
}
