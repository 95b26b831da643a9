package proof

import (
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/circuit"
	"tideover/internal/homes"
	"tideover/internal/procedure"
)

// TestSheetsTurnSafely: every change of handles that a sheet tells is walked handle by handle in
// the order told, with nothing failed and with each non-return valve left out. Between two
// halts, where somebody reads or opens something, no standing breaks a safety promise that
// neither halt breaks; and no halt breaks one that the home breaks in none of its settings.
func TestSheetsTurnSafely(t *testing.T) {
	t.Parallel()
	judged := 0
	try := func(name string, in Input) {
		for failed := range len(checksOf(in)) + 1 {
			w := walkSheets(t, in, failed, nil)
			judged += w.between
			for _, f := range w.faults {
				t.Errorf("%s, check %d left out: %s", name, failed, f)
			}
		}
	}
	for _, name := range []string{"juniper-flat", "lantern-row", "osprey-house", "kestrel-rise"} {
		try(name, laid(t, name, "", nil))
	}
	for _, arrangement := range assembly.Arrangements() {
		if arrangement != "free" {
			try("kestrel "+arrangement, laid(t, "kestrel-rise", arrangement, nil))
		}
	}
	if judged < 500 {
		t.Errorf("only %d standings between were judged", judged)
	}
}

// TestSheetsTurnCanFail: where both ways into the home are open and the changeover is turned by
// hand, taken as dangerous, an order that opens before it shuts is found, and the one told is not.
func TestSheetsTurnCanFail(t *testing.T) {
	t.Parallel()
	in := laid(t, "kestrel-rise", assembly.HandByPass, nil)
	for _, backwards := range []bool{false, true} {
		w := walkSheets(t, in, 0, func(w *sheetWalk) {
			w.backwards, w.danger = backwards, func(s standing) bool {
				open := 0
				for h, at := range s.at {
					p := w.p.s.Hands[h]
					switch in.Assembly.Parts[p.Part].Purpose {
					case assembly.AsByPassMain, assembly.AsPumpValve:
						if p.Positions[at] == "open" {
							open++
						}
					}
				}
				return open > 1
			}
		})
		found := slices.ContainsFunc(w.faults, func(f string) bool { return strings.HasSuffix(f, "on the way") })
		if found != backwards {
			t.Errorf("backwards %v: found %v", backwards, w.faults)
		}
	}
}

// TestRandomSheetsTurnSafely is the same in homes drawn at random.
func TestRandomSheetsTurnSafely(t *testing.T) {
	t.Parallel()
	count := 10
	if n, err := strconv.Atoi(os.Getenv("TIDEOVER_HOMES")); err == nil {
		count = n
	}
	homes.Each(t, 14, count, func(t *testing.T, home homes.Home) {
		in := homeOf(t, home)
		for _, f := range walkSheets(t, in, 0, nil).faults {
			t.Errorf("%s: %s", in.Assembly.Arrangement, f)
		}
	})
}

// walkSheets walks every list of a home, with a non-return valve left out or none.
func walkSheets(t *testing.T, in Input, failed int, edit func(*sheetWalk)) *sheetWalk {
	t.Helper()
	in.Circuit.Mishaps = checksOf(in)
	s, err := NewSpace(&in)
	if err != nil {
		t.Fatal(err)
	}
	p := &planner{s: s, water: newWater(s, newMemo()), pumped: in.Circuit.Pump() >= 0}
	for _, promise := range in.promises() {
		if about := promise.About(); about.Safety && about.Spread == EveryCase {
			p.safety = append(p.safety, promise)
		}
	}
	h := procedure.For(in.Assembly)
	w := &sheetWalk{p: p, failed: failed, hand: map[int]int{}, known: map[uint64]uint64{}}
	for i := range s.Hands {
		w.hand[s.Hands[i].Part] = i
	}
	if edit != nil {
		edit(w)
	}
	usual := standing{at: slices.Clone(s.Named[0].Position)}
	if p.pumped && h.Rests() {
		usual.guard = Unplugged
	}
	lists := append(h.Trials(), h.Chores()...)
	lists = append(lists, h.Repair(), h.Frost().List, h.BadWater())
	for _, l := range lists {
		w.follow(usual, l)
	}
	away := procedure.List{ID: "away", Steps: []procedure.Step{{ID: "leave", Acts: h.Away()}}}
	w.follow(w.follow(usual, away), h.Return())
	w.follow(w.follow(usual, h.Frost().List), h.Thaw())
	return w
}

