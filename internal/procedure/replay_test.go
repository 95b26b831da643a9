package procedure

import (
	"fmt"
	"slices"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/demo"
	"tideover/internal/homes"
)

// world is the home as it is while somebody follows a list: what is fitted, how every handle
// is turned, what presses, what is dosed. Each act is held to what has to be there for it.
type world struct {
	h       *Home
	p       *plumb
	fitted  []bool
	cut     bool
	tied    bool // the new pipe is joined to the old
	capped  bool
	wired   bool
	on      bool
	primed  bool
	open    map[int]bool // taps, drains, float valves held down
	pressed []bool       // water under pressure is shut in there, or presses
	apart   map[int]bool // parts taken open
	water   bool         // in the stores
	dosed   bool         // and chlorine in it
	press   string       // what a hand pump presses in at the street end
	clean   []bool       // parts that dosed water passed, or that were swabbed
	swabbed []bool
	faults  []string
	at      string // the step that is done
}

func newWorld(h *Home, tied bool) *world {
	n := len(h.a.Parts)
	w := &world{h: h, p: h.p.with(nil), fitted: make([]bool, n), pressed: make([]bool, n), clean: make([]bool, n), swabbed: make([]bool, n),
		open: map[int]bool{}, apart: map[int]bool{}, tied: tied, wired: tied, on: tied, primed: tied, water: tied}
	for i := range h.a.Parts {
		w.fitted[i] = tied || h.a.Parts[i].Kept || h.a.Parts[i].Kind == assembly.Main
	}
	w.settle()
	return w
}

func (w *world) fault(format string, args ...any) {
	w.faults = append(w.faults, w.at+": "+fmt.Sprintf(format, args...))
}

// sources are the ports that water comes from now.
func (w *world) sources() []assembly.End {
	var list []assembly.End
	if w.tied {
		list = append(list, w.p.ports(assembly.Main)...)
	}
	if w.water {
		list = append(list, w.p.ports(assembly.Store)...)
	}
	return append(list, w.streetEnd()...)
}

// streetEnd is where a hand pump presses before the tie-in: the first new part behind the
// old service pipe.
func (w *world) streetEnd() []assembly.End {
	if w.press == "" || w.tied {
		return nil
	}
	var list []assembly.End
	for i := range w.h.a.Parts {
		part := &w.h.a.Parts[i]
		for n := range part.Ports {
			m := w.p.mate[w.p.first[i]+n]
			if m.Part >= 0 && n == 0 && !part.Kept && part.Role != assembly.Service && (w.h.a.Parts[m.Part].Role == assembly.Service) {
				list = append(list, assembly.End{Part: i, Port: 0})
			}
		}
	}
	return list
}

// settle lets the water come to rest: what a source reaches is pressed, what reaches an open
// mouth and no source is not.
func (w *world) settle() {
	live := w.p.reach(w.sources(), forward)
	if w.on {
		var pumps []assembly.End
		for _, i := range w.h.a.Of(assembly.Pump) {
			if live.has(assembly.End{Part: i, Port: 0}) {
				pumps = append(pumps, assembly.End{Part: i, Port: 1})
			}
		}
		live = w.p.reach(append(w.sources(), pumps...), forward)
	}
	for i := range w.h.a.Parts {
		if touches(w.h.a, live, i) {
			w.pressed[i] = true
			continue
		}
		var from []assembly.End
		for n := range w.h.a.Parts[i].Ports {
			from = append(from, assembly.End{Part: i, Port: n})
		}
		out := w.p.reach(from, forward)
		for mouth := range w.open {
			if touches(w.h.a, out, mouth) {
				w.pressed[i] = false
			}
		}
	}
}

