package procedure

import (
	"math"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/circuit"
	"tideover/internal/hydraulics"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// rig is the circuit of a home in somebody's hands: whatever they have done, what stands
// there is solved, not thought.
type rig struct {
	a       *assembly.Assembly
	c       *circuit.Circuit
	s       *circuit.Solver
	work    *hydraulics.Work
	main    quantity.Pressure // of the main at rest, at the gauge
	gaugeAt quantity.Length
}

// mouthful is a flow nobody overlooks [m³/s], about a cup a minute; standing is the head of
// water that may stand over a part and is still called no pressure: it runs out, it does not
// spray. [m]
const (
	mouthful = 4e-6
	standing = float64(runsOut) + 0.5 // what a valve on the way may hold up beside
	trickle  = 1e-9
)

func newRig(t *testing.T, a *assembly.Assembly, j *job.Job) *rig {
	t.Helper()
	c, err := circuit.New(a, circuit.Read(j))
	if err != nil {
		t.Fatal(err)
	}
	main := j.Supply.Static.V
	if !(main > 0) {
		main = 3e5
	}
	return &rig{a, c, c.NewSolver(), c.Net.NewWork(), main, j.Supply.Gauge.V}
}

// solve lays the state of the world out, with some more mouths open, and solves it; false
// where the solver gives no answer.
func (r *rig) solve(w *world, more ...int) bool {
	k := circuit.Case{MainOff: true, Pump: circuit.Standing}
	if i := r.a.Header(); i >= 0 {
		k.Header = w.h.surface(i) - r.a.Parts[i].Ports[0].Z
	}
	switch {
	case w.tied && !w.streetShut:
		k.MainOff, k.Main = false, r.main
	case w.press != "": // a hand pump beside the new pipe, as hard wherever the home lies
		k.MainOff, k.Main = false, 3e5
		for i := range r.a.Parts {
			for _, port := range r.a.Parts[i].Ports {
				k.Main = max(k.Main, 3e5+quantity.Pressure(port.Z*circuit.Weight))
			}
		}
	}
	for _, i := range r.a.Of(assembly.Store) {
		if i != r.a.Header() {
			k.Level = w.h.surface(i)
		}
	}
	open := map[int]bool{}
	for i := range w.open {
		open[i] = !w.pumped[i]
	}
	for _, i := range more {
		open[i] = true
	}
	k.Open = make([]bool, len(r.c.Outlets))
	for n, i := range r.c.Outlets {
		k.Open[n] = open[i]
	}
	st := r.s.State
	r.c.State(&k, st)
	at := map[string]string{}
	for tag, position := range w.p.at {
		at[tag] = position
	}
	for _, i := range r.a.Of(assembly.Drain) {
		if at[r.a.Parts[i].Tag] = "shut"; open[i] {
			at[r.a.Parts[i].Tag] = "open"
		}
	}
	shut, err := r.c.Shut(at)
	if err != nil {
		w.fault("%v", err)
		return false
	}
	surface := map[int32]bool{}
	if !w.water {
		for _, p := range r.c.SurfacePoints() {
			surface[p] = true
		}
	}
	if !w.upper {
		for _, p := range r.c.UpperPoints() {
			surface[p] = true
		}
	}
	for e := range st.Off {
		el := &r.c.Net.Elements()[e]
		i := int(el.Ref)
		switch part := &r.a.Parts[i]; {
		case part.Positions() != nil:
			st.Off[e] = shut[e]
		case part.Kind == assembly.FloatValve:
			st.Off[e] = !open[i]
		}
		if surface[el.From] || surface[el.To] {
			st.Off[e] = true
		}
		if !w.fitted[i] && !(w.press != "" && r.a.Parts[i].Role == assembly.Service) || w.apart[i] {
			st.Off[e] = true
		}
		if w.press != "" && !w.tied && r.a.Parts[i].Role == assembly.Service && r.a.Parts[i].Kind != assembly.Drain {
			st.Off[e] = false // where the hand pump stands: the old pipe is out of it
		}
	}
	r.runs(w, st)
	if err := r.c.Net.Solve(st, r.s.Answer, r.work); err != nil {
		w.fault("not solved: %v", err)
		return false
	}
	return true
}

// runs lets the first pump run whose own valves let it, where any does: the others wait.
func (r *rig) runs(w *world, st *hydraulics.State) {
	ran := false
	for _, i := range r.a.Of(assembly.Pump) {
		e := r.c.ElementOf(i)
		st.Opening[e] = 0
		if w.on && !w.low && !ran && w.atWork(i) {
			st.Opening[e], ran = 1, true
		}
	}
}

// gauge is what can press at most on a part over the height of its ports, and at least [m].
func (r *rig) gauge(part int) (least, most float64) {
	least, most = math.Inf(-1), math.Inf(-1)
	for n, port := range r.a.Parts[part].Ports {
		low, high := r.s.Between(part, n)
		least, most = math.Max(least, low-float64(port.Z)), math.Max(most, high-float64(port.Z))
	}
	return least, most
}

// flows is what runs through a part, whichever way.
func (r *rig) flows(part int) float64 {
	q := math.Abs(float64(r.s.Flow(part)))
	for _, e := range r.elements(part) {
		q = math.Max(q, math.Abs(r.s.Answer.Flow[e]))
	}
	return q
}

func (r *rig) elements(part int) []int {
	var list []int
	for e := range r.c.Net.Elements() {
		if int(r.c.Net.Elements()[e].Ref) == part {
			list = append(list, e)
		}
	}
	return list
}

// dosed marks the parts through which water runs that comes from dosed water alone: it is
// followed down the flows that were solved.
func (r *rig) dosed(w *world) []bool {
	points := r.c.Net.Points()
	clean := make([]bool, len(points)) // something undosed gets there
	been := make([]bool, len(points))
	from := func(p int32, good bool) {
		if p >= 0 {
			been[p] = true
			clean[p] = clean[p] || !good
		}
	}
	for _, p := range r.c.SurfacePoints() {
		from(p, w.dosed)
	}
	for _, p := range r.c.UpperPoints() {
		from(p, w.dosedUpper)
	}
	from(r.c.StreetPoint(), w.press == "dosed")
	elements := r.c.Net.Elements()
	for moved := true; moved; {
		moved = false
		for e := range elements {
			q := r.s.Answer.Flow[e]
			a, b := elements[e].From, elements[e].To
			if q < 0 {
				a, b = b, a
			}
			if math.Abs(q) < trickle || !been[a] || points[b].Held {
				continue
			}
			if !been[b] || clean[a] && !clean[b] {
				been[b], clean[b], moved = true, clean[a] || clean[b], true
			}
		}
	}
	out := make([]bool, len(r.a.Parts))
	for e := range elements {
		q := r.s.Answer.Flow[e]
		a := elements[e].From
		if q < 0 {
			a = elements[e].To
		}
		if math.Abs(q) > trickle && been[a] && !clean[a] {
			out[elements[e].Ref] = true
		}
	}
	for i := range r.a.Parts { // what hangs on pipe that dosed water runs through
		for n := range r.a.Parts[i].Ports {
			p := r.c.PointOf(i, n)
			if been[p] && !clean[p] && through(r.a.Parts[i].Kind) {
				out[i] = true
			}
		}
	}
	return out
}

// through are the kinds that are a place in the circuit and not a way.
func through(k assembly.Kind) bool {
	switch k {
	case assembly.Tee, assembly.Isolator, assembly.Vessel, assembly.Switch, assembly.Store, assembly.Heater:
		return true
	}
	return false
}
