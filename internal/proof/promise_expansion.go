package proof

import (
	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
)

// expansion: water heated in a storage heater has somewhere to go: a vessel that works, or
// back the way it came. Shut in by a non-return valve or a shut valve, its pressure climbs
// until the relief valve lifts; with that blocked, until something bursts.
type expansion struct{}

// About says what is promised.
func (expansion) About() About {
	return About{ID: "expansion", Kind: Reach, Spread: EveryCase, Safety: true, Source: "upc-608-3"}
}

// Judge asks what the water in a heater that is heating can get to, nothing being drawn.
func (expansion) Judge(v *View) Judgement {
	in := v.Input()
	stored := false
	for _, h := range in.Assembly.Of(assembly.Heater) {
		row, ok := in.Assembly.Parts[h].Row.(catalogue.Heater)
		if ok && row.Least > 0 || in.vented(h) {
			continue // it heats running water only, or is open to the air
		}
		stored = true
		if !v.Hot() || !v.Draw(DrawNone) {
			return none()
		}
		if !expands(v, h) {
			return bursts(v, in.tag(h))
		}
	}
	if !stored {
		return none()
	}
	return kept()
}

// bursts is the judgement of a heater shut in, by how much still lets go: one thing with
// its relief valve, which drips away what swells; nothing with that blocked. Its blocking
// alone breaks nothing, for a heater with room never lifts it.
func bursts(v *View, heater string) Judgement {
	j := broken(heater)
	if j.Margin = -1; v.Upset(circuit.ReliefBlocked) {
		j.Margin = -2
	}
	return j
}

// swelling is water that heats, pushing outwards: where it has got to, and the parts that
// only a question lets it pass, to be asked in their order once the rest has been tried.
type swelling struct {
	v    *View
	g    *meets
	seen map[assembly.End]bool
	free []assembly.End // ends it comes to
	held []assembly.End // ends of valves and non-return valves it stands at
	room bool
}

// expands reports whether a heater's water can push into a vessel that works, the main, an
// open store or the air. What seeps past worn seats and back through a pump is not counted on.
func expands(v *View, heater int) bool {
	w := &swelling{v: v, g: newMeets(v.Input().Assembly), seen: map[assembly.End]bool{}}
	for k := range v.Input().Assembly.Parts[heater].Ports {
		w.out(assembly.End{Part: heater, Port: k})
	}
	for !w.room && len(w.free)+len(w.held) > 0 {
		if n := len(w.free); n > 0 {
			e := w.free[n-1]
			w.free = w.free[:n-1]
			w.through(e)
			continue
		}
		e := w.held[0]
		w.held = w.held[1:]
		w.ask(e)
	}
	return w.room || v.Upset(circuit.TapLeftOpen)
}

// out lets the water out of a port into what meets it.
func (w *swelling) out(e assembly.End) {
	to, ok := w.g.with[e]
	if !ok || w.seen[to] {
		return
	}
	w.seen[to] = true
	w.free = append(w.free, to)
}

// through takes the water that comes to a part's port on through the part.
func (w *swelling) through(e assembly.End) {
	switch p := &w.g.a.Parts[e.Part]; p.Kind {
	case assembly.Vessel:
		w.room = w.room || !w.v.Failed(e.Part, "vessel-flat", "vessel-shut-off")
	case assembly.Main, assembly.Store: // a raised one: it swells back up the pipe, no pump between
		w.room = true
	case assembly.HandValve, assembly.ThreeWay, assembly.Spool, assembly.Drain, assembly.NonReturn:
		w.held = append(w.held, e)
	case assembly.Run, assembly.Tee, assembly.Isolator, assembly.Meter, assembly.Strainer, assembly.Heater:
		w.all(e)
	}
}

// all lets it out of every other port.
func (w *swelling) all(e assembly.End) {
	for k := range w.g.a.Parts[e.Part].Ports {
		if k != e.Port {
			w.out(assembly.End{Part: e.Part, Port: k})
		}
	}
}

// ask asks whether what it stands at lets it pass.
func (w *swelling) ask(e assembly.End) {
	p := &w.g.a.Parts[e.Part]
	switch p.Kind {
	case assembly.Drain:
		w.room = w.v.At(e.Part, "open")
	case assembly.NonReturn:
		if w.passes(e) {
			w.all(e)
		}
	default:
		for _, way := range p.Ways {
			if (way.A == e.Port || way.B == e.Port) && w.v.At(e.Part, way.Position) {
				w.out(assembly.End{Part: e.Part, Port: way.A + way.B - e.Port})
			}
		}
	}
}

// passes reports whether a non-return valve lets it pass from the given side.
func (w *swelling) passes(e assembly.End) bool {
	if e.Port == 0 {
		return !w.v.Failed(e.Part, "check-stuck-shut", "check-reversed")
	}
	row, _ := w.g.a.Parts[e.Part].Row.(catalogue.NonReturn)
	if row.Kind == "single" && w.v.Failed(e.Part, "check-stuck-open") {
		return true
	}
	return w.v.Failed(e.Part, "check-left-out", "check-reversed")
}
