package assembly

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"tideover/internal/catalogue"
	"tideover/internal/job"
	"tideover/internal/words"
)

// TestInvariants holds every layout of random jobs to what a layout must be.
func TestInvariants(t *testing.T) {
	c, p := rows(t)
	rapid.Check(t, func(t *rapid.T) {
		j := randomJob(t, c)
		a, err := Build(j, c, p)
		if err != nil {
			t.Fatalf("every row of the catalogue can be built with: %v", err)
		}
		again, _ := Build(j, c, p)
		if d := cmp.Diff(a, again, cmpopts.IgnoreUnexported(Assembly{})); d != "" {
			t.Fatalf("the same job gave another layout:\n%s", d)
		}
		joins(t, a)
		ends(t, a, c)
		tags(t, a)
		heights(t, a)
		settings(t, a)
		reach(t, a, j)
		pumped(t, a, j)
		if n := len(a.Of(Outlet)); n != len(j.Outlets) {
			t.Fatalf("%d outlets laid out of %d", n, len(j.Outlets))
		}
	})
}

// joins: a port meets at most one other, and an open port says that it is.
func joins(t *rapid.T, a *Assembly) {
	met := map[End]int{}
	for _, j := range a.Joins {
		met[j.A]++
		met[j.B]++
		if j.A.Part == j.B.Part {
			t.Fatalf("%s is joined to itself", a.Parts[j.A.Part].Tag)
		}
	}
	for i := range a.Parts {
		for k, port := range a.Parts[i].Ports {
			declared := port.End == "open" || port.End == "capped"
			if n := met[End{i, k}]; n > 1 || (n == 1) == declared {
				t.Fatalf("%s.%s (%s) is joined %d times", a.Parts[i].Tag, port.Name, port.End, n)
			}
		}
	}
}

// ends: joined ports fit: the same, or a pipe with its adapter, or threads with a bush.
func ends(t *rapid.T, a *Assembly, c *catalogue.Catalogue) {
	for _, j := range a.Joins {
		x, y := a.Parts[j.A.Part].Ports[j.A.Port], a.Parts[j.B.Part].Ports[j.B.Port]
		if x.Size == y.Size && x.End == y.End {
			continue
		}
		one, other := thread(x, c), thread(y, c)
		if one == other {
			continue
		}
		if _, ok := c.Bush(one, other, 0.02); !ok {
			t.Fatalf("%s.%s (%s) does not fit %s.%s (%s)", a.Parts[j.A.Part].Tag, x.Name, x.Size, a.Parts[j.B.Part].Tag, y.Name, y.Size)
		}
	}
}

func thread(p Port, c *catalogue.Catalogue) string {
	if p.Size.Family == "thread" {
		return p.Size.Mark
	}
	return c.Pipes[p.Size].Thread
}

func tags(t *rapid.T, a *Assembly) {
	seen := map[string]bool{}
	for i := range a.Parts {
		p := &a.Parts[i]
		if p.Tag == "" || seen[p.Tag] || p.Purpose == "" || !words.Has(p.Purpose.Message()) {
			t.Fatalf("tag %q, purpose %q: missing or used before", p.Tag, p.Purpose)
		}
		seen[p.Tag] = true
		if (p.Row == nil) != (p.Kind == Main || p.Kind == Tee) {
			t.Fatalf("%s: row %v", p.Tag, p.Row)
		}
	}
}

// heights: joined ports stand at one height, and only a run rises or falls.
func heights(t *rapid.T, a *Assembly) {
	for _, j := range a.Joins {
		x, y := a.Parts[j.A.Part].Ports[j.A.Port], a.Parts[j.B.Part].Ports[j.B.Port]
		if x.Z != y.Z || math.IsNaN(float64(x.Z)) {
			t.Fatalf("%s.%s at %v m meets %s.%s at %v m", a.Parts[j.A.Part].Tag, x.Name, x.Z, a.Parts[j.B.Part].Tag, y.Name, y.Z)
		}
	}
	for i := range a.Parts {
		for _, port := range a.Parts[i].Ports {
			if a.Parts[i].Kind != Run && port.Z != a.Parts[i].Ports[0].Z {
				t.Fatalf("%s rises within itself", a.Parts[i].Tag)
			}
		}
	}
	if len(a.Of(Store)) > 0 {
		gap(t, a)
	}
}

// gap: water falls from the float valve's mouth through air onto the store, above its overflow.
func gap(t *rapid.T, a *Assembly) {
	f, s := &a.Parts[a.Of(FloatValve)[0]], &a.Parts[a.Of(Store)[0]]
	row := s.Row.(catalogue.Store)
	lip := float64(s.Ports[0].Z - row.Outlet + row.Overflow)
	if f.Ports[1].End != "open" || float64(f.Ports[1].Z) < lip+0.02 {
		t.Fatalf("mouth at %v m (%s), overflow's lip at %v m", f.Ports[1].Z, f.Ports[1].End, lip)
	}
}

