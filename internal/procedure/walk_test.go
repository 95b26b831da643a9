package procedure

import (
	"tideover/internal/assembly"
)

// walked is the second opinion: every port that water gets to on a walk from what presses, or
// may, port by port and with no figure.
func (w *world) walked() reached {
	var from []assembly.End
	if w.tied {
		from = append(from, w.p.ports(assembly.Main)...)
	}
	for _, i := range w.h.a.Of(assembly.Store) {
		if i == w.h.a.Header() && w.upper || i != w.h.a.Header() && w.water {
			for n := range w.h.a.Parts[i].Ports {
				from = append(from, assembly.End{Part: i, Port: n})
			}
		}
	}
	if w.press != "" && !w.tied {
		from = append(from, w.streetEnd()...)
	}
	return w.p.reach(from, forward)
}

// streetEnd is where a hand pump presses before the tie-in: the first new part behind the
// old service pipe.
func (w *world) streetEnd() []assembly.End {
	var list []assembly.End
	for i := range w.h.a.Parts {
		part := &w.h.a.Parts[i]
		if len(part.Ports) == 0 || part.Kept || part.Role == assembly.Service {
			continue
		}
		if m := w.p.mate[w.p.first[i]]; m.Part >= 0 && w.h.a.Parts[m.Part].Role == assembly.Service {
			list = append(list, assembly.End{Part: i, Port: 0})
		}
	}
	return list
}