func (w *world) do(a Act) {
	part, tag := (*assembly.Part)(nil), ""
	if a.Part >= 0 {
		if a.Part >= len(w.h.a.Parts) {
			w.fault("%s of a part that is not there", a.Do)
			return
		}
		part = &w.h.a.Parts[a.Part]
		tag = part.Tag
		if a.Do != Fit && a.Do != Swab && !w.fitted[a.Part] {
			w.fault("%s %s, which is not fitted yet", a.Do, tag)
		}
	}
	switch a.Do {
	case Fit:
		if part.Kept || w.fitted[a.Part] && part.Kind != assembly.Main {
			w.fault("%s is fitted twice", tag)
		}
		w.fitted[a.Part] = true
	case Cap:
		w.capped = true
	case Wire:
		w.wired = true
	case Switch:
		w.turnSwitch(a.To)
	case Handle:
		w.handle(a, part)
	case HoseIn:
		w.water = true
	case PressIn:
		if !w.capped || w.tied {
			w.fault("water is pressed in at a street end that is not there")
		}
		w.press = a.To
	case Dose:
		if !w.water {
			w.fault("%s is dosed while it is empty", tag)
		}
		w.dosed = true
	case Prime:
		if !w.fed(a.Part) {
			w.fault("%s is filled and no water comes to it", tag)
		}
		w.primed = true
	case Swab:
		if w.fitted[a.Part] {
			w.fault("%s is swabbed after it was fitted", tag)
		}
		w.swabbed[a.Part] = true
	case Cut:
		if w.mainAt(w.h.stop()) {
			w.fault("the old pipe is cut with the water on")
		}
		w.cut, w.press = true, ""
	case Join:
		if !w.cut {
			w.fault("pipes are joined before the old one is cut")
		}
		w.tied = true
	case SeeZero:
		if w.pressed[a.Part] {
			w.fault("%s is to show zero and does not", tag)
		}
	case TakeOpen:
		if w.pressed[a.Part] || w.on {
			w.fault("%s is opened under pressure or with its power on", tag)
		}
		w.apart[a.Part], w.primed = true, false
	case PutBack:
		delete(w.apart, a.Part)
	case SeeWater:
		if !w.comes(a.Part, a.To == "dosed") {
			w.fault("no %s water comes to %s", a.To, tag)
		}
		w.clean[a.Part] = true
	}
	w.settle()
}

func (w *world) mainAt(stop []int) bool {
	for _, i := range stop {
		if w.p.at[w.h.a.Parts[i].Tag] != "shut" {
			return true
		}
	}
	return false
}

func (w *world) turnSwitch(to string) {
	w.on = to == "on"
	if !w.on {
		return
	}
	if !w.wired || !w.primed || len(w.apart) > 0 {
		w.fault("the pump is switched on: wired %v, filled %v, open %v", w.wired, w.primed, len(w.apart) > 0)
	}
	for _, i := range w.h.a.Of(assembly.Pump) {
		if !w.fed(i) {
			w.fault("%s is switched on and no water comes to it", w.h.a.Parts[i].Tag)
		}
	}
}

// fed reports whether water comes to a pump's inlet.
func (w *world) fed(pump int) bool {
	return w.p.reach(w.sources(), forward).has(assembly.End{Part: pump, Port: 0})
}

func (w *world) handle(a Act, part *assembly.Part) {
	ok := slices.Contains(part.Positions(), a.To)
	switch part.Kind {
	case assembly.Outlet:
		ok = a.To == "open" || a.To == "shut"
	case assembly.FloatValve:
		ok = a.To == "down" || a.To == "free"
	}
	if !ok {
		w.fault("%s has no position %q", part.Tag, a.To)
		return
	}
	if part.Kind == assembly.Outlet || part.Kind == assembly.FloatValve || part.Kind == assembly.Drain {
		if a.To == "open" || a.To == "down" {
			w.open[a.Part] = true
		} else {
			delete(w.open, a.Part)
		}
	}
	if part.Positions() != nil {
		w.p = w.p.with([]Turn{{a.Part, a.To}})
	}
}

// comes reports whether water gets to a part: dosed water from the store, by its height or
// by the pump, or from a hand pump at the street end.
func (w *world) comes(part int, dosed bool) bool {
	var from []assembly.End
	if w.water && (w.dosed || !dosed) {
		from = append(from, w.p.ports(assembly.Store)...)
	}
	if w.press == "dosed" || w.press != "" && !dosed {
		from = append(from, w.streetEnd()...)
	}
	return touches(w.h.a, w.p.reach(from, forward), part)
}

// wash marks what dosed water passes with every end, drain and tap opened in turn.
func (w *world) wash() {
	for i := range w.h.a.Parts {
		w.clean[i] = w.clean[i] || w.dosed && w.comes(i, true)
	}
}

func (w *world) follow(lists ...List) {
	for _, l := range lists {
		for _, s := range l.Steps {
			w.at = l.ID + "." + s.ID
			for _, a := range s.Acts {
				w.do(a)
			}
			w.wash()
		}
	}
}