// settings: every hand-turned part, and no other, has a position it can stand in.
func settings(t *rapid.T, a *Assembly) {
	for _, s := range a.Settings {
		if !words.Has("setting." + s.Name) {
			t.Fatalf("no words for setting %s", s.Name)
		}
		n := 0
		for i := range a.Parts {
			p := &a.Parts[i]
			at, ok := s.Positions[p.Tag]
			if may := p.Positions(); ok != (may != nil) || ok && !has(may, at) {
				t.Fatalf("setting %s: %s stands %q", s.Name, p.Tag, at)
			}
			if ok {
				n++
			}
			if p.Kind == Drain && at != shut && s.Name != "frost" {
				t.Fatalf("setting %s leaves drain %s %s", s.Name, p.Tag, at)
			}
		}
		if n != len(s.Positions) {
			t.Fatalf("setting %s places parts that are not there", s.Name)
		}
	}
}

// boosted: a booster in line has no store; the main reaches every outlet through the pump
// and past it, and with every valve open nothing the pump has lifted gets back to its inlet.
func boosted(t *rapid.T, a *Assembly) {
	street, pump := a.Index(MainTag), a.Of(Pump)[0]
	if len(a.Of(Store)) > 0 || len(a.Of(FloatValve)) > 0 || a.Joined {
		t.Fatal("a booster in line with something stored")
	}
	fed := a.flood(street, &a.Settings[0], true)
	past := a.flood(street, a.Setting("pump-out"), true)
	for _, o := range a.Of(Outlet) {
		if !fed[o] || !past[o] {
			t.Fatalf("%s is not served: %v, with the pump out %v", a.Parts[o].Tag, fed[o], past[o])
		}
	}
	if !fed[pump] || past[pump] {
		t.Fatalf("the main reaches the pump: %v, with it out %v", fed[pump], past[pump])
	}
	if out, ok := a.Meets(End{pump, 1}); ok {
		if back := a.flood(out.Part, a.everything(), true); back[a.Index(a.Controls[1].Tag)] || back[street] {
			t.Fatal("what the pump has lifted gets back to its inlet")
		}
	}
}

// unjoined are the arrangements in which no pipe leads from stored water to the main.
var unjoined = map[string]bool{ThroughStore: true, KitchenOnMain: true, WithSpool: true, Raised: true, HeaderTank: true}

// sources says by which waters an outlet must be served.
func sources(a *Assembly, at int, j *job.Job) (main, store bool) {
	switch a.Arrangement {
	case ThroughStore, HeaderTank:
		return false, true
	case KitchenOnMain, Raised:
		for _, o := range j.Outlets {
			if o.Tag == a.Parts[at].Tag && a.Arrangement == Raised {
				return o.From == "main", o.From != "main"
			}
			if o.Tag == a.Parts[at].Tag {
				stays := o.From == "main" || o.From == "" && o.Kind == "kitchen" && (o.Water != "hot" || j.Home.Heater == "none")
				return stays, !stays
			}
		}
	}
	return true, true
}

func has(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

// reach: what must be able to get where, and what must not.
func reach(t *rapid.T, a *Assembly, j *job.Job) {
	if a.Arrangement == InLine {
		boosted(t, a)
		return
	}
	street, tank := a.Index(MainTag), a.Of(Store)[0]
	if got := a.flood(street, nil, false)[tank]; got == unjoined[a.Arrangement] || a.Joined != got {
		t.Fatalf("%s: pipes join main and store: %v; it says %v", a.Arrangement, got, a.Joined)
	}
	served := make([]bool, len(a.Parts))
	stored := make([]bool, len(a.Parts))
	for i := range a.Settings {
		s := &a.Settings[i]
		mark(served, a.flood(street, s, true))
		for _, from := range a.Of(Store) {
			mark(stored, a.flood(from, s, true))
		}
		if back := a.flood(tank, s, true); back[street] {
			t.Fatalf("setting %s: stored water can pass to the main by open valves and non-return valves", s.Name)
		}
		if s.Name == "boil-notice" {
			for at, reached := range a.flood(street, s, true) {
				if k := a.Parts[at].Kind; reached && (k == Outlet || k == FloatValve) {
					t.Fatalf("under a boil-water notice the main reaches %s", a.Parts[at].Tag)
				}
			}
		}
	}
	for _, o := range a.Of(Outlet) {
		main, store := sources(a, o, j)
		if stored[o] != store {
			t.Fatalf("%s, %s: served from the store in some setting: %v", a.Arrangement, a.Parts[o].Tag, stored[o])
		}
		if served[o] != main {
			t.Fatalf("%s, %s: served from the main in some setting: %v", a.Arrangement, a.Parts[o].Tag, served[o])
		}
		if s := a.Sides(); s.Main[o] != (main && a.Arrangement != WithSpool) || s.Store[o] != store {
			t.Fatalf("%s, %s: sides %v %v", a.Arrangement, a.Parts[o].Tag, s.Main[o], s.Store[o])
		}
	}
	if all := a.flood(tank, a.everything(), true); all[street] || all[a.Of(FloatValve)[0]] {
		t.Fatal("with every valve open stored water passes to the main or round to its own float valve")
	}
	if fed := a.flood(street, &a.Settings[0], true); !fed[a.Of(FloatValve)[0]] {
		t.Fatal("the normal setting does not fill the store")
	}
}

// everything is the worst a hand can do: every valve open, a three-way valve between.
func (a *Assembly) everything() *Setting {
	s := &Setting{Positions: map[string]string{}}
	for i := range a.Parts {
		switch p := &a.Parts[i]; p.Kind {
		case HandValve, Drain:
			s.Positions[p.Tag] = open
		case ThreeWay:
			s.Positions[p.Tag] = "between"
		case Spool:
			s.Positions[p.Tag] = fitted
		}
	}
	return s
}
