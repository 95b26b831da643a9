package proof

import (
	"math"
	"strings"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/job"
	"tideover/internal/words"
)

func byID(t testing.TB, id string) Promise {
	t.Helper()
	for _, p := range Promises() {
		if p.About().ID == id {
			return p
		}
	}
	t.Fatalf("no promise %s", id)
	return nil
}

// bare leaves out the level switch that keeps a pump from running dry.
func bare(j *job.Job) { j.Choices.Guard = "none" }

// Each promise in a case that breaks it and in one beside it that just does not.
func TestPromisesCaseByCase(t *testing.T) {
	t.Parallel()
	solar := func(j *job.Job) { j.Home.Heater = "solar-vented" }
	unseen := func(j *job.Job) { j.Home.Heater, j.Home.Vent = "unknown", "unknown" }
	weak := func(j *job.Job) { j.Home.Rating.V = 1.5e5 }
	mesh := func(j *job.Job) { j.Choices.Screen = "across" }
	tanked := func(j *job.Job) { j.Choices.Guard = "level-switch" }
	hard := func(j *job.Job) { j.Supply.NightMax.V = 9e5 }
	held := func(j *job.Job) { hard(j); j.Choices.Regulator, j.Choices.RegSet.V = "regulator-3/4", 3e5 }
	unmeasured := func(j *job.Job) { j.Choices.Overflow.V = 0 }
	for _, test := range []struct {
		promise, job, text string
		edit               func(*job.Job)
		want               Outcome
	}{
		{"main-clean", "kestrel-rise", "normal main=sucking lock=allowed pump=running draw=many", nil, Kept},
		{"main-clean", "kestrel-rise", "normal main=sucking failed=check-left-out@N1", nil, Kept}, // N3 and N4 hold, taps shut
		{"main-clean", "kestrel-rise", "normal main=sucking failed=float-submerged@F1", nil, Kept},
		{"main-clean", "kestrel-rise", "normal main=sucking power=off lock=allowed failed=grit draw=one", nil, Broken},
		{"main-clean", "kestrel-rise", "normal main=dry power=off lock=allowed failed=grit", nil, Broken},
		{"main-clean", "kestrel-rise", "normal main=good failed=grit", nil, Kept},
		{"no-loop", "kestrel-rise", "normal draw=many pump=running failed=check-stuck-open@N3", nil, Broken},
		{"no-loop", "kestrel-rise", "by-pass V6=open main=dry lock=allowed", nil, Silent}, // the pump stands
		{"no-loop", "kestrel-rise", "by-pass V6=open main=dry lock=allowed pump=running draw=many", nil, Kept},
		{"not-backwards", "kestrel-rise", "normal power=off failed=check-left-out@N2", nil, Broken},
		{"not-backwards", "kestrel-rise", "normal", nil, Kept},
		{"not-dry", "kestrel-rise", "normal store=empty main=dry pump=running draw=one", bare, Kept},
		{"not-dry", "kestrel-rise", "normal store=empty main=dry failed=control-stuck-on@C1", bare, Broken},
		{"not-dry", "kestrel-rise", "normal store=empty main=dry failed=control-stuck-on@C1", tanked, Silent},
		{"not-dry", "juniper-flat", "on-store store=empty pump=running", bare, Broken},
		{"not-dry", "juniper-flat", "on-store store=empty pump=running", tanked, Silent},
		{"not-dry", "juniper-flat", "pump-out pump=running", tanked, Silent}, // switched off: the card says so
		{"not-dry", "juniper-flat", "on-store V4=shut pump=running", tanked, Broken},
		{"not-dry", "juniper-flat", "on-store store=low pump=running draw=many", nil, Kept},
		{"not-dead-headed", "kestrel-rise", "on-store failed=control-stuck-on@C1", nil, Broken},
		{"not-dead-headed", "kestrel-rise", "on-store pump=running draw=one", nil, Kept},
		{"not-dead-headed", "juniper-flat", "on-store pump=running failed=check-stuck-shut@N2", nil, Broken},
		{"takes-main", "kestrel-rise", "normal store=full draw=one pump=holding failed=lock-out-stuck-on@C2", nil, Broken},
		{"takes-main", "kestrel-rise", "normal store=full", nil, Kept},
		{"no-hunting", "kestrel-rise", "normal store=normal", nil, Broken},
		{"no-hunting", "kestrel-rise", "normal store=full", nil, Silent},
		{"ratings", "kestrel-rise", "on-store main=high", weak, Broken},
		{"ratings", "kestrel-rise", "on-store main=high", nil, Kept},
		{"heater-boosted", "kestrel-rise", "on-store main=dry pump=holding draw=many", solar, Broken},
		{"heater-boosted", "kestrel-rise", "on-store main=dry pump=holding draw=many", unseen, Broken},
		{"heater-boosted", "kestrel-rise", "on-store main=dry pump=holding draw=many", nil, Kept},
		{"heater-boosted", "kestrel-rise", "on-main", solar, Kept},
		{"expansion", "kestrel-rise", "on-main power=off heater=heating failed=vessel-flat@E2", nil, Broken},
		{"expansion", "kestrel-rise", "normal heater=heating", nil, Kept},
		{"expansion", "kestrel-rise", "normal heater=heating failed=vessel-flat@E2", nil, Kept},
		{"expansion", "kestrel-rise", "on-main heater=heating draw=one", nil, Silent},
		{"overflow", "kestrel-rise", "normal store=full main=high failed=float-broken-off@F1", nil, Kept},
		{"overflow", "kestrel-rise", "normal store=full main=high failed=float-broken-off@F1", narrow, Broken},
		{"overflow", "kestrel-rise", "normal store=full main=high failed=float-broken-off@F1", mesh, Broken},
		{"overflow", "kestrel-rise", "normal store=full main=high failed=float-broken-off@F1", unmeasured, Unjudged},
		{"overflow", "kestrel-rise", "normal store=full main=high failed=float-passing@F1", nil, Kept},
		{"overflow", "kestrel-rise", "normal store=full main=high", nil, Silent},
		{"notice-shut", "kestrel-rise", "boil-notice", nil, Kept},
		{"notice-shut", "kestrel-rise", "boil-notice power=off failed=valve-leaks@V3", nil, Broken},
		{"mixer", "kestrel-rise", "normal draw=many", nil, Kept},
		{"no-chatter", "juniper-flat", "on-store", nil, Kept},
		{"no-chatter", "juniper-flat", "on-store failed=vessel-flat@E1", nil, Broken},
		{"no-chatter", "juniper-flat", "on-store failed=vessel-shut-off@E1", nil, Broken},
		{"no-chatter", "juniper-flat", "on-store power=off failed=vessel-flat@E1", nil, Silent},
		{"no-chatter", "juniper-flat", "on-store draw=one failed=vessel-flat@E1", nil, Silent},
		{"no-chatter", "kestrel-rise", "normal", nil, Kept},
		{"no-chatter", "kestrel-rise", "normal failed=vessel-flat@E1", nil, Broken},
		{"no-chatter", "kestrel-rise", "normal failed=vessel-flat@E2", nil, Kept}, // the heater's
		{"no-chatter", "kestrel-rise", "normal failed=vessel-flat@E1", func(j *job.Job) { j.Choices.Control = "flow-control" }, Silent},
		{"served", "kestrel-rise", "normal draw=many", nil, Kept},
		{"served", "kestrel-rise", "off draw=many", nil, Broken},
		{"store-cleaned", "kestrel-rise", "store-isolated", nil, Kept},
		{"store-cleaned", "kestrel-rise", "normal power=off", nil, Broken},
		{"ratings", "kestrel-rise", "on-main main=high", hard, Broken},
		{"ratings", "kestrel-rise", "on-main main=high", held, Kept},
		{"ratings", "kestrel-rise", "on-main main=high failed=regulator-creeps@G1", held, Broken},
		{"ratings", "kestrel-rise", "on-main main=high failed=regulator-open@G1", held, Broken},
		{"ratings", "kestrel-rise", "on-main main=high failed=regulator-shut@G1", held, Kept},
		{"main-clean", "kestrel-rise", "normal main=dry power=off lock=allowed failed=grit regulator=lets-back", held, Broken}, // it is no non-return valve
		{"main-clean", "kestrel-rise", "normal main=dry power=off lock=allowed failed=grit", held, Kept},
		{"served", "kestrel-rise", "on-main draw=many failed=regulator-shut@G1", held, Broken},
		{"served", "kestrel-rise", "on-store draw=many failed=regulator-shut@G1", held, Kept},
		{"no-draught", "kestrel-rise", "normal pump=running draw=many main=weak lock=allowed", nil, Kept},
	} {
		in := laid(t, test.job, "", test.edit)
		s, err := NewSpace(&in)
		if err != nil {
			t.Fatal(err)
		}
		c, err := s.Parse(test.text)
		if err != nil {
			t.Fatalf("%s: %v", test.text, err)
		}
		if j := s.Of(byID(t, test.promise), c); j.Outcome != test.want {
			t.Errorf("%s in %s, %s: outcome %d, want %d (%+v)", test.promise, test.job, test.text, j.Outcome, test.want, j)
		}
	}
}

