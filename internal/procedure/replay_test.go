package procedure

import (
	"fmt"
	"maps"
	"math"
	"os"
	"slices"
	"strconv"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/circuit"
	"tideover/internal/demo"
	"tideover/internal/homes"
)

// world is the home as it is while somebody follows a list: what is fitted, how every handle
// is turned, what presses, what is dosed. Each act is held to what has to be there for it,
// as the solver finds it; the walk port by port is asked the same, and may not know better.
type world struct {
	h *Home
	p *plumb
	r *rig

	fitted     []bool
	cut        bool
	tied       bool // the new pipe is joined to the old
	old        bool // the old pipe is whole
	capped     bool
	wired      bool
	on         bool
	primed     bool
	low        bool         // a level switch hangs down: the pump is held off
	hot        bool         // the heater is on
	full       bool         // and has water in it
	open       map[int]bool // taps, drains, float valves held down
	pressed    []bool       // water under pressure is shut in there, or presses
	isolated   map[int]bool // vessels behind a shut valve, their water let off by its drain
	pumped     map[int]bool // drains that lead into a test pump
	apart      map[int]bool // parts taken open
	water      bool         // in the stores that the main fills
	upper      bool         // in the header tank
	dosed      bool         // and chlorine in it
	dosedUpper bool
	press      string // what a hand pump presses in at the street end
	streetShut bool   // the supplier's side is shut
	clean      []bool // parts that dosed water passed, or that were swabbed
	swabbed    []bool
	stale      map[int]bool // stores whose water is weeks old
	flushed    map[int]bool // outlets run cold, and pumps run, since no store held old water
	rinsed     map[int]bool // outlets run since the heater was hot
	read       map[int]bool // stores and outlets whose chlorine was read
	faults     []string
	crossed    bool // the main runs off with every tap shut, as in a home that was found so
	asked      int  // questions the solver answered
	at         string
}

func newWorld(h *Home, r *rig, tied bool) *world {
	n := len(h.a.Parts)
	w := &world{h: h, r: r, p: h.p.with(nil), fitted: make([]bool, n), pressed: make([]bool, n), clean: make([]bool, n), swabbed: make([]bool, n),
		open: map[int]bool{}, apart: map[int]bool{}, pumped: map[int]bool{}, isolated: map[int]bool{},
		stale: map[int]bool{}, flushed: map[int]bool{}, rinsed: map[int]bool{}, read: map[int]bool{}, tied: tied, old: !tied, wired: tied, on: tied && !h.Rests(), primed: tied, water: tied, upper: tied, hot: true, full: true}
	for i := range h.a.Parts {
		w.fitted[i] = tied || h.a.Parts[i].Kept || h.a.Parts[i].Kind == assembly.Main
	}
	w.settle()
	for _, i := range h.a.Of(assembly.Main) {
		for _, on := range []bool{false, true} {
			w.on = on && tied && !h.Rests()
			w.crossed = w.crossed || tied && r.solve(w) && r.flows(i) > mouthful
		}
	}
	return w
}

func (w *world) fault(format string, args ...any) {
	w.faults = append(w.faults, w.at+": "+fmt.Sprintf(format, args...))
}

func (w *world) tag(i int) string { return w.h.a.Parts[i].Tag }

