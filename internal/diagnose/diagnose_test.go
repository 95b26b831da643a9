package diagnose

import (
	"math"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/demo"
	"tideover/internal/finding"
	"tideover/internal/hydraulics"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// tested is Kestrel Rise with a test at the house.
func tested(t *testing.T, change func(*job.Job)) (*job.Job, *catalogue.Catalogue, *catalogue.Profile, circuit.Inputs) {
	t.Helper()
	j := demo.Job(t, "kestrel-rise")
	c, p := demo.Rows(t, j.Profile)
	s := &j.Supply
	s.HouseLevel.V = 8.5
	s.HouseFlow, s.HouseRes = quantity.Val[quantity.Flow]{V: 6e-3 / 60, Half: 0.3e-3 / 60, Basis: quantity.Measured}, quantity.Val[quantity.Pressure]{V: 0.5e5, Half: 0.05e5, Basis: quantity.Measured}
	if change != nil {
		change(j)
	}
	return j, c, p, circuit.Read(j)
}

func diagnosed(t *testing.T, change func(*job.Job)) *Result {
	t.Helper()
	j, c, p, fig := tested(t, change)
	r, err := Diagnose(j, c, p, fig)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func (r *Result) of(t *testing.T, c Cause) Tried {
	t.Helper()
	for _, one := range r.Tried {
		if one.Cause == c {
			return one
		}
	}
	t.Fatalf("%s was not tried", c)
	return Tried{}
}

// TestSoundByHand: what a sound service brings to the house, walked by hand: the flow at
// which the main's head, less its sag and the losses of each part, is the gauge's.
func TestSoundByHand(t *testing.T) {
	r := diagnosed(t, nil)
	j, c, p, fig := tested(t, nil)
	q := float64(r.Expected)
	a, err := assembly.Incoming(j, c, p, 8.5+0.5e5/circuit.Weight, assembly.Drip)
	if err != nil {
		t.Fatal(err)
	}
	d1, d2 := float64(fig.Static-fig.LowRes)/circuit.Weight, float64(fig.Static-fig.HighRes)/circuit.Weight
	sa, sb := hydraulics.FitMain(float64(fig.LowFlow), d1, float64(fig.HighFlow), d2)
	head := float64(fig.Static)/circuit.Weight - sa*q - sb*q*q
	visc := hydraulics.KinematicViscosity(float64(fig.Water))
	for i := range a.Parts {
		switch row := a.Parts[i].Row.(type) {
		case catalogue.Valve:
			head -= 1e5 / circuit.Weight * math.Pow(q/float64(row.Kv), 2)
		case catalogue.Pipe:
			d := float64(row.Bore)
			v := 4 * q / (math.Pi * d * d)
			re := v * d / visc
			f := 0.02
			for range 60 { // Colebrook 1939, eq. 16
				f = math.Pow(-2*math.Log10(float64(row.Roughness)/(3.7*d)+2.51/(re*math.Sqrt(f))), -2)
			}
			k := f * float64(a.Parts[i].Length) / d
			for _, fit := range a.Parts[i].Fittings {
				k += float64(fit.Count) * (fit.Row.K1/re + fit.Row.Kinf*(1+0.0254/d)) // Hooper 1981
			}
			head -= k * v * v / (2 * 9.80665)
		}
	}
	want := 8.5 + 0.5e5/circuit.Weight
	if d := math.Abs(head - want); d > 0.005 {
		t.Errorf("at the house the head is %.4f m by hand and %.4f m by the gauge, at %.3f L/min", head, want, q*6e4)
	}
}

// TestExplained: each cause that fits, put back into the circuit at its degree, brings
// exactly what was measured; a worse reading asks for a worse degree.
func TestExplained(t *testing.T) {
	last := map[Cause]float64{}
	for _, lpm := range []float64{12, 9, 6, 3} {
		r := diagnosed(t, func(j *job.Job) { j.Supply.HouseFlow.V = quantity.Flow(lpm / 6e4) })
		if !r.InTheWay {
			t.Fatalf("%v L/min: nothing in the way of %v", lpm, r.Expected)
		}
		j, c, p, fig := tested(t, func(j *job.Job) { j.Supply.HouseFlow.V = quantity.Flow(lpm / 6e4) })
		l := &line{j: j, c: c, p: p, in: Read(j, false), fig: fig}
		for cause, d := range map[Cause]degree{
			SecondStop: {r.of(t, SecondStop).Share, 1, 1, 0}, Strainer: {1, r.of(t, Strainer).Share, 1, 0},
			Pipe: {1, 1, r.of(t, Pipe).Share, 0}, Shared: {1, 1, 1, r.of(t, Shared).Draws},
		} {
			if !r.of(t, cause).Fits {
				t.Errorf("%v L/min: %s cannot explain it", lpm, cause)
				continue
			}
			q, err := l.flow(d)
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(q*6e4/lpm-1) > 2e-3 {
				t.Errorf("%v L/min: %s at %+v brings %.3f L/min", lpm, cause, d, q*6e4)
			}
			bad := 3 - d.valve - d.mesh - d.bore + float64(d.draws)*1e3
			if bad <= last[cause] {
				t.Errorf("%v L/min: %s is no worse than for more water: %v after %v", lpm, cause, bad, last[cause])
			}
			last[cause] = bad
		}
	}
}

// TestStanding: what was seen on site orders the causes and rules some out.
func TestStanding(t *testing.T) {
	full := func(j *job.Job) {
		j.Supply.HouseStatic = quantity.Val[quantity.Pressure]{V: 2.36e5, Half: 0.1e5, Basis: quantity.Measured}
	}
	for name, x := range map[string]struct {
		change func(*job.Job)
		cause  Cause
		want   Standing
		why    string
	}{
		"seen half shut":       {func(j *job.Job) { j.Supply.SecondStop = "part-shut" }, SecondStop, Seen, "seen"},
		"found open":           {func(j *job.Job) { j.Supply.SecondStop = "open" }, SecondStop, RuledOut, "looked"},
		"mesh dirty":           {func(j *job.Job) { j.Supply.MeterScreen = "dirty" }, Strainer, Seen, "seen"},
		"no mesh":              {func(j *job.Job) { j.Supply.MeterScreen = "none" }, Strainer, RuledOut, "not-there"},
		"shared":               {func(j *job.Job) { j.Supply.Shared = "yes" }, Shared, Seen, "seen"},
		"alone":                {func(j *job.Job) { j.Supply.Shared = "no" }, Shared, RuledOut, "looked"},
		"smooth pipe":          {nil, Pipe, Unlikely, "smooth-pipe"},
		"neighbour weak":       {func(j *job.Job) { j.Supply.Neighbour = "weak" }, SecondStop, Unlikely, "neighbour-weak"},
		"full at rest":         {full, Reducer, RuledOut, "rest-full"},
		"unread at rest":       {nil, Reducer, Unlikely, "rest-unknown"},
		"short at rest":        {func(j *job.Job) { full(j); j.Supply.HouseStatic.V = 1e5 }, Shared, Possible, "rest-short"},
		"a valve takes none":   {func(j *job.Job) { full(j); j.Supply.HouseStatic.V = 1e5 }, SecondStop, Unlikely, "rest-short-too"},
		"reducer, flow is all": {func(j *job.Job) { full(j); j.Supply.HouseStatic.V = 1e5; j.Supply.HouseFlow.V = 0 }, Reducer, Possible, "open"},
	} {
		got := diagnosed(t, x.change).of(t, x.cause)
		if got.Standing != x.want || got.Why != x.why {
			t.Errorf("%s: %s is %s (%s), want %s (%s)", name, x.cause, got.Standing.ID(), got.Why, x.want.ID(), x.why)
		}
	}
}

// TestNothingInTheWay: the reading just at the least that should run is no fault; the
// reading just below it is.
func TestNothingInTheWay(t *testing.T) {
	low := diagnosed(t, nil).Low
	for _, x := range []struct {
		off  float64
		want bool
	}{{+1e-6, false}, {-1e-6, true}} {
		r := diagnosed(t, func(j *job.Job) {
			j.Supply.HouseFlow.V, j.Supply.HouseFlow.Half = low*quantity.Flow(1+x.off), 0
		})
		if r.InTheWay != x.want || (len(r.Tried) > 0) != x.want {
			t.Errorf("%+g of the least: in the way %v, %d causes tried", x.off, r.InTheWay, len(r.Tried))
		}
	}
}

// TestNeed: what the home calls for, each for its reason.
func TestNeed(t *testing.T) {
	clear := func(j *job.Job) { j.Supply.HouseFlow.V = 0 }
	strong := func(j *job.Job) { clear(j); j.Supply.PeakRes.V, j.Supply.PeakFlow.V = 3e5, 0 }
	spell := func(hours float64) []job.Spell {
		return []job.Spell{{PerYear: 12, Least: 3600, Most: quantity.Time(hours * 3600)}}
	}
	for name, x := range map[string]struct {
		change func(*job.Job)
		want   Need
	}{
		"days off":            {clear, StoreFor},
		"just above the cans": {func(j *job.Job) { strong(j); j.Interruptions.Habit = spell(19.3) }, StoreFor},
		"just below the cans": {func(j *job.Job) { strong(j); j.Interruptions.Habit = spell(19.1) }, Reserve},
		"weak suppers":        {func(j *job.Job) { clear(j); j.Interruptions.Habit = spell(4) }, BoostFor},
		"strong, never off":   {func(j *job.Job) { strong(j); j.Interruptions.Habit = nil }, Nothing},
		"strong, nobody asked": {func(j *job.Job) {
			strong(j)
			j.Interruptions.Habit = nil
			j.Supply.PeakRes = quantity.Val[quantity.Pressure]{}
		}, Unknown},
		"a valve, nothing else": {func(j *job.Job) { j.Interruptions.Habit = nil }, CleanFirst},
	} {
		r := diagnosed(t, x.change)
		if r.Home.Need != x.want {
			t.Errorf("%s: the home calls for %s, want %s (%d and %d of %d served, %v wanted)", name, r.Home.Need, x.want, r.Home.Served, r.Home.AtPeak, r.Home.Outlets, r.Home.Basic)
		}
		for _, f := range Findings(r) {
			if f.Verdict == finding.MustFix {
				t.Errorf("%s: %s must be fixed: nobody is hurt by a home that needs no store", name, f.ID)
			}
		}
	}
}
