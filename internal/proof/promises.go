package proof

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/finding"
	"tideover/internal/quantity"
)

// Promises returns every promise, those whose breaking hurts most first.
func Promises() []Promise {
	return []Promise{
		mainClean{}, noDraught{}, heaterBoosted{}, ratings{}, expansion{}, overflow{}, noticeShut{},
		noLoop{}, notBackwards{}, notDry{}, notDeadHeaded{}, takesMain{}, noHunting{}, noChatter{}, mixer{}, served{}, storeCleaned{}, isolated{},
	}
}

const trickle = float64(quantity.Standing)

// none says that a promise does not apply to a case.
func none() Judgement { return Judgement{Outcome: Silent} }

// kept says that a promise is kept and hangs on no figure.
func kept() Judgement { return Judgement{Outcome: Kept} }

// broken says that it is broken at a part, without a figure.
func broken(where string) Judgement { return Judgement{Outcome: Broken, Where: where} }

// unjudged says why a case cannot be judged.
func unjudged(reason string) Judgement {
	return Judgement{Outcome: Unjudged, Reason: "promise.reason." + reason}
}

// most judges a figure that may be at most a limit.
func most(dim quantity.Dim, figure, limit float64, where string) Judgement {
	j := Judgement{Outcome: Kept, Figure: finding.Of(dim, figure), Limit: finding.Of(dim, limit), Margin: limit - figure, Where: where}
	if figure > limit {
		j.Outcome = Broken
	}
	return j
}

// least judges a figure that must be at least a limit.
func least(dim quantity.Dim, figure, limit float64, where string) Judgement {
	j := Judgement{Outcome: Kept, Figure: finding.Of(dim, figure), Limit: finding.Of(dim, limit), Margin: figure - limit, Where: where}
	if !(figure >= limit) {
		j.Outcome = Broken
	}
	return j
}

// tag is the tag of a part.
func (in *Input) tag(part int) string { return in.Assembly.Parts[part].Tag }

// lockOut returns the main-side lock-out, or nil.
func (in *Input) lockOut() *assembly.Control { return in.Circuit.LockOut() }

// cutOut is the low-pressure cut-out at the pump's inlet, or nil.
func (in *Input) cutOut() *assembly.Control {
	if k, lock := in.Circuit.Bar(); lock.Low {
		return k
	}
	return nil
}

// storeRow returns the row of a store.
func (in *Input) storeRow(part int) (catalogue.Store, bool) {
	if part < 0 {
		return catalogue.Store{}, false
	}
	row, ok := in.Assembly.Parts[part].Row.(catalogue.Store)
	return row, ok
}

// pipeVolume is the water in a run [m³].
func (in *Input) pipeVolume(part int) float64 {
	p := &in.Assembly.Parts[part]
	row, ok := p.Row.(catalogue.Pipe)
	if !ok || p.Kind != assembly.Run {
		return 0
	}
	d := float64(row.Bore)
	return math.Pi / 4 * d * d * float64(p.Length)
}

// feltAt is the pressure a control feels: the worse end is the caller's to choose.
func feltAt(v *View, c *assembly.Control) Interval { return v.Pressure(c.Senses.Part, c.Senses.Port) }

// followed is where moving water from one place gets to.
type followed struct {
	at  map[int32]bool
	can bool // the circuit was solved
}

// follow marks the points that water leaving a port of a part gets to, along every part
// that it really flows through in the case; what leaves by a mouth or comes to an open
// surface stops there.
func follow(v *View, part, port int) followed {
	in := v.Input()
	c := in.Circuit
	f := followed{at: map[int32]bool{c.PointOf(part, port): true}, can: true}
	for grown := true; grown; {
		grown = false
		for i := range in.Assembly.Parts {
			p := &in.Assembly.Parts[i]
			if len(p.Ports) < 2 || p.Kind == assembly.Tee || p.Kind == assembly.Store || p.Kind == assembly.FloatValve {
				continue
			}
			grown = f.through(v, i) || grown
		}
	}
	f.can = v.Solved()
	return f
}

// through takes the water on through one part; it reports whether it got anywhere new.
func (f *followed) through(v *View, i int) bool {
	c, ports := v.Input().Circuit, v.Input().Assembly.Parts[i].Ports
	if len(ports) == 2 {
		a, b := c.PointOf(i, 0), c.PointOf(i, 1)
		if f.at[a] == f.at[b] {
			return false
		}
		q := float64(v.Flow(i))
		if f.at[a] && q > trickle {
			f.at[b] = true
			return true
		}
		if f.at[b] && q < -trickle {
			f.at[a] = true
			return true
		}
		return false
	}
	// A three-way part: water that comes to one port can leave by any port joined to it;
	// whether it does, the flow in the part beyond says.
	grown := false
	for a := range ports {
		for b := range ports {
			if f.at[c.PointOf(i, a)] && !f.at[c.PointOf(i, b)] && v.Joined(i, a, i, b) {
				f.at[c.PointOf(i, b)], grown = true, true
			}
		}
	}
	return grown
}

// headOf is the head a pressure makes [m].
func headOf(p quantity.Pressure) float64 { return float64(p) / circuit.Weight }