// settle lets the water come to rest: what presses on a part more than a column that runs out
// is pressed; what stands open to a mouth is not; what is shut in keeps what it had.
func (w *world) settle() {
	if !w.r.solve(w) {
		return
	}
	for i := range w.h.a.Parts {
		switch least, most := w.r.gauge(i); {
		case !w.fitted[i]:
			w.pressed[i] = false
		case least > standing:
			w.pressed[i] = true
		case most <= standing:
			w.pressed[i] = false
		}
		if w.apart[i] && w.pressed[i] {
			w.fault("%s is open, and water presses there", w.tag(i))
		}
	}
	for _, i := range w.h.a.Of(assembly.Pump) {
		if w.on && !w.low && w.r.flows(i) > mouthful && !w.fed(i) {
			w.fault("%s runs dry", w.tag(i))
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
		if part.Kind != assembly.Store {
			w.fault("a hose is put into %s", tag)
		}
		w.water = true
	case Fill:
		w.fill(a.Part)
	case Strip:
		w.strip(a.Part)
	case Empty:
		w.empty(a.Part, a.To)
	case PressIn:
		if a.To != "off" && (!w.capped || w.tied) {
			w.fault("water is pressed in at a street end that is not there")
		}
		w.press = a.To
		if a.To == "off" {
			w.press = ""
		}
	case Dose:
		if !w.water {
			w.fault("%s is dosed while it is empty", tag)
		}
		w.dosed = true
	case Prime:
		if w.on {
			w.fault("%s is opened to fill it with its power on", tag)
		}
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
		w.cut, w.old, w.press = true, false, ""
	case Join:
		if !w.cut {
			w.fault("pipes are joined before the old one is cut")
		}
		w.tied = true
	case Couple:
		if w.old {
			w.fault("the old pipe is coupled and was never cut")
		}
		if w.mainAt(w.h.stop()) {
			w.fault("the old pipe is coupled with the water on")
		}
		w.old, w.tied = true, false
	case SeeZero:
		if w.pressed[a.Part] && !w.isolated[a.Part] {
			l, m := w.r.gauge(a.Part)
			w.fault("%s is to show zero and does not (%.1f to %.1f m)", tag, l, m)
		}
	case TakeOpen:
		if w.pressed[a.Part] || w.on && len(w.h.a.Of(assembly.Pump)) > 0 {
			w.fault("%s is opened under pressure or with the pump's power on", tag)
		}
		w.apart[a.Part] = true
		w.primed = w.primed && part.Kind == assembly.FloatValve
	case PutBack:
		delete(w.apart, a.Part)
	case SeeWater:
		if !w.comes(a.Part, a.To == "dosed") {
			w.fault("no %s water comes to %s", a.To, tag)
		}
		w.clean[a.Part] = w.clean[a.Part] || a.To == "dosed"
		w.turnedOver(a.Part)
		if part.Kind == assembly.FloatValve && w.h.a.Fills(a.Part) == w.h.a.Header() { // filled by now, or washed out
			w.upper, w.dosedUpper = true, a.To == "dosed"
			if len(w.stale) > 0 && !w.stale[w.h.a.Header()] {
				w.fault("%s is filled from a store whose water is old", w.tag(w.h.a.Header()))
			}
		}
	case SeeRuns:
		if !w.runs(a.Part) && !w.weak(a.Part) {
			w.fault("nothing runs at %s", tag)
		}
		w.turnedOver(a.Part)
	case SeeDry:
		if w.runs(a.Part) {
			w.fault("%s runs with every part sound", tag)
		}
	case SeeStop:
		if w.on && !w.low && w.fed(a.Part) {
			w.fault("%s is to stop and water comes to it", tag)
		}
	case SeeStill:
		if !w.crossed {
			w.still(tag)
		}
	case SeeHeld:
		w.held(a.Part)
	case TestPump:
		w.testPump(a)
	case Float:
		w.low = a.To == "low"
	case Isolate:
		if part.Kind != assembly.Isolator {
			w.fault("%s is no valve of a vessel", tag)
		}
		for i := range w.h.a.Parts {
			if w.h.isolator(i) == a.Part { // its drain lets the vessel's water off
				w.isolated[i] = a.To == "shut"
			}
		}
	case Heat:
		w.hot = a.To == "on"
		if w.hot && !w.full {
			w.fault("the heater is switched on empty")
		}
	}
	w.settle()
}

// empty lets a store out by a drain that stands open. What was in it is gone.
func (w *world) empty(store int, how string) {
	comes := false
	for i := range w.open {
		comes = comes || w.runs(i)
	}
	if !comes && how != "out" {
		w.fault("%s is drained and nothing comes", w.tag(store))
	}
	delete(w.stale, store)
	if store == w.h.a.Header() {
		w.upper, w.dosedUpper = false, false
		return
	}
	w.water, w.dosed = false, false
}

// fill lets the main into an empty store by its float valve, which hangs down by itself.
func (w *world) fill(float int) {
	w.open[float] = true
	if w.water && len(w.stale) == 0 || !w.runs(float) && !w.weak(float) {
		w.fault("nothing fills by %s", w.tag(float))
	}
	delete(w.open, float)
	w.water = true
}

// turnedOver notes what fresh water has run through: a tap, cold and later hot, and a pump.
func (w *world) turnedOver(tap int) {
	if len(w.stale) > 0 {
		return
	}
	w.flushed[tap] = w.flushed[tap] || !w.hot
	w.rinsed[tap] = w.flushed[tap] && w.hot
	if main := w.p.reach(w.p.ports(assembly.Main), forward); w.h.a.LockOut() != nil && touches(w.h.a, main, tap) {
		return // the main holds the pump off
	}
	for _, i := range w.h.a.Of(assembly.Pump) {
		w.flushed[i] = w.flushed[i] || w.r.flows(i) > mouthful
	}
}

// strip reads chlorine in a store with water in it or at a tap that runs.
func (w *world) strip(part int) {
	if w.h.a.Parts[part].Kind != assembly.Store && !w.runs(part) {
		w.fault("a strip is held under %s, which does not run", w.tag(part))
	}
	w.read[part] = len(w.stale) == 0 || w.h.a.Parts[part].Kind == assembly.Store
}

// still requires that nothing flows anywhere.
func (w *world) still(tag string) {
	if !w.r.solve(w) {
		return
	}
	w.asked++
	for e, q := range w.r.s.Answer.Flow {
		if math.Abs(q) > mouthful {
			w.fault("%s is to show that nothing flows, and %s does", tag, w.r.c.Net.Elements()[e].Name)
			return
		}
	}
}

// held requires that what is pumped in there stays: the highest head that could stand there
// is not bounded by any open way out.
func (w *world) held(part int) {
	if !w.r.solve(w) {
		return
	}
	w.asked++
	if _, most := w.r.gauge(part); !math.IsInf(most, 1) {
		w.fault("%s is under test and its water gets out", w.tag(part))
	}
}

func (w *world) testPump(a Act) {
	if a.Part < 0 {
		return
	}
	if w.h.a.Parts[a.Part].Kind != assembly.Drain || !w.open[a.Part] {
		w.fault("a test pump is joined to %s, which is no open drain", w.tag(a.Part))
	}
	if a.To == "pressed" { // the drain leads into the pump, not into the air
		w.pumped[a.Part] = true
	} else {
		delete(w.pumped, a.Part)
	}
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
		if w.atWork(i) && !w.fed(i) {
			w.fault("%s is switched on and no water comes to it", w.tag(i))
		}
	}
}

