package catalogue

import (
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"tideover/internal/quantity"
	"tideover/internal/words"
)

func loaded(t testing.TB) *Catalogue {
	t.Helper()
	c, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// TestCounts keeps a table from losing rows unseen.
func TestCounts(t *testing.T) {
	c := loaded(t)
	want := map[string]int{"sources": 103, "pipes": 80, "fittings": 164, "valves": 54, "non-returns": 18, "regulators": 6, "floats": 8, "stores": 11,
		"pumps": 14, "vessels": 8, "joints": 46, "soils": 9, "elastic": 15, "outlets": 11, "heaters": 9, "controls": 7, "sundries": 15, "simultaneity": 8, "uses": 9, "profiles": 7}
	for _, name := range tableNames() {
		if got := len(c.Keys(name)); got != want[name] {
			t.Errorf("%s: %d rows, want %d", name, got, want[name])
		}
	}
	if got, want := len(c.Profiles["generic"].Rules), len(ruleKinds); got != want {
		t.Errorf("generic profile: %d rules, want %d: every rule there is", got, want)
	}
}

// refs returns what every row carries, of every table but sources and profiles.
func refs(c *Catalogue) map[string]Row {
	out := map[string]Row{}
	collect(out, "pipes ", c.Pipes)
	collect(out, "fittings ", c.Fittings)
	collect(out, "valves ", c.Valves)
	collect(out, "non-returns ", c.NonReturns)
	collect(out, "regulators ", c.Regulators)
	collect(out, "floats ", c.Floats)
	collect(out, "stores ", c.Stores)
	collect(out, "pumps ", c.Pumps)
	collect(out, "vessels ", c.Vessels)
	collect(out, "elastic ", c.Elastic)
	collect(out, "joints ", c.Joints)
	collect(out, "soils ", c.Soils)
	collect(out, "outlets ", c.Outlets)
	collect(out, "heaters ", c.Heaters)
	collect(out, "controls ", c.Controls)
	collect(out, "sundries ", c.Sundries)
	collect(out, "uses ", c.Uses)
	collect(out, "simultaneity ", c.Together)
	return out
}

func collect[K comparable, T Item](out map[string]Row, table string, m map[K]T) {
	for _, v := range m {
		out[table+v.Ref().Key] = v.Ref()
	}
}

// TestSources checks that every row names known sources and every source is named.
func TestSources(t *testing.T) {
	c := loaded(t)
	used := map[string]bool{"own": true, "en-806-2-3-4-2": true, // the user's own rows; what a promise names
		"who-2017": true, "hse-indg143": true, "us-cfr-141-65": true} // what rules named that are retired, and users' files may name
	use := func(where, list string) {
		for _, s := range strings.Split(list, ";") {
			if c.Sources[s] == "" {
				t.Errorf("%s: source %q is not in sources.csv", where, s)
			}
			used[s] = true
		}
	}
	for key, r := range refs(c) {
		use(key, r.Source)
		if r.Key == "" || r.Certainty > Checked {
			t.Errorf("%s: key %q, certainty %d", key, r.Key, r.Certainty)
		}
		if strings.HasPrefix(key, "simultaneity") == (r.Words != "") {
			t.Errorf("%s: words %q", key, r.Words)
		}
	}
	for name, p := range c.Profiles {
		for key, r := range p.Rules {
			use("rule "+key+" of "+name, r.Source)
		}
	}
	for s := range c.Sources {
		if !used[s] {
			t.Errorf("source %s is named by no row", s)
		}
	}
}

// TestBoresRise: in a family a bigger pipe outside is bigger inside, and the pipe holds.
func TestBoresRise(t *testing.T) {
	c := loaded(t)
	for _, p := range c.Pipes {
		for _, q := range c.Pipes {
			if p.Size.Family == q.Size.Family && p.Outside < q.Outside && p.Bore >= q.Bore {
				t.Errorf("%s has bore %v, %s has %v", p.Size, p.Bore, q.Size, q.Bore)
			}
		}
		rough := 0.01
		if AsFound(p.Size) {
			rough = 0.05 // as far as the law of friction reaches
		}
		if wall := float64(p.Outside-p.Bore) / 2; wall < 0.5e-3 || float64(p.Roughness) > rough*float64(p.Bore) {
			t.Errorf("%s: wall %v m, roughness %v m", p.Size, wall, p.Roughness)
		}
	}
}

// TestBoresPublished compares with the dimensions of the standards, outside less two walls.
func TestBoresPublished(t *testing.T) {
	const inch = 25.4
	for _, row := range []struct {
		size          quantity.Size
		outside, wall float64 // mm
		src           string
	}{
		{quantity.Size{Family: "PE100-SDR11", Mark: "25"}, 25, 2.3, "ISO 4427-2, e_min SDR 11"},
		{quantity.Size{Family: "PE100-SDR11", Mark: "32"}, 32, 3.0, "ISO 4427-2, e_min SDR 11"},
		{quantity.Size{Family: "multilayer", Mark: "20"}, 20, 2.0, "ISO 21003-2, usual"},
		{quantity.Size{Family: "copper-L", Mark: "1/2"}, 0.625 * inch, 0.040 * inch, "ASTM B88 type L"},
		{quantity.Size{Family: "copper-L", Mark: "3/4"}, 0.875 * inch, 0.045 * inch, "ASTM B88 type L"},
		{quantity.Size{Family: "copper-L", Mark: "1-1/4"}, 1.375 * inch, 0.055 * inch, "ASTM B88 type L"},
	} {
		p, err := loaded(t).Pipe(row.size)
		if err != nil {
			t.Fatal(err)
		}
		if got, want := float64(p.Bore)*1000, row.outside-2*row.wall; math.Abs(got-want) > 0.002 {
			t.Errorf("bore of %s = %v mm, want %v (%s)", row.size, got, want, row.src)
		}
	}
}

// TestPumpsFall samples each curve: the points lie on it and the head falls all the way.
func TestPumpsFall(t *testing.T) {
	for key, p := range loaded(t).Pumps {
		a, b, c := p.Curve()
		head := func(q float64) float64 { return a - b*q - c*q*q }
		for _, pt := range [][2]float64{{0, float64(p.Shutoff)}, {float64(p.Q1), float64(p.H1)}, {float64(p.Q2), float64(p.H2)}} {
			if math.Abs(head(pt[0])-pt[1]) > 1e-9 {
				t.Errorf("%s: head(%v) = %v, want %v", key, pt[0], head(pt[0]), pt[1])
			}
		}
		for i := range 100 {
			q := float64(p.Q2) * 1.5 * float64(i) / 100
			if head(q) <= head(q+float64(p.Q2)/100) {
				t.Errorf("%s: the head does not fall at %v m³/s", key, q)
			}
		}
		if p.Shutoff > quantity.Head(float64(p.Rating)/9800) {
			t.Errorf("%s: shut-off head %v m is above its casing's rating", key, p.Shutoff)
		}
		hydraulic := 9800 * float64(p.Q1) * float64(p.H1)
		if shaft := hydraulic / float64(p.Power); shaft < 0.1 || shaft > 0.7 {
			t.Errorf("%s: %v of the shaft power becomes water power", key, shaft)
		}
	}
}

// TestStoresHold: the round floor up to the overflow holds the nominal volume, and the
// float valve's mouth leaves the air gap the generic rules ask for.
func TestStoresHold(t *testing.T) {
	c := loaded(t)
	gap := quantity.Length(c.Profiles["generic"].Rules["air-gap-least"].Value)
	for key, s := range c.Stores {
		v := math.Pi / 4 * float64(s.Diameter*s.Diameter) * float64(s.Overflow)
		if math.Abs(v/float64(s.Nominal)-1) > 0.015 {
			t.Errorf("%s: holds %v m³ to the overflow, nominal %v", key, v, s.Nominal)
		}
		if s.Inlet-s.Overflow < gap {
			t.Errorf("%s: air gap %v m", key, s.Inlet-s.Overflow)
		}
	}
}

// TestFloatSeats works Kv out again: Cd A √(2·1 bar/ρ), Cd 0.7 (Torricelli).
func TestFloatSeats(t *testing.T) {
	for key, f := range loaded(t).Floats {
		want := 0.7 * math.Pi / 4 * float64(f.Seat*f.Seat) * math.Sqrt(2*1e5/1000)
		if math.Abs(float64(f.Kv)/want-1) > 0.02 {
			t.Errorf("%s: Kv %v m³/s, want %v", key, f.Kv, want)
		}
	}
}

// TestInserts works the press fittings out again from their insert bore: contraction
// 0.5(1−m), turn ζ, expansion (1−m)², m the ratio of areas, on the insert's velocity
// (Idelchik; Borda and Carnot); K1 of the two-K form goes with the cube of the bores.
func TestInserts(t *testing.T) {
	c := loaded(t)
	turn := map[string]float64{"elbow": 1.2, "tee-branch": 1.2, "adapter": 0}
	k1 := map[string]float64{"elbow": 800, "tee-branch": 500, "adapter": 0}
	seen := 0
	for key, f := range c.Fittings {
		if f.Insert == 0 || f.Kind == "bush" {
			continue
		}
		seen++
		bore := float64(c.Pipes[quantity.Size{Family: f.Family, Mark: f.Mark}].Bore)
		r := float64(f.Insert) / bore
		m := r * r
		want := (0.5*(1-m) + turn[f.Kind] + (1-m)*(1-m)) / (m * m)
		if math.Abs(f.K-want) > 0.006 {
			t.Errorf("%s: K %v, want %v", key, f.K, want)
		}
		if want := k1[f.Kind] / (r * r * r); math.Abs(f.K1-want) > 0.6 {
			t.Errorf("%s: K1 %v, want %v", key, f.K1, want)
		}
	}
	if seen != 12 {
		t.Errorf("%d press fittings, want 12", seen)
	}
}

// TestBushes works the bushes out again: the mean of contraction and expansion between
// the nominal bores, on the smaller, and the same loss of head on any pipe's bore.
func TestBushes(t *testing.T) {
	nominal := map[string]float64{"1/2": 15, "3/4": 20, "1": 25, "1-1/4": 32, "1-1/2": 40, "2": 50}
	for key, f := range loaded(t).Fittings {
		if f.Kind != "bush" {
			continue
		}
		small, large := nominal[f.Thread], nominal[f.Mark]
		if math.Abs(float64(f.Insert)*1000-small) > 1e-9 || small >= large {
			t.Errorf("%s: bore %v, want %v mm", key, f.Insert, small)
		}
		m := small * small / large / large
		if want := (0.5*(1-m) + (1-m)*(1-m)) / 2; math.Abs(f.K-want) > 0.006 {
			t.Errorf("%s: K %v, want %v", key, f.K, want)
		}
		const bore, q = 0.026, 5e-4
		loss := func(k, d float64) float64 { v := q / (math.Pi / 4 * d * d); return k * v * v / 2 / 9.80665 }
		want := loss(f.K, float64(f.Insert))
		if got := loss(f.Loss(1e6, bore), bore); math.Abs(got/want-1) > 1e-9 {
			t.Errorf("%s on 26 mm loses %v m, want %v", key, got, want)
		}
	}
}

func TestWordsExist(t *testing.T) {
	for _, id := range []string{"csv", "empty", "no-table", "which-table", "column", "missing-column", "unit", "cells", "blank", "number", "range",
		"yes-no", "twice", "key", "source", "certainty", "bore", "one-k", "store-heights", "pump-curve", "limit", "rule", "rule-value", "rule-choice",
		"missing", "near", "simultaneity"} {
		if !words.Has("catalogue." + id) {
			t.Errorf("no message catalogue.%s", id)
		}
	}
}

var generic = regexp.MustCompile(`^[a-z0-9][a-z0-9./-]*$`)

func TestKeysAreWritable(t *testing.T) {
	for key, r := range refs(loaded(t)) {
		if strings.HasPrefix(key, "pipes ") || strings.HasPrefix(key, "fittings ") || strings.HasPrefix(key, "elastic ") || strings.HasPrefix(key, "joints ") {
			continue
		}
		if !generic.MatchString(r.Key) {
			t.Errorf("%s: a key is small letters, digits, '.', '/' and '-', so that a job file can hold it", key)
		}
	}
}

func BenchmarkRead(b *testing.B) {
	for b.Loop() {
		c := empty()
		for i := range tables {
			name := "data/" + tables[i].name + ".csv"
			text, _ := data.ReadFile(name)
			if err := read(c, name, text, &tables[i]); err != nil {
				b.Fatal(err)
			}
		}
	}
}

// blanks are the rules nobody found at a source, by profile: what needs them is not judged.
var blanks = map[string][]string{
	"generic":      {"night-maximum", "use-per-person", "water-temperature"}, // the field table's own figures hold
	"europe":       {"disinfect-dose", "disinfect-residual", "disinfect-time"},
	"south-africa": {"disinfect-residual", "min-pressure-outlet", "test-multiple"},
	"india": {"air-gap-factor", "air-gap-least", "backflow-scale", "device-category-2", "device-category-3", "device-category-4", "device-category-5",
		"disinfect-residual", "max-static-outlet", "max-velocity-branch", "max-velocity-header"},
	"usa":                   {"disinfect-residual", "overflow-margin"},
	"australia-new-zealand": {"disinfect-residual", "test-multiple"},
}

// extra are the rules that only some codes have; where one is blank, nothing needs it.
var extra = []string{"booster-free-flow", "disinfect-alt-dose", "disinfect-alt-time", "disinfect-exempt", "max-flow-basin", "max-flow-shower",
	"max-flow-sink", "min-pressure-shower", "min-pressure-wc"}

// TestProfiles: each profile has every rule, with source and edition; only what nobody
// found is blank; and a default that the job file reads is one the job file takes.
func TestProfiles(t *testing.T) {
	c := loaded(t)
	for _, name := range c.Keys("profiles") {
		p := c.Profiles[name]
		var blank []string
		for key := range ruleKinds {
			r, there := p.Rules[key]
			if !there || r.Source == "" || r.Edition == "" {
				t.Errorf("%s: %s is missing, or lacks its source or edition", name, key)
			}
			if !r.Set && key != "starts-hour-soft" && !slices.Contains(extra, key) { // nobody anywhere sets the soft starts
				blank = append(blank, key)
			}
		}
		slices.Sort(blank)
		if !slices.Equal(blank, blanks[name]) {
			t.Errorf("%s: blank are %v, want %v", name, blank, blanks[name])
		}
		for key, dim := range map[string]quantity.Dim{"water-temperature": quantity.TemperatureDim, "night-maximum": quantity.PressureDim, "use-per-person": quantity.VolumeDim} {
			if r := p.Rule(key); r.Set {
				if _, err := quantity.Parse(r.Text, dim, quantity.Metric); err != nil {
					t.Errorf("%s: %s: %v", name, key, err)
				}
			}
		}
		if p.Rule("turnover-look").Value >= p.Rule("turnover-fix").Value || p.Rule("max-velocity-header").Value > p.Rule("max-velocity-branch").Value {
			t.Errorf("%s: limits stand in the wrong order", name)
		}
	}
}

// TestJoints: every row is of a pipe there is, a pipe goes in less far than three times its
// bore, and the worked case of a cutting list comes out.
func TestJoints(t *testing.T) {
	c := loaded(t)
	for size, j := range c.Joints {
		p, there := c.Pipes[size]
		if !there {
			t.Errorf("%s is no pipe of the catalogue", size)
		}
		if j.Insertion > 3*p.Outside || j.Elbow > 2*p.Outside || j.Tee > 2*p.Outside {
			t.Errorf("%s: goes in %v m, take-outs %v and %v m", size, j.Insertion, j.Elbow, j.Tee)
		}
	}
	// Copper 3/4, one metre between the centres of an elbow and a tee: 1000 − 13.5 − 12.7 + 2 × 19 mm.
	size := quantity.Size{Family: "copper-L", Mark: "3/4"}
	j := c.Joints[size]
	if cut, ok := c.Cut(size, 1, j.Elbow, j.Tee); !ok || math.Abs(float64(cut)-1.0118) > 1e-9 {
		t.Errorf("cut %v m, want 1.0118", cut)
	}
}

// TestSoils: each kind of ground a job can tell of has a row, least and most in order, and
// no profile presumes more for any ground than the firmest carries.
func TestSoils(t *testing.T) {
	c := loaded(t)
	for _, ground := range []string{"rock", "gravel", "dense-sand", "medium-sand", "loose-sand", "stiff-clay", "firm-clay", "soft-clay", "made-ground"} {
		if s, there := c.Soils[ground]; !there || s.Least > s.Most {
			t.Errorf("%s: %v", ground, s)
		}
	}
	for name, p := range c.Profiles {
		if b := p.Rule("bearing"); b.Value > float64(c.Soils["gravel"].Most) {
			t.Errorf("%s presumes %v Pa of any ground", name, b.Value)
		}
	}
}
