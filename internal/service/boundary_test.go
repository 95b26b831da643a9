package service

import (
	"math"
	"slices"
	"strings"
	"testing"

	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// judge plans, solves and judges a changed example and returns one finding by id, place
// and mode.
func judge(t testing.TB, s *example, j *job.Job, id, where, mode string) (finding.Finding, []finding.Finding) {
	t.Helper()
	c := *s
	c.job = j
	c.build(t)
	list := Findings(nil, c.analyse(t, false), Context{c.job, c.plan, c.cat, c.profile, false})
	for _, f := range list {
		if f.ID == id && (where == "" || f.Where == where) && (mode == "" || f.Mode == mode) {
			return f, list
		}
	}
	t.Fatalf("no finding %s at %q in mode %q", id, where, mode)
	return finding.Finding{}, nil
}

// sweep is one figure of a job moved until a verdict flips.
type sweep struct {
	id, where, mode string
	site            string
	prepare         func(*job.Job)
	path            string
	from, to        float64 // SI
	was, is         finding.Verdict
	share           float64 // of the limit, at which fine ends; 0 is 1
	counted         bool    // the figure is a count and jumps
}

var sweeps = []sweep{
	{id: "outlet-flow", where: "kitchen", mode: "on-main", path: "outlets.kitchen.distance", from: 5, to: 400, was: finding.Fine, is: finding.LookAt},
	{id: "outlet-flow", where: "kitchen", mode: "on-store", path: "outlets.kitchen.distance", from: 100, to: 500, was: finding.Fine, is: finding.LookAt},
	{id: "outlet-flow", where: "wc-up", mode: "on-main", path: "outlets.wc-up.height", from: 15, to: 25, was: finding.Fine, is: finding.LookAt},
	{id: "outlet-flow", where: "wc-up", mode: "on-store", path: "outlets.wc-up.height", from: 24, to: 35, was: finding.LookAt, is: finding.MustFix},
	{id: "outlet-pressure", where: "kitchen", mode: "on-main", path: "outlets.kitchen.height", from: 0.5, to: 4, was: finding.Fine, is: finding.LookAt},
	{id: "outlet-together", where: "shower-up", mode: "on-store", path: "outlets.shower-up.height", from: 6, to: 25, was: finding.Fine, is: finding.LookAt},
	{id: "outlet-peak", where: "wc-up", path: "outlets.wc-up.height", from: 15, to: 25, was: finding.Fine, is: finding.LookAt},
	{id: "outlet-peak", where: "wc-up", path: "outlets.wc-up.height", from: 24, to: 35, was: finding.LookAt, is: finding.MustFix},
	{id: "peak-by-hand", path: "supply.peak.pressure", from: 3.2e5, to: 1e5, prepare: smallGarden, was: finding.Fine, is: finding.LookAt, counted: true},
	{id: "power-out", mode: "power-out", path: "supply.static", from: 3.2e5, to: 1.5e5, prepare: noTest, was: finding.Fine, is: finding.LookAt, counted: true},
	{id: "pump-duty", path: "choices.pump.cut-out", from: 2.8e5, to: 4.3e5, was: finding.Fine, is: finding.LookAt},
	{id: "pump-start", path: "choices.pump.cut-in", from: 2.4e5, to: 0.2e5, was: finding.Fine, is: finding.MustFix},
	{id: "pump-stop", path: "choices.pump.cut-out", from: 2.8e5, to: 4.2e5, was: finding.Fine, is: finding.LookAt},
	{id: "pump-stop", path: "choices.pump.cut-out", from: 4.1e5, to: 4.6e5, was: finding.LookAt, is: finding.MustFix},
	{id: "npsh", path: "pipework.store-to-pump", from: 2, to: 250, was: finding.Fine, is: finding.LookAt},
	{id: "npsh", path: "choices.pump.level", from: 14.5, to: 16, was: finding.LookAt, is: finding.MustFix},
	{id: "swing", path: "choices.pump.cut-in", from: 2.4e5, to: 0.7e5, was: finding.Fine, is: finding.LookAt},
	{id: "starts", site: "juniper-flat", path: "choices.pump.cut-out", from: 3.9e5, to: 2.2e5, was: finding.Fine, is: finding.LookAt},
	{id: "velocity", where: "R6", path: "outlets.garden.distance", from: 40, to: 8, was: finding.Fine, is: finding.LookAt},
	{id: "rest-pressure", where: "V1", path: "supply.night-maximum", from: 4e5, to: 12e5, was: finding.Fine, is: finding.MustFix},
	{id: "rest-outlet", where: "kitchen", path: "supply.night-maximum", from: 4e5, to: 9e5, was: finding.Fine, is: finding.LookAt},
	{id: "heater-rating", path: "home.heater.rating", from: 6e5, to: 4.6e5, was: finding.Fine, is: finding.LookAt, share: 0.9},
	{id: "heater-rating", path: "home.heater.rating", from: 4.6e5, to: 4e5, was: finding.LookAt, is: finding.MustFix},
	{id: "heater-flow", mode: "on-store", path: "outlets.shower-up.height", from: 6, to: 28, prepare: gasShower, was: finding.Fine, is: finding.LookAt},
	{id: "heater-swing", path: "choices.pump.cut-in", from: 2.4e5, to: 1.2e5, prepare: switchedGas, was: finding.Fine, is: finding.LookAt},
	{id: "refill", mode: "refill-peak", path: "supply.peak.pressure", from: 3e5, to: 0.8e5, was: finding.Fine, is: finding.LookAt},
	{id: "refill", mode: "refill-usual", path: "supply.night-maximum", from: 1.3e5, to: 0.3e5, prepare: weakMain, was: finding.LookAt, is: finding.MustFix},
	{id: "refill-time", path: "pipework.tee-to-store", from: 6, to: 5000, prepare: oftenOff, was: finding.Fine, is: finding.LookAt},
	{id: "refill-slots", path: "home.use", from: 0.05, to: 0.9, prepare: rationed, was: finding.Fine, is: finding.LookAt},
	{id: "refill-slots", path: "home.use", from: 0.8, to: 1.9, prepare: rationed, was: finding.LookAt, is: finding.MustFix},
	{id: "refill-takes-main", path: "choices.lock-out.low", from: 0.2e5, to: 1.2e5, was: finding.Fine, is: finding.LookAt},
	{id: "hunting", path: "choices.lock-out.low", from: 0.2e5, to: 1.2e5, was: finding.Fine, is: finding.LookAt},
}

func byHand(j *job.Job) { j.Choices.Arrangement = "three-way" }

// gasShower is a gas heater that only the shower upstairs draws on.
func gasShower(j *job.Job) {
	j.Home.Heater, j.Home.Vent = "instant-gas", "no"
	for i := range j.Outlets {
		if j.Outlets[i].Tag != "shower-up" {
			j.Outlets[i].Water = "cold"
		}
	}
}

// switchedGas is a gas heater behind a pump on a pressure switch.
func switchedGas(j *job.Job) {
	j.Home.Heater, j.Home.Vent, j.Choices.Control = "instant-gas", "no", "pressure-switch"
}

// rationed is a main that runs every second day.
func rationed(j *job.Job) {
	j.Interruptions.Habit, j.Interruptions.Timetable = nil, []job.Slot{{From: 360, To: 720, Cycle: 2 * 24 * 60}}
}

// smallGarden is a hand changeover without the garden tap, which the main never serves.
func smallGarden(j *job.Job) {
	byHand(j)
	j.Outlets = slices.DeleteFunc(j.Outlets, func(o job.Outlet) bool { return o.Tag == "garden" })
}

func noTest(j *job.Job) { j.Supply.LowFlow.V, j.Supply.HighFlow.V = 0, 0 }

// weakMain is a main that never climbs to the store.
func weakMain(j *job.Job) {
	noTest(j)
	j.Supply.Static.V, j.Supply.PeakRes.V = 0.6e5, 0.5e5
}

// oftenOff leaves three hours between interruptions.
func oftenOff(j *job.Job) {
	j.Interruptions.Habit = []job.Spell{{PerYear: 365.25, Least: 20 * 3600, Most: 22 * 3600}}
}

// Each verdict flips at one value of the figure moved: two jobs that differ by a
// millionth part stand on either side of it, the one just fine and the one just not.
func TestBoundaries(t *testing.T) {
	kestrel, juniper := readSite(t, "kestrel-rise", nil), readSite(t, "juniper-flat", nil)
	for _, w := range sweeps {
		t.Run(w.id+" "+w.where+" "+w.mode+" "+w.path, func(t *testing.T) {
			s := kestrel
			if w.site != "" {
				s = juniper
			}
			base := s.job.Clone()
			if w.prepare != nil {
				w.prepare(base)
			}
			at := func(x float64) finding.Finding {
				j, err := base.With(w.path, x)
				if err != nil {
					t.Fatal(err)
				}
				f, _ := judge(t, &s, j, w.id, w.where, w.mode)
				return f
			}
			from, to := w.from, w.to
			if got := at(from).Verdict; got != w.was {
				t.Fatalf("at %g: %s, want %s (figure %g, limit %g)", from, got.ID(), w.was.ID(), at(from).Figure.SI, at(from).Limit.SI)
			}
			if got := at(to).Verdict; got != w.is && w.is != finding.LookAt {
				t.Fatalf("at %g: %s, want %s (figure %g, limit %g)", to, got.ID(), w.is.ID(), at(to).Figure.SI, at(to).Limit.SI)
			}
			for math.Abs(to-from) > 1e-6*math.Max(math.Abs(to), math.Abs(from)) {
				if mid := (from + to) / 2; at(mid).Verdict == w.was {
					from = mid
				} else {
					to = mid
				}
			}
			if just := at(to); just.Verdict != w.is && w.is == finding.LookAt {
				t.Errorf("just beyond %g: %s, want %s", to, just.Verdict.ID(), w.is.ID())
			}
			share := w.share
			if share == 0 {
				share = 1
			}
			if f := at(to); w.was == finding.Fine && !w.counted && f.Sense != finding.NoLimit && f.Limit.Dim != quantity.NoDim &&
				math.Abs(f.Figure.SI-share*f.Limit.SI) > 1e-4*math.Max(math.Abs(f.Limit.SI), math.Abs(f.Figure.SI)) {
				t.Errorf("at %g it is no longer fine: %g against %g", to, f.Figure.SI, f.Limit.SI)
			}
		})
	}
}

// Every verdict of every kind this package makes is come to by some job, and its
// sentence has every place filled, in both unit systems.
func TestEveryVerdictIsReachedAndSaid(t *testing.T) {
	seen := map[string]bool{}
	look := func(list []finding.Finding) {
		for i := range list {
			f := &list[i]
			seen[f.ID+"."+f.Verdict.ID()] = true
			if !finding.KindOf(f.ID).May(f.Verdict) {
				t.Errorf("%s came to %s, which its kind does not list", f.ID, f.Verdict.ID())
			}
			title, sentence := finding.Text(f, 0)
			if strings.ContainsAny(title+sentence, "‹›{}") {
				t.Errorf("%s %s: %s: %s", f.ID, f.Verdict.ID(), title, sentence)
			}
		}
	}
	for _, w := range sweeps {
		name := "kestrel-rise"
		if w.site != "" {
			name = w.site
		}
		s := readSite(t, name, w.prepare)
		for _, x := range []float64{w.from, w.to, (w.from + 3*w.to) / 4} {
			j, err := s.job.With(w.path, x)
			if err != nil {
				t.Fatal(err)
			}
			_, list := judge(t, &s, j, w.id, "", "")
			look(list)
		}
	}
	for _, s := range oddSites(t) {
		list := Findings(nil, s.analyse(t, true), Context{s.job, s.plan, s.cat, s.profile, false})
		look(list)
	}
	failed := Findings(nil, &Result{
		Failed: []Failure{{"on-main", "kitchen", "descent stopped"}},
		Rests:  []Rest{{Part: "V1", Rated: true, Rating: 1e6}},
	},
		Context{&job.Job{}, readSite(t, "kestrel-rise", nil).plan, nil, nil, false})
	look(failed)
	for _, k := range finding.Kinds() {
		for _, v := range k.Verdicts {
			if ours[k.ID] && !seen[k.ID+"."+v.ID()] {
				t.Errorf("no job of this test comes to %s.%s", k.ID, v.ID())
			}
		}
	}
}

// ours are the kinds this package makes.
var ours = map[string]bool{
	"outlet-flow": true, "outlet-pressure": true, "outlet-together": true, "outlet-peak": true, "main-alone": true, "cut-out-trips": true, "peak-by-hand": true, "power-out": true,
	"pump-duty": true, "pump-start": true, "pump-stop": true, "npsh": true, "swing": true, "starts": true, "velocity": true,
	"rest-pressure": true, "rest-outlet": true, "heater-rating": true, "vented-heater-boosted": true,
	"refill": true, "refill-time": true, "refill-takes-main": true, "hunting": true, "flow-test": true, "circuit-undetermined": true,
}

// oddSites are jobs with blank rules, blank fields and odd parts.
func oddSites(t testing.TB) []example {
	blank := readSite(t, "kestrel-rise", func(j *job.Job) {
		j.Interruptions.Habit = nil
		noTest(j)
	})
	clear(blank.profile.Rules)
	pump := blank.cat.Pumps["multistage-0.75"]
	pump.Starts, pump.NPSH = 0, 0
	blank.cat.Pumps["multistage-0.75"] = pump
	blank.build(t)

	split := readSite(t, "kestrel-rise", func(j *job.Job) { j.Choices.Arrangement = "kitchen-on-main" })
	vented := readSite(t, "kestrel-rise", func(j *job.Job) { j.Home.Heater = "solar-vented" })
	crowded := readSite(t, "kestrel-rise", func(j *job.Job) { j.Home.People.V = 11 })

	unrated := readSite(t, "juniper-flat", func(j *job.Job) { j.Home.Rating.V = 0 })
	row := unrated.cat.Heaters["storage-pressure"]
	row.Rating = 0
	unrated.cat.Heaters["storage-pressure"] = row
	unrated.build(t)

	uncurved := readSite(t, "kestrel-rise", nil)
	clear(uncurved.cat.Together)

	through := readSite(t, "juniper-flat", func(j *job.Job) {
		j.Choices.Arrangement, j.Choices.Control = "through-store", "flow-control"
	})
	battery := readSite(t, "kestrel-rise", func(j *job.Job) { j.Power.Battery = "yes" })
	return []example{crowded, blank, vented, unrated, uncurved, through, battery, split,
		readSite(t, "kestrel-rise", inLine(false)), readSite(t, "kestrel-rise", inLine(true))}
}

// A profile without its margin for suction leaves it unjudged by name.
func TestBlankRuleIsNamed(t *testing.T) {
	s := readSite(t, "kestrel-rise", nil)
	delete(s.profile.Rules, "npsh-margin")
	delete(s.profile.Rules, "max-velocity-header")
	for id, field := range map[string]string{"npsh": "npsh-margin", "velocity": "max-velocity-header"} {
		where := ""
		if id == "velocity" {
			where = "R6"
		}
		f, _ := judge(t, &s, s.job, id, where, "")
		if f.Verdict != finding.NotJudged || f.Names["field"] != field {
			t.Errorf("%s: %s, field %q, want not judged for %s", id, f.Verdict.ID(), f.Names["field"], field)
		}
	}
}

// No answer that failed its certificate is judged.
func TestUncertifiedIsNotJudged(t *testing.T) {
	s := readSite(t, "kestrel-rise", nil)
	r := s.analyse(t, false)
	m := r.Mode("on-main")
	for k := range m.Alone {
		m.Alone[k].Certified = false
	}
	for _, f := range Findings(nil, r, Context{s.job, s.plan, s.cat, s.profile, false}) {
		if f.ID == "outlet-flow" && f.Mode == "on-main" {
			t.Errorf("%s judged on an answer that did not certify", f.Where)
		}
	}
}

// inLine lays the booster on the service: of Kestrel Rise, or of the same home on a strong
// main close by.
func inLine(strong bool) func(*job.Job) {
	return func(j *job.Job) {
		j.Choices.Arrangement = "in-line"
		if strong {
			noTest(j)
			j.Supply.Length.V, j.Supply.Pipe, j.Home.Level.V, j.Choices.PumpLevel.V = 4, j.Pipework.Outdoors, 0, 0
			j.Supply.Meter, j.Choices.Backflow, j.Supply.PeakRes.V = "none", "none", j.Supply.Static.V
			j.Choices.LockLow.V = 0.7e5
		}
	}
}

// TestCutOut: a booster that the main keeps up with runs; one that pulls its own inlet
// under the cut-out is stopped, and what the taps get is what the main gives alone.
func TestCutOut(t *testing.T) {
	for _, strong := range []bool{false, true} {
		s := readSite(t, "kestrel-rise", inLine(strong))
		r := s.analyse(t, false)
		m := r.Mode("on-main")
		if (m.Trip == nil) != strong {
			t.Fatalf("on a strong main %v: trip %+v", strong, m.Trip)
		}
		if cut, _ := s.circuit.Bar(); m.Trip != nil && m.Trip.Felt >= cut.Off {
			t.Errorf("stopped at %v, the cut-out stands at %v", m.Trip.Felt, cut.Off)
		}
		out := r.Mode("power-out")
		for k := range m.Alone {
			if m.Alone[k].Flow < out.Alone[k].Flow*(1-1e-6) {
				t.Errorf("strong %v: %s gets less with the pump (%v) than without (%v)", strong, m.Alone[k].Outlet, m.Alone[k].Flow, out.Alone[k].Flow)
			}
		}
	}
}