// atWork reports whether no valve of its own shuts a pump off: of several that take turns one
// may stand aside.
func (w *world) atWork(pump int) bool {
	o := w.h.outlet(pump)
	return w.fitted[pump] && (o < 0 || w.p.at[w.tag(o)] != "shut")
}

// fed reports whether water stands at a pump's inlet that comes from somewhere: its head is
// one number, and no more than eight metres under the pump.
func (w *world) fed(pump int) bool {
	on := w.on
	w.on = false
	defer func() { w.on = on }()
	if !w.r.solve(w) {
		return false
	}
	w.asked++
	low, _ := w.r.s.Between(pump, 0)
	yes := low-float64(w.h.a.Parts[pump].Ports[0].Z) > -8
	if walk := w.walked(); yes && !walk.has(assembly.End{Part: pump, Port: 0}) {
		w.fault("solved, water stands at %s; walked, none comes there", w.tag(pump))
	}
	return yes
}

// runs reports whether water runs at a part: at a mouth that is open, through any other.
func (w *world) runs(part int) bool {
	if !w.r.solve(w) {
		return false
	}
	w.asked++
	yes := w.r.flows(part) > mouthful
	if yes && !touches(w.h.a, w.walked(), part) {
		w.fault("solved, water runs at %s; walked, none comes there", w.tag(part))
	}
	return yes
}