// replayBuild follows the order of build with the sheets it sends people to in between.
func replayBuild(h *Home, f Facts) []string {
	w := newWorld(h, false)
	flush, disinfect := h.Flush(), h.Disinfect()
	for _, l := range h.Build(f) {
		for _, s := range l.Steps {
			w.at = l.ID + "." + s.ID
			for _, a := range s.Acts {
				w.do(a)
			}
			switch {
			case l.ID == "build.prove" && s.ID == "flush":
				w.follow(flush[0])
				w.free()
			case l.ID == "build.prove" && s.ID == "disinfect":
				w.follow(disinfect[0])
				w.free()
			case l.ID == "build.tie" && s.ID == "cut" && (w.on || w.tied):
				w.fault("the pump is on at the cut")
			}
		}
	}
	w.at = "at the end"
	if !w.tied || len(w.apart) > 0 || len(w.open) > 0 {
		w.fault("tied in %v, parts left open %d, mouths left open %d", w.tied, len(w.apart), len(w.open))
	}
	for i := range h.a.Parts {
		part := &h.a.Parts[i]
		if !w.fitted[i] {
			w.fault("%s is never fitted", part.Tag)
		}
		if h.stored() && !part.Kept && !w.clean[i] && !w.swabbed[i] && part.Kind != assembly.Main {
			w.fault("%s is neither dosed nor swabbed", part.Tag)
		}
	}
	return w.faults
}

// free lets go of float valves and shuts drains: the sheets say so in words.
func (w *world) free() {
	for i := range w.open {
		delete(w.open, i)
		if w.h.a.Parts[i].Kind == assembly.Drain {
			w.p = w.p.with([]Turn{{i, "shut"}})
		}
	}
	w.press = ""
	w.settle()
}

// replayLater follows what is done in a home that is joined and in use.
func replayLater(h *Home) []string {
	var faults []string
	w := newWorld(h, true)
	w.follow(h.Repair())
	if last := h.Repair().Steps; len(last) > 0 && last[len(last)-1].ID != "none" {
		w.at = "card.repair, at the end"
		if !w.on || len(w.apart) > 0 || len(w.open) > 0 {
			w.fault("pump on %v, parts open %d, mouths open %d", w.on, len(w.apart), len(w.open))
		}
		for tag, at := range h.p.at {
			if w.p.at[tag] != at {
				w.fault("%s is left %s, normal is %s", tag, w.p.at[tag], at)
			}
		}
	}
	faults = append(faults, w.faults...)
	w = newWorld(h, true)
	w.follow(h.Frost().List)
	faults = append(faults, w.faults...)
	if h.stored() {
		w = newWorld(h, true)
		w.follow(h.BadWater())
		w.at = "bad-water, dosed"
		stored := w.p.reach(w.p.ports(assembly.Store), forward)
		main := w.p.reach(w.p.ports(assembly.Main), forward)
		for _, i := range h.a.Of(assembly.FloatValve) {
			if h.FeedValve() >= 0 && touches(h.a, main, i) && h.a.Fills(i) != h.a.Header() {
				w.fault("the main still fills %s by %s", h.a.Parts[h.a.Fills(i)].Tag, h.a.Parts[i].Tag)
			}
		}
		for _, i := range h.a.Of(assembly.Main) {
			if h.legHeld() && touches(h.a, stored, i) {
				w.fault("dosed water gets to the street")
			}
		}
		faults = append(faults, w.faults...)
	}
	return faults
}

// TestEverySheetCanBeDone replays every list of the examples and of Kestrel Rise in every
// arrangement.
func TestEverySheetCanBeDone(t *testing.T) {
	for name, a := range examples(t) {
		h := For(a)
		for _, f := range append(replayBuild(h, Facts{Split: split(a)}), replayLater(h)...) {
			t.Errorf("%s: %s", name, f)
		}
	}
}

func split(a *assembly.Assembly) bool {
	sides := a.Sides()
	for _, i := range a.Of(assembly.Outlet) {
		if sides.Main[i] && !sides.Store[i] {
			return true
		}
	}
	return false
}

// TestRandomSheetsCanBeDone replays them in homes drawn at random.
func TestRandomSheetsCanBeDone(t *testing.T) {
	homes.Each(t, 14, 24, func(t *testing.T, home homes.Home) {
		doc := home.Doc(t)
		rows, profile := demo.Rows(t, doc.Job.Profile)
		a, err := assembly.Build(doc.Job, rows, profile)
		if err != nil || len(a.Settings) == 0 {
			return
		}
		h := For(a)
		for _, f := range append(replayBuild(h, Facts{Split: split(a)}), replayLater(h)...) {
			t.Errorf("%s: %s", a.Arrangement, f)
		}
	})
}