// checksOf are the non-return valves of a home, each left out.
func checksOf(in Input) []circuit.Mishap {
	var list []circuit.Mishap
	for _, m := range in.Circuit.Mishaps {
		if m.ID == "check-left-out" {
			list = append(list, m)
		}
	}
	return list
}

// sheetWalk is somebody who turns handles as a sheet says.
type sheetWalk struct {
	p         *planner
	hand      map[int]int // number of a part's handle among the hands
	known     map[uint64]uint64
	backwards bool                // the handles of each halt are turned in the other order
	danger    func(standing) bool // taken as dangerous beside
	failed    int                 // 0: nothing, else a non-return valve that is left out
	between   int                 // standings between two halts
	faults    []string
}

func (w *sheetWalk) fault(format string, args ...any) {
	w.faults = append(w.faults, fmt.Sprintf(format, args...))
}

func (w *sheetWalk) harm(s standing) uint64 {
	key := w.p.key(s)
	if broken, been := w.known[key]; been {
		return broken
	}
	w.known[key] = 0
	for k := range w.p.safety {
		if w.p.breaksWith(k, s, w.failed) {
			w.known[key] |= 1 << k
		}
	}
	if w.danger != nil && w.danger(s) {
		w.known[key] |= 1 << len(w.p.safety)
	}
	return w.known[key]
}

// follow walks a list from a standing and returns where it ends.
func (w *sheetWalk) follow(at standing, l procedure.List) standing {
	open, turns := map[int]bool{}, []procedure.Act(nil)
	for _, step := range l.Steps {
		for _, a := range step.Acts {
			if _, hand := w.hand[a.Part]; hand && a.Do == procedure.Handle {
				turns = append(turns, a)
				continue
			}
			at = w.turn(l.ID+"."+step.ID, at, turns)
			turns = nil
			switch {
			case a.Do == procedure.Handle && (a.To == "open" || a.To == "down"):
				open[a.Part] = true
			case a.Do == procedure.Handle:
				delete(open, a.Part)
			case a.Do == procedure.Switch && a.To == "off":
				at.guard |= Unplugged
			case a.Do == procedure.Switch:
				at.guard &^= Unplugged
			}
			if at.guard &^= TapsShut; len(open) == 0 { // the sheets say that no tap runs while a handle is turned
				at.guard |= TapsShut
			}
			w.halt(l.ID+"."+step.ID, at)
		}
	}
	return w.turn(l.ID, at, turns)
}

// turn turns some handles one after the other, each through its middle, and judges what stands
// between.
func (w *sheetWalk) turn(step string, from standing, turns []procedure.Act) standing {
	turns = slices.Clone(turns)
	if w.backwards {
		slices.Reverse(turns)
	}
	at, way := from, []standing(nil)
	for _, a := range turns {
		h := w.hand[a.Part]
		for to := w.p.s.Hands[h].at(a.To); at.at[h] != to; way = append(way, at) {
			at.at = slices.Clone(at.at)
			if at.at[h]++; to < at.at[h]-1 {
				at.at[h] -= 2
			}
		}
	}
	excused := w.harm(from) | w.harm(at)
	for _, s := range way[:max(0, len(way)-1)] {
		w.between++
		if bad := w.harm(s) &^ excused; bad != 0 {
			w.fault("%s: %s breaks %v on the way", step, w.p.s.TellSetting(s.at), w.promises(bad))
		}
	}
	w.halt(step, at)
	return at
}

// halt judges a standing in which somebody stops to read or to open something.
func (w *sheetWalk) halt(step string, at standing) {
	own := uint64(0)
	for i := range w.p.s.Named {
		own |= w.harm(standing{at: w.p.s.Named[i].Position})
	}
	if bad := w.harm(at) &^ own; bad != 0 {
		w.fault("%s: a halt with %s breaks %v, which no setting does", step, w.p.s.TellSetting(at.at), w.promises(bad))
	}
}

func (w *sheetWalk) promises(bits uint64) []string {
	var list []string
	for k := range w.p.safety {
		if bits>>k&1 != 0 {
			list = append(list, w.p.safety[k].About().ID)
		}
	}
	return list
}