// weak reports whether the main at rest cannot lift water to a mouth: the home's own fault,
// which no order of hands mends.
func (w *world) weak(part int) bool {
	z := float64(w.h.a.Parts[part].Ports[0].Z)
	return part >= 0 && w.h.a.Parts[part].Kind == assembly.FloatValve && circuit.HeadOf(w.r.main, w.r.gaugeAt) < z+0.5
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
	if part.Kind == assembly.Spool && w.pressed[a.Part] {
		w.fault("%s is turned while water presses on it", part.Tag)
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

// comes reports whether water comes to a part, its mouth or the home's ends open: dosed water
// and nothing else, where it is to be dosed.
func (w *world) comes(part int, dosed bool) bool {
	for _, more := range w.mouths(part) {
		if !w.r.solve(w, more...) {
			return false
		}
		w.asked++
		got := w.r.dosed(w)
		if dosed && !got[part] || !dosed && w.r.flows(part) <= trickle {
			continue
		}
		if !touches(w.h.a, w.walked(), part) {
			w.fault("solved, water comes to %s; walked, none does", w.tag(part))
		}
		for i, yes := range got {
			w.clean[i] = w.clean[i] || dosed && yes
		}
		return true
	}
	return false
}

// mouths are what is opened, one after the other, to draw water through a part.
func (w *world) mouths(part int) [][]int {
	switch w.h.a.Parts[part].Kind {
	case assembly.Outlet, assembly.Drain:
		return [][]int{{part}}
	}
	list := [][]int{nil}
	for _, k := range []assembly.Kind{assembly.Outlet, assembly.Drain, assembly.FloatValve} {
		for _, i := range w.h.a.Of(k) {
			if w.fitted[i] {
				list = append(list, []int{i})
			}
		}
	}
	return list
}

// wash marks what dosed water passes with every end, drain and tap opened in turn.
func (w *world) wash() {
	if !w.dosed && w.press != "dosed" {
		return
	}
	for i := range w.h.a.Parts {
		if k := w.h.a.Parts[i].Kind; k != assembly.Outlet && k != assembly.Drain || !w.fitted[i] {
			continue
		}
		if !w.r.solve(w, i) {
			return
		}
		for k, yes := range w.r.dosed(w) {
			w.clean[k] = w.clean[k] || yes
		}
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

// asUsual requires that a list leaves the home as it found it.
func (w *world) asUsual(id string) {
	w.at = id + ", at the end"
	if pumps := len(w.h.a.Of(assembly.Pump)) > 0; pumps && w.on == w.h.Rests() || len(w.apart) > 0 || len(w.open) > 0 || w.low {
		w.fault("pump on %v, parts open %d, mouths open %d", w.on, len(w.apart), len(w.open))
	}
	for tag, at := range w.h.p.at {
		if w.p.at[tag] != at {
			w.fault("%s is left %s, normal is %s", tag, w.p.at[tag], at)
		}
	}
}

// replayBuild follows the order of build with the sheets it sends people to in between.
func replayBuild(h *Home, r *rig, f Facts) *world {
	w := newWorld(h, r, false)
	flush, disinfect := h.Flush(), h.Disinfect()
	for _, l := range h.Build(f) {
		for _, s := range l.Steps {
			w.at = l.ID + "." + s.ID
			for _, a := range s.Acts {
				w.do(a)
			}
			w.wash()
			switch {
			case l.ID == "build.prove" && s.ID == "pressure":
				for _, section := range Sections(h.a) {
					w.follow(h.Pressure(section, true))
				}
			case l.ID == "build.prove" && s.ID == "flush":
				w.follow(flush[0])
				w.free()
			case l.ID == "build.prove" && s.ID == "disinfect":
				w.follow(disinfect[0])
				w.free()
			case l.ID == "build.tie" && s.ID == "cut" && (w.on || w.tied):
				w.fault("the pump is on at the cut")
			case l.ID == "build.tie" && (s.ID == "cut" || s.ID == "join"):
				w.backOut()
			}
		}
	}
	w.at = "at the end"
	if !w.tied || len(w.apart) > 0 || len(w.open) > 0 || w.on == h.Rests() && h.pumped() {
		w.fault("tied in %v, parts left open %d, mouths left open %d, pump on %v", w.tied, len(w.apart), len(w.open), w.on)
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
	return w
}

// backOut follows the way back from where the work has got to, in a world of its own.
func (w *world) backOut() {
	b := *w
	b.fitted, b.pressed, b.open, b.apart = slices.Clone(w.fitted), slices.Clone(w.pressed), maps.Clone(w.open), maps.Clone(w.apart)
	b.follow(w.h.BackOut())
	if !b.old || b.tied || b.mainAt(w.h.stop()) == false && len(w.h.stop()) > 0 {
		b.fault("backed out: old pipe whole %v, new one joined %v", b.old, b.tied)
	}
	w.faults = append(w.faults, b.faults[len(w.faults):]...)
	w.settle()
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

// replayLater follows what is done in a home that is joined and in use, each list from the
// normal setting.
func replayLater(h *Home, r *rig) (faults []string, asked int) {
	try := func(l List, usual bool) *world {
		w := newWorld(h, r, true)
		w.follow(l)
		if usual {
			w.asUsual(l.ID)
		}
		faults, asked = append(faults, w.faults...), asked+w.asked
		return w
	}
	repair := h.Repair()
	try(repair, len(repair.Steps) > 0 && repair.Steps[len(repair.Steps)-1].ID != "none")
	w := newWorld(h, r, true)
	w.follow(h.Frost().List)
	w.drained(h.Frost().Full)
	w.follow(h.Thaw())
	w.asUsual("card.thaw")
	faults, asked = append(faults, w.faults...), asked+w.asked
	for _, l := range h.Trials() {
		try(l, true)
	}
	for _, l := range h.Chores() {
		if l.ID != "bad-water" {
			try(l, l.Steps[0].ID != "none")
		}
	}
	away := returned(h, r)
	faults, asked = append(faults, away.faults...), asked+away.asked
	if h.stored() {
		w := try(h.BadWater(), true)
		faults = append(faults, w.made()...)
	}
	return faults, asked
}

// returned leaves a home for weeks and follows the way back: at its end no store holds old
// water, every tap that gives water was run since then, cold and with the heater hot, and
// chlorine was read in the stores and at every tap.
func returned(h *Home, r *rig) *world { return returnedBy(h, r, h.Return()) }

func returnedBy(h *Home, r *rig, l List) *world {
	w := newWorld(h, r, true)
	w.follow(List{"away", []Step{{"leave", Alone, with(alone(Heat, "off"), h.Away())}}})
	for _, i := range h.a.Of(assembly.Store) {
		w.stale[i] = true
	}
	w.follow(l)
	w.asUsual(l.ID)
	for i := range w.stale {
		w.fault("%s holds its old water", w.tag(i))
	}
	if !w.hot {
		w.fault("the heater is left cold")
	}
	for _, i := range h.a.Of(assembly.Store) {
		if i != h.a.Header() && !w.read[i] {
			w.fault("no strip was held into %s", w.tag(i))
		}
	}
	if pumps := h.a.Of(assembly.Pump); len(pumps) > 0 && len(h.living()) > 0 && !slices.ContainsFunc(pumps, func(i int) bool { return w.flushed[i] }) {
		w.fault("no fresh water ran through %s", w.tag(pumps[0]))
	}
	for _, i := range h.living() {
		if !w.flushed[i] || !w.rinsed[i] || !w.read[i] {
			w.fault("%s: run cold %v, run hot %v, chlorine read %v", w.tag(i), w.flushed[i], w.rinsed[i], w.read[i])
		}
	}
	return w
}

// TestReturnCanFail: a way back that leaves a step out is found out.
func TestReturnCanFail(t *testing.T) {
	jobs := exampleJobs(t)
	for _, name := range []string{"kestrel-rise", "osprey-house"} {
		h := For(built(t, jobs[name]))
		for _, step := range h.Return().Steps {
			if len(step.Acts) == 0 {
				continue
			}
			l := h.Return()
			l.Steps = slices.DeleteFunc(l.Steps, func(s Step) bool { return s.ID == step.ID })
			if w := returnedBy(h, newRig(t, h.a, jobs[name]), l); len(w.faults) == 0 {
				t.Errorf("%s: without %q nothing is found", name, step.ID)
			}
		}
	}
}

// springs is the most water that a spring in a non-return valve may hold up. [m]
const springs = 0.6

// drained requires of a home emptied for a frost that nothing flows, and that water can stand
// in no part that is not named as full: solved, with every tap and drain open, no head at a
// part's lowest port is higher than the port.
func (w *world) drained(full []int) {
	w.at = "card.frost, drained"
	if w.crossed || w.h.setting(assembly.Drained) == nil {
		return
	}
	for _, i := range w.h.a.Of(assembly.Outlet) {
		if w.h.a.Parts[i].Under {
			delete(w.open, i) // the sheet has its hose taken off: what that lay in cannot run back
		}
	}
	w.still("the street")
	if !w.r.solve(w) {
		return
	}
	for i := range w.h.a.Parts {
		part := &w.h.a.Parts[i]
		switch part.Kind {
		case assembly.Run, assembly.Strainer, assembly.NonReturn, assembly.Heater:
		default:
			continue
		}
		low := 0
		for n := range part.Ports {
			if part.Ports[n].Z < part.Ports[low].Z {
				low = n
			}
		}
		_, high := w.r.s.Between(i, low)
		if over := high - float64(part.Ports[low].Z); over > springs && !slices.Contains(full, i) {
			w.fault("%s may hold %.1f m of water and is not named", part.Tag, over)
		}
	}
}

// made requires of bad water made good that chlorine came to all that held it, and that what
// is in the stores at the end is neither it nor the dose.
func (w *world) made() (faults []string) {
	apart := w.p.laid(w.h.apart())
	held := apart.reach(w.p.ports(assembly.Store), forward)
	dry := w.dry(apart)
	if slices.ContainsFunc(w.h.BadWater().Steps, func(s Step) bool { return s.ID == "draw-none" }) {
		return nil // the sheet says that the pipe is the fitter's
	}
	for i := range w.h.a.Parts {
		k := w.h.a.Parts[i].Kind
		if w.crossed || dry[i] {
			continue
		}
		if k == assembly.HandValve && apart.at[w.tag(i)] == "shut" && !held.has(assembly.End{Part: i, Port: 0}) != !held.has(assembly.End{Part: i, Port: 1}) {
			continue // a dead end against a shut valve: nothing can be drawn through it
		}
		if behind := k == assembly.NonReturn && !held.has(assembly.End{Part: i, Port: 0}); touches(w.h.a, held, i) && !behind && !w.clean[i] {
			faults = append(faults, "bad water: no chlorine came to "+w.tag(i))
		}
	}
	if w.dosed || w.dosedUpper || !w.water {
		faults = append(faults, "bad water: what is in the store is not fresh")
	}
	return faults
}

// dry are the outlets higher than the store's water ever comes, and the pipe that leads to each
// and to nothing else: they never had its water.
func (w *world) dry(at *plumb) map[int]bool {
	list, served := map[int]bool{}, w.h.served(at)
	for _, o := range w.h.a.Of(assembly.Outlet) {
		if slices.Contains(served, o) {
			continue
		}
		list[o] = true
		for m := at.mate[at.first[o]]; m.Part >= 0 && len(w.h.a.Parts[m.Part].Ports) == 2; m = at.mate[at.first[m.Part]+1-m.Port] {
			list[m.Part] = true
		}
	}
	return list
}

// TestEverySheetCanBeDone replays every list of the examples and of Kestrel Rise in every
// arrangement.
func TestEverySheetCanBeDone(t *testing.T) {
	for name, j := range exampleJobs(t) {
		a := built(t, j)
		h, r := For(a), newRig(t, a, j)
		w := replayBuild(h, r, Facts{Split: split(a)})
		later, asked := replayLater(h, r)
		for _, f := range append(w.faults, later...) {
			t.Errorf("%s: %s", name, f)
		}
		if w.asked+asked < 10 {
			t.Errorf("%s: the solver was asked %d times", name, w.asked+asked)
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
	count := 20
	if n, err := strconv.Atoi(os.Getenv("TIDEOVER_HOMES")); err == nil {
		count = n
	}
	homes.Each(t, 14, count, func(t *testing.T, home homes.Home) {
		doc := home.Doc(t)
		rows, profile := demo.Rows(t, doc.Job.Profile)
		a, err := assembly.Build(doc.Job, rows, profile)
		if err != nil || len(a.Settings) == 0 {
			return
		}
		h, r := For(a), newRig(t, a, doc.Job)
		w := replayBuild(h, r, Facts{Split: split(a)})
		later, _ := replayLater(h, r)
		for _, f := range append(w.faults, later...) {
			t.Errorf("%s: %s", a.Arrangement, f)
		}
	})
}