// Measure comes to the outcome of Judge and adds the figure.
func TestMeasureAgrees(t *testing.T) {
	in := laid(t, "kestrel-rise", "", nil)
	s, err := NewSpace(&in)
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range []string{
		"normal main=sucking power=off failed=grit draw=one", "normal main=dry failed=grit", "normal", "on-main main=dry draw=one failed=check-left-out@N1",
	} {
		c, err := s.Parse(text)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range Promises() {
			m, can := p.(Measurer)
			if !can {
				continue
			}
			judged, measured := m.Judge(&View{s.one(c)}), m.Measure(&View{s.one(c)})
			if judged.Outcome != measured.Outcome {
				t.Errorf("%s in %s: judged %d, measured %d", p.About().ID, text, judged.Outcome, measured.Outcome)
			}
			if measured.Outcome == Broken && !(measured.Figure.SI > 0) {
				t.Errorf("%s in %s: broken without a figure", p.About().ID, text)
			}
		}
	}
}

// narrow is an overflow as tanks come drilled, behind mesh across the pipe.
func narrow(j *job.Job) { j.Choices.Overflow.V, j.Choices.Screen = 0.036, "across" }

// What is left of the gap, and the height to drill at, belong together: at that height,
// just the gap asked for is left.
func TestDrillHeightLeavesTheGap(t *testing.T) {
	in := laid(t, "kestrel-rise", "", nil)
	w, ok := in.spill(in.Part(assembly.Store, ""))
	if !ok {
		t.Fatal("no overflow is read")
	}
	for _, q := range []float64{1e-5, 1e-4, 3e-4} {
		w.Lip = w.DrillLip(q)
		if left := w.Inlet - w.Lip - w.Head(q, nil); math.Abs(left-w.Needs) > 1e-12 {
			t.Errorf("at %g m³/s: %g m left, want %g", q, left, w.Needs)
		}
	}
}

