package procedure

import (
	"slices"

	"tideover/internal/assembly"
	"tideover/internal/quantity"
)

// Release is how a part is made safe to open: what is shut so that nothing presses on it any
// more, and the mouths by which what still presses there is let off.
type Release struct {
	Part   int
	Shut   []Act // out of the normal setting
	Mouths []int // taps, drains, float valves held down: one for each side of the part
}

// mostShut is how many handles are shut at most before a part is opened: who needs more calls
// the fitter, who empties the home.
const mostShut = 5

// runsOut is the most water [m] that may stand over a part that is opened: it runs out, it does
// not spray. Judgement.
const runsOut quantity.Length = 3

// Release finds it, with as few handles as can be and the lowest mouth that takes the part's
// water; ok is false where no handles and no mouth here do.
func (h *Home) Release(part int) (r Release, ok bool) {
	var valves []int
	away := h.steps(part)
	for i := range h.a.Parts {
		if p := &h.a.Parts[i]; p.Kind == assembly.HandValve && h.p.at[p.Tag] == "open" {
			valves = append(valves, i)
		}
	}
	slices.SortStableFunc(valves, func(a, b int) int { return away[a] - away[b] }) // the nearest first
	var choose func(from int, done []int) bool
	try := func(done []int) bool {
		mouths := h.letsOff(part, done)
		if mouths != nil {
			r = Release{part, acts(Handle, "shut", done...), mouths}
		}
		return mouths != nil
	}
	n := 0
	choose = func(from int, done []int) bool {
		if len(done) == n {
			return try(done)
		}
		for k := from; k < len(valves); k++ {
			if choose(k+1, append(done, valves[k])) {
				return true
			}
		}
		return false
	}
	for n = 0; n <= mostShut; n++ {
		if choose(0, nil) {
			return r, true
		}
	}
	return r, false
}

// letsOff are the lowest mouths that let off a part's water, on each side of it, with some
// valves shut; nil where something still presses on the part, or where the water of one side
// gets to no mouth.
func (h *Home) letsOff(part int, shut []int) []int {
	var turns []Turn
	for _, i := range shut {
		turns = append(turns, Turn{i, "shut"})
	}
	p := h.p.with(turns)
	if touches(h.a, p.reach(p.live(false), forward), part) {
		return nil
	}
	var list []int
	for n := range h.a.Parts[part].Ports {
		if h.a.Parts[part].Kind == assembly.FloatValve && n > 0 {
			continue // its mouth is in the air
		}
		mouth := h.near(part, p.reach([]assembly.End{{Part: part, Port: n}}, forward))
		if mouth < 0 || h.a.Parts[mouth].Ports[0].Z > h.a.Parts[part].Ports[n].Z+runsOut {
			return nil
		}
		if !slices.Contains(list, mouth) {
			list = append(list, mouth)
		}
	}
	return list
}

// near is the nearest tap, drain or float valve among the ports reached that is no higher than
// the part; the lowest where all are.
func (h *Home) near(part int, been reached) int {
	best, away := -1, h.steps(part)
	for _, k := range []assembly.Kind{assembly.Drain, assembly.FloatValve, assembly.Outlet} {
		for _, i := range h.a.Of(k) {
			low := h.a.Parts[i].Ports[0].Z <= h.a.Parts[part].Ports[0].Z+level || i == part
			if low && h.inPipe(i) && touches(h.a, been, i) && (best < 0 || away[i] < away[best]) {
				best = i
			}
		}
	}
	if best < 0 {
		return h.lowest(been)
	}
	return best
}

// level is what still counts as no higher. [m]
const level quantity.Length = 0.5

// steps counts the joins from a part to every other, whatever stands shut.
func (h *Home) steps(part int) []int {
	away := make([]int, len(h.a.Parts))
	for i := range away {
		away[i] = len(away)
	}
	away[part] = 0
	for queue := []int{part}; len(queue) > 0; queue = queue[1:] {
		i := queue[0]
		for n := range h.a.Parts[i].Ports {
			if m := h.p.mate[h.p.first[i]+n]; m.Part >= 0 && away[m.Part] > away[i]+1 {
				away[m.Part] = away[i] + 1
				queue = append(queue, m.Part)
			}
		}
	}
	return away
}

// lowest is the lowest tap, drain or float valve among the ports reached; a drain of a store
// is none, for it empties the store.
func (h *Home) lowest(been reached) int {
	best := -1
	for _, k := range []assembly.Kind{assembly.Drain, assembly.Outlet, assembly.FloatValve} {
		for _, i := range h.a.Of(k) {
			if h.inPipe(i) && touches(h.a, been, i) && (best < 0 || h.a.Parts[i].Ports[0].Z < h.a.Parts[best].Ports[0].Z-0.01) {
				best = i
			}
		}
	}
	return best
}

// opens is the acts that make parts safe and open them, each in turn, and put all back: the
// pump off first, nothing opened before it shows zero, the pump full before it is on again.
func (h *Home) opens(parts ...int) (list []Act, ok bool) {
	for _, i := range parts {
		r, ok := h.Release(i)
		if !ok {
			return nil, false
		}
		list = append(list, h.opensOne(r)...)
	}
	return list, true
}

func (h *Home) opensOne(r Release) []Act {
	var off, on, let, close []Act
	for _, m := range r.Mouths {
		open, shut := "open", "shut"
		if h.a.Parts[m].Kind == assembly.FloatValve {
			open, shut = "down", "free"
		}
		let, close = append(let, Act{Handle, m, open}), append(close, Act{Handle, m, shut})
	}
	if h.pumped() {
		off, on = alone(Switch, "off"), h.filled()
	}
	return with(off, r.Shut, let, acts(SeeZero, "", r.Part), acts(TakeOpen, "", r.Part),
		acts(PutBack, "", r.Part), close, h.undone(reversed(r.Shut), nil), on)
}

func reversed(list []Act) []Act {
	out := slices.Clone(list)
	slices.Reverse(out)
	return out
}
