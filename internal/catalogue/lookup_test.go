package catalogue

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"tideover/internal/quantity"
)

func TestFittingChoice(t *testing.T) {
	c := loaded(t)
	size := func(f, m string) quantity.Size { return quantity.Size{Family: f, Mark: m} }
	for _, tc := range []struct {
		kind string
		size quantity.Size
		want string
	}{
		{"elbow", size("PE100-SDR11", "32"), "elbow-PE"},
		{"elbow", size("multilayer", "20"), "elbow-multilayer-20"},
		{"elbow", size("copper-L", "1"), "elbow-copper"},
		{"tee-branch", size("multilayer", "26"), "tee-branch-multilayer-26"},
		{"adapter", size("copper-L", "3/4"), "adapter-copper-3/4"},
		{"entry", size("copper-L", "3/4"), "tank-entry"},
		{"exit", size("copper-L", "3/4"), "tank-exit"},
	} {
		f, err := c.Fitting(tc.kind, tc.size)
		if err != nil || f.Key != tc.want {
			t.Errorf("Fitting(%q, %s) = %s, %v, want %s", tc.kind, tc.size, f.Key, err, tc.want)
		}
		if f.K != 0 {
			t.Errorf("%s: K is not turned into Kinf", f.Key)
		}
	}
	if _, err := c.Fitting("swivel", size("copper-L", "1")); err == nil {
		t.Error("a kind that is not there is an error")
	}
}

// TestEveryFittingFits strings every fitting on the pipes it can go on: none is dead weight.
func TestEveryFittingFits(t *testing.T) {
	c := loaded(t)
	used := map[string]bool{}
	for size, p := range c.Pipes {
		for _, kind := range []string{"elbow", "tee-run", "tee-branch", "adapter", "entry", "exit"} {
			f, err := c.Fitting(kind, size)
			if err != nil {
				t.Errorf("%s has no %s", size, kind)
				continue
			}
			used[f.Key] = true
			if k := f.Loss(1e5, p.Bore); !(k > 0 && k < 12) {
				t.Errorf("%s on %s: K %v", f.Key, size, k)
			}
		}
	}
	// Threaded tees and elbows stand by themselves, not on a family.
	used["elbow"], used["tee-run"], used["tee-branch"] = true, true, true
	for key, f := range c.Fittings {
		if f.Kind == "bush" {
			_, ok := c.Bush(f.Thread, f.Mark, 0.02)
			used[key] = ok
		}
		if f.Kind == "nipple" || f.Kind == "union" {
			_, used[key] = c.Valves["ball-"+f.Mark] // it joins parts there are
		}
		if !used[key] {
			t.Errorf("%s fits nothing", key)
		}
	}
}

// Two-K figures at 16 mm and high Reynolds number: elbow 0.40 × (1 + 25.4/16) = 1.035 (Hooper 1981).
func TestLoss(t *testing.T) {
	c := loaded(t)
	if got, want := c.Fittings["elbow"].Loss(1e9, 0.016), 0.40*(1+25.4/16); math.Abs(got-want) > 1e-5 {
		t.Errorf("elbow at 16 mm: K = %v, want %v", got, want)
	}
	if got, want := c.Fittings["elbow"].Loss(1000, 0.0254), 800.0/1000+0.80; math.Abs(got-want) > 1e-12 {
		t.Errorf("elbow at 1 in, Re 1000: K = %v, want %v", got, want)
	}
	if got := c.Fittings["tank-entry"].Loss(1e12, 0.026); math.Abs(got-0.5) > 1e-9 {
		t.Errorf("a tank outlet takes %v, want 0.5 on any bore", got)
	}
}

func TestDesignFlow(t *testing.T) {
	c := loaded(t)
	for _, tc := range []struct {
		units   float64
		largest quantity.Flow
		want    float64 // L/s
		tol     float64
		src     string
	}{
		{10, 0, 0.27, 1e-9, "point"},
		{165, 0, 0.98, 1e-9, "point"},
		{2100, 0, 3.93, 1e-9, "last point"},
		{1, 0, 0.087, 1e-9, "first point"},
		{4, 0, 0.087 * 2, 0.004, "0.087 √units"},
		{14, 5e-4, 0.5, 0, "a garden tap alone draws more"},
		{math.Sqrt(20 * 50), 0, math.Sqrt(0.40 * 0.63), 1e-9, "half way on the logarithm"},
		{0, 2e-4, 0.2, 0, "nothing but the largest"},
	} {
		q, ok := c.DesignFlow(tc.units, tc.largest)
		if got := float64(q) * 1e3; !ok || math.Abs(got-tc.want) > tc.tol+1e-12 {
			t.Errorf("DesignFlow(%v, %v) = %v L/s, want %v (%s)", tc.units, tc.largest, got, tc.want, tc.src)
		}
	}
	for _, bad := range []float64{-1, 2101, math.NaN(), math.Inf(1)} {
		if _, ok := c.DesignFlow(bad, 0); ok {
			t.Errorf("DesignFlow(%v) gave a figure", bad)
		}
	}
}

func TestDesignFlowRises(t *testing.T) {
	c := loaded(t)
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.Float64Range(0.1, 2000).Draw(t, "units")
		v := rapid.Float64Range(u, 2100).Draw(t, "more")
		a, _ := c.DesignFlow(u, 0)
		b, _ := c.DesignFlow(v, 0)
		if b < a*(1-1e-12) {
			t.Fatalf("%v units draw %v, %v draw %v", u, a, v, b)
		}
	})
}

func TestDistance(t *testing.T) {
	for _, tc := range []struct {
		a, b string
		want int
	}{{"kitten", "sitting", 3}, {"", "abc", 3}, {"same", "same", 0}, {"flaw", "lawn", 2}} {
		if got := distance(tc.a, tc.b); got != tc.want {
			t.Errorf("distance(%q, %q) = %d, want %d", tc.a, tc.b, got, tc.want)
		}
	}
}

func TestRulePanicsOnUnknown(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("a rule that cannot exist is our own fault")
		}
	}()
	(&Profile{}).Rule("max-colour")
}