// Every promise has its sentences, and every mishap of the examples its name.
func TestPromisesSpeak(t *testing.T) {
	for _, p := range Promises() {
		for _, end := range []string{"", ".title", ".broken", ".so"} {
			if id := "promise." + p.About().ID + end; !words.Has(id) {
				t.Errorf("no sentence %s", id)
			}
		}
	}
	for _, name := range []string{"kestrel-rise", "juniper-flat"} {
		in := laid(t, name, "", nil)
		for _, m := range in.Circuit.Mishaps {
			if said := words.Say("mishap."+m.ID, words.Args{"tag": m.Tag, "other": m.Other}); strings.Contains(said, "‹") {
				t.Errorf("%s is not said: %s", m.Key(), said)
			}
		}
	}
}

// N3 and N4 of Kestrel Rise cannot be taken out while the home runs; a valve on their home
// side lets them.
func TestIsolated(t *testing.T) {
	in := laid(t, "kestrel-rise", "", nil)
	g := newMeets(in.Assembly)
	for tag, want := range map[string]bool{"P1": true, "F1": true, "U1": true, "N1": true, "N3": false, "N4": false} {
		if got := g.out(in.Assembly.Index(tag)); got != want {
			t.Errorf("%s can be taken out: %v, want %v", tag, got, want)
		}
	}
	if through := laid(t, "kestrel-rise", assembly.ThroughStore, nil); newMeets(through.Assembly).out(through.Assembly.Index("P1")) {
		t.Error("with all water through the store, the home runs without its pump")
	}
}
