package service

import (
	"maps"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/calc"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/demo"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// example is one example read, planned and made a circuit.
type example struct {
	job     *job.Job
	cat     *catalogue.Catalogue
	profile *catalogue.Profile
	plan    *assembly.Assembly
	circuit *circuit.Circuit
}

func readSite(t testing.TB, name string, change func(*job.Job)) example {
	t.Helper()
	s := example{job: demo.Job(t, name)}
	if change != nil {
		change(s.job)
	}
	loaded, profile := demo.Rows(t, s.job.Profile)
	own := *loaded // tests change rows; the tables are shared
	own.Pumps, own.Heaters, own.Together = maps.Clone(own.Pumps), maps.Clone(own.Heaters), maps.Clone(own.Together)
	s.cat, s.profile = &own, profile
	s.profile.Rules = maps.Clone(s.profile.Rules)
	s.build(t)
	return s
}

func (s *example) build(t testing.TB) {
	t.Helper()
	if err := s.tryBuild(); err != nil {
		t.Fatal(err)
	}
}

func (s *example) tryBuild() (err error) {
	if s.plan, err = assembly.Build(s.job, s.cat, s.profile); err == nil {
		s.circuit, err = circuit.New(s.plan, circuit.Read(s.job))
	}
	return err
}

func (s *example) analyse(t testing.TB, record bool) *Result {
	t.Helper()
	in := Read(s.job, s.plan, s.cat, s.profile)
	in.Record = record
	r, err := Analyse(s.circuit, in)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// drawOf returns what an outlet gets alone in a mode.
func drawOf(t testing.TB, r *Result, mode, outlet string) Draw {
	t.Helper()
	m := r.Mode(mode)
	if m == nil {
		t.Fatalf("no mode %s", mode)
	}
	for _, d := range m.Alone {
		if d.Outlet == outlet {
			return d
		}
	}
	t.Fatalf("no outlet %s", outlet)
	return Draw{}
}

func findingsOf(t testing.TB, name string) map[string]finding.Finding {
	s := readSite(t, name, nil)
	out := map[string]finding.Finding{}
	for _, f := range Findings(nil, s.analyse(t, true), Context{s.job, s.plan, s.cat, s.profile, false}) {
		if _, twice := out[f.Key()]; twice {
			t.Errorf("%s: two findings have the key %q", name, f.Key())
		}
		out[f.Key()] = f
	}
	return out
}

// What the survey of Kestrel Rise says must come out: at supper the main climbs to no
// tap and does not fill the store; the store serves the upstairs shower, and takes over
// by itself; with the power out at supper nothing runs.
func TestKestrelRise(t *testing.T) {
	s := readSite(t, "kestrel-rise", nil)
	r := s.analyse(t, false)
	if len(r.Failed) > 0 {
		t.Fatalf("not certified: %+v", r.Failed)
	}
	if d := drawOf(t, r, "on-main-peak", "shower-up"); d.Flow != 0 || !d.Left {
		t.Errorf("at supper the main gives the shower %g m³/s, sensor left %v, want nothing, and the store taking over", d.Flow, d.Left)
	}
	if d := drawOf(t, r, "on-store", "shower-up"); d.Flow < d.Need {
		t.Errorf("the store gives the shower %g m³/s, want at least %g", d.Flow, d.Need)
	}
	if d := drawOf(t, r, "on-main", "shower-up"); d.Flow < d.Need || d.Left {
		t.Errorf("at usual hours the main gives the shower %g m³/s (left %v), want at least %g and the main to stay", d.Flow, d.Left, d.Need)
	}
	f := findingsOf(t, "kestrel-rise")
	for key, want := range map[string]finding.Verdict{
		"outlet-peak\x00shower-up\x00on-main-peak": finding.Fine,
		"outlet-flow\x00shower-up\x00on-store":     finding.Fine,
		"refill\x00F1\x00refill-peak":              finding.LookAt,
		"refill\x00F1\x00refill-usual":             finding.Fine,
		"power-out\x00\x00power-out-peak":          finding.LookAt,
		"heater-rating\x00H1\x00":                  finding.Fine,
	} {
		if got, ok := f[key]; !ok || got.Verdict != want {
			t.Errorf("%q is %s (there: %v), want %s", key, got.Verdict.ID(), ok, want.ID())
		}
	}
	for key, g := range f {
		if g.Verdict == finding.MustFix {
			t.Errorf("%q is a must fix: %+v", key, g.Figure)
		}
	}
}

// A standing head is arithmetic: what the main leaves at rest, and the pump at its
// shut-off head over a full store, are worked out here by hand.
func TestRestByHand(t *testing.T) {
	s := readSite(t, "kestrel-rise", nil)
	r := s.analyse(t, false)
	const g = 9806.65
	house := 8 + 0.5                      // header: hand height above the ground at the house
	surface := 8.1 + 1.33 - 0.025         // full store
	shutoff := (surface + 45 - house) * g // the header's own non-return and pipes lose nothing at rest
	opens := 0.3 * g                      // but the pump's non-return valve keeps its opening head
	for _, x := range r.Rests {
		switch x.Part {
		case "M1":
			near(t, "meter at night", float64(x.High), 4.1e5, 1)
		case "H1":
			near(t, "heater under the pump at shut-off", float64(x.High), shutoff-opens, 1)
		case "F1":
			near(t, "float valve at night, behind the double check", float64(x.High), 4.1e5-(8.1+1.455)*g-0.6*g, 1)
		}
	}
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %g, want %g ±%g", what, got, want, tol)
	}
}

// The vessel and the switch of Juniper Flat by hand: gas that cools as it swells (n = 1.2), and
// four drawdowns to a cycle at half the pump's flow; a drip takes so long that it does not cool.
func TestSwingByHand(t *testing.T) {
	s := readSite(t, "juniper-flat", nil)
	w := s.analyse(t, false).Swing
	const psi = 6894.757293168
	air := 101325 * math.Pow(1-2.25577e-5*2100*0.3048, 5.25588)
	v := 20 * 3.785411784e-3
	gas := v * (28*psi + air) / (50*psi + air) // at the cut-out
	vd := gas*math.Pow((50*psi+air)/(30*psi+air), 1/1.2) - gas
	near(t, "drawdown", float64(w.Drawdown), vd, 1e-5) // the row's 75.71 L is rounded
	// 40 psi at the switch, 2.5 ft up; the store nearly empty at 2 ft + 60 mm.
	h := 40*psi/9806.65 + float64(s.plan.Parts[s.plan.Index(w.Control)].Ports[0].Z) - (2*0.3048 + 0.06)
	c := ((40-15)/0.75e-3 - (40-27)/0.45e-3) / 0.30e-3
	b := (40-27)/0.45e-3 - c*0.45e-3
	q := (-b + math.Sqrt(b*b+4*c*(40-h))) / (2 * c)
	near(t, "pump in the middle", float64(2*w.Worst), q, 1e-9)
	near(t, "period", float64(w.Period), 4*float64(w.Drawdown)/q, 1e-6)
	near(t, "period with three tenths of the charge lost", float64(w.Flat)/float64(w.Period), (0.7*28*psi+air)/(28*psi+air), 1e-9)
	boyle := gas * ((50*psi+air)/(30*psi+air) - 1)
	near(t, "at a drip", float64(w.LeakPeriod), boyle/(0.2/60000)+boyle/(q-0.2/60000), 1)
}

// Juniper Flat serves its one storey on the main and on the store, and has nothing to fix
// in the service itself.
func TestJuniperFlat(t *testing.T) {
	for key, f := range findingsOf(t, "juniper-flat") {
		if f.Verdict == finding.MustFix || f.Verdict == finding.LookAt && f.ID == "outlet-flow" {
			t.Errorf("%q is %s at %g", key, f.Verdict.ID(), f.Figure.SI)
		}
	}
}

// With all water through the store nothing comes without power, and that is said.
func TestThroughStoreWithoutPower(t *testing.T) {
	s := readSite(t, "kestrel-rise", func(j *job.Job) { j.Choices.Arrangement = "through-store" })
	f, _ := judge(t, &s, s.job, "power-out", "", "power-out-store")
	if f.Verdict != finding.LookAt || f.Figure.SI != 0 || f.Limit.SI != 7 {
		t.Errorf("%s: %g of %g outlets serve, want look at, 0 of 7", f.Verdict.ID(), f.Figure.SI, f.Limit.SI)
	}
}

// Every recorded step of every finding gives its result again from the numbers shown, to
// the digits shown; every walk begins where the row before ended, and closes.
func TestCalculationsHold(t *testing.T) {
	for _, name := range []string{"kestrel-rise", "juniper-flat"} {
		walks := 0
		for key, f := range findingsOf(t, name) {
			walks += holds(t, key, f.Calc)
			if counted := f.ID == "power-out" || f.ID == "peak-by-hand"; f.Figure.Dim != 0 && len(f.Calc) == 0 && !counted {
				t.Errorf("%q has a figure and no calculation", key)
			}
			if n := len(f.Calc); n > 0 && f.Figure.Dim == quantity.PressureDim && f.ID != "pump-stop" && f.Calc[n-1].Key == "pressure-of-head" {
				near(t, key, f.Calc[n-1].Result, f.Figure.SI, 1e-6*math.Abs(f.Figure.SI)+1e-3)
			}
		}
		if walks < 20 {
			t.Errorf("%s: %d walks, want one for every outlet and mode", name, walks)
		}
	}
}

func holds(t *testing.T, key string, steps []calc.Step) (walks int) {
	t.Helper()
	for k, st := range steps {
		if diff := st.Check(); diff != 0 {
			t.Errorf("%q: step %d (%s) re-evaluates to another result, by %g", key, k, st.Key, diff)
		}
		if st.Key != "" {
			continue
		}
		if k == 0 || steps[k-1].Key != "" {
			walks++
			if st.Before != 0 {
				t.Errorf("%q: the walk begins at %g, not at the datum", key, st.Before)
			}
		} else if finding.Millimetres(st.Before) != finding.Millimetres(steps[k-1].After) {
			t.Errorf("%q: %s begins at %g, the row before ended at %g", key, st.Part, st.Before, steps[k-1].After)
		}
		if !words.Has(st.Note) {
			t.Errorf("%q: no message %s", key, st.Note)
		}
	}
	return walks
}

// An outlet's walk ends at the outlet, and its pressure and flow are the figures judged.
func TestWalkEndsInTheFigure(t *testing.T) {
	s := readSite(t, "kestrel-rise", nil)
	r := s.analyse(t, true)
	for _, m := range r.Modes {
		for _, d := range append(append([]Draw{}, m.Alone...), m.Together...) {
			last := d.Calc[len(d.Calc)-1]
			z := float64(s.plan.Parts[s.plan.Index(d.Outlet)].Ports[0].Z)
			if d.Flow == 0 {
				if last.After != z || last.Before >= z {
					t.Errorf("%s %s: dry walk ends %g at height %g", m.ID, d.Outlet, last.Before, z)
				}
				continue
			}
			if last.Result != float64(d.Flow) || d.Calc[len(d.Calc)-2].Result != float64(d.Pressure) {
				t.Errorf("%s %s: walk gives %g and %g, the figures are %g and %g", m.ID, d.Outlet,
					last.Result, d.Calc[len(d.Calc)-2].Result, d.Flow, d.Pressure)
			}
		}
	}
}

// Rerunning gives the same bytes, and reruns record nothing.
func TestDeterministicAndSilent(t *testing.T) {
	s := readSite(t, "kestrel-rise", nil)
	a, b := s.analyse(t, false), s.analyse(t, false)
	if !reflect.DeepEqual(a, b) {
		t.Error("two runs of one job differ")
	}
	for _, f := range Findings(nil, a, Context{s.job, s.plan, s.cat, s.profile, false}) {
		if len(f.Calc) > 0 {
			t.Errorf("%q recorded a calculation in a silent run", f.Key())
		}
	}
}

// The keys of the findings do not move with the figures.
func TestKeysAreStable(t *testing.T) {
	s := readSite(t, "kestrel-rise", nil)
	base := keysOf(t, &s, s.job)
	for _, leaf := range s.job.Inexact() {
		for _, x := range []float64{-1, 1} {
			j, err := s.job.Shifted(leaf.At(x)...)
			if err != nil {
				t.Fatal(err)
			}
			for _, key := range keysOf(t, &s, j) {
				if id, _, _ := strings.Cut(key, "\x00"); id != "outlet-pressure" && id != "velocity" && !slices.Contains(base, key) {
					t.Errorf("%s at %g brings a new finding %q", leaf.Path, x, key)
				}
			}
		}
	}
}

func keysOf(t *testing.T, s *example, j *job.Job) []string {
	_, list := judge(t, s, j, "flow-test", "", "")
	var keys []string
	for i := range list {
		keys = append(keys, list[i].Key())
	}
	return keys
}

func BenchmarkAnalyse(b *testing.B) {
	s := readSite(b, "kestrel-rise", nil)
	in := Read(s.job, s.plan, s.cat, s.profile)
	for b.Loop() {
		ci, err := circuit.New(s.plan, circuit.Read(s.job))
		if err != nil {
			b.Fatal(err)
		}
		if _, err := Analyse(ci, in); err != nil {
			b.Fatal(err)
		}
	}
}
