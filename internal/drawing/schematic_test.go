package drawing

import (
	"flag"
	"fmt"
	"os"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/demo"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

var update = flag.Bool("update", false, "rewrite the golden drawings")

// example builds the assembly of an example job, in another arrangement if one is named.
func example(t testing.TB, name, arrangement string) (*assembly.Assembly, *job.Job) {
	t.Helper()
	j := demo.Job(t, name)
	if arrangement != "" {
		j.Choices.Arrangement = arrangement
	}
	if arrangement == assembly.Raised {
		j.Choices.StoreLevel.V = 17
	}
	if arrangement == assembly.HeaderTank {
		j.Choices.HeaderLevel.V = 17
	}
	return build(t, j), j
}

func build(t testing.TB, j *job.Job) *assembly.Assembly {
	t.Helper()
	rows, p := demo.Rows(t, "generic")
	a, err := assembly.Build(j, rows, p)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// staged is a view for looking at: every kind of water, without solving anything. From
// the main, the service and the main leg move; from the store, the boost does; the rest
// of the way to one outlet moves with them.
func staged(a *assembly.Assembly, setting, jobName string, onMain bool, sys quantity.System) View {
	v := View{Job: jobName, Setting: setting, Parts: map[string]Standing{}, Units: sys}
	if s := a.Setting(setting); s != nil {
		v.Positions = s.Positions
	}
	outlets := 0
	for i := range a.Parts {
		p := &a.Parts[i]
		s := Standing{Water: StandsThere}
		moving := FromStore
		if onMain {
			moving = FromMain
		}
		switch p.Role {
		case assembly.Service, assembly.MainLeg:
			if onMain {
				s = Standing{Water: FromMain, Flow: 2e-4, Speed: 0.6}
			} else {
				s = Standing{Water: Dry}
			}
		case assembly.Boost, assembly.Storage:
			if !onMain {
				s = Standing{Water: FromStore, Flow: 2e-4, Speed: 0.5}
			}
		case assembly.Feed:
			if onMain {
				s = Standing{Water: FromMain, Flow: 5e-5, Speed: 0.1}
			} else {
				s = Standing{Water: Dry}
			}
		case assembly.HomeRole:
			if p.Purpose == assembly.AsHomeRun {
				s = Standing{Water: moving, Flow: 2e-4, Speed: 0.7}
			}
			if p.Purpose == assembly.AsOutletRun {
				if outlets++; outlets == 3 {
					s = Standing{Water: moving, Flow: 2e-4, Speed: 1.2}
				}
			}
		}
		v.Parts[p.Tag] = s
	}
	return v
}

var shown = []struct {
	name, job, arrangement, setting string
	onMain                          bool
	units                           quantity.System
}{
	{"kestrel-normal", "kestrel-rise", "", "normal", true, quantity.Metric},
	{"kestrel-on-store", "kestrel-rise", "", "on-store", false, quantity.Metric},
	{"kestrel-through-store", "kestrel-rise", "through-store", "on-store", false, quantity.Metric},
	{"kestrel-kitchen-on-main", "kestrel-rise", "kitchen-on-main", "normal", true, quantity.Metric},
	{"kestrel-spool-out", "kestrel-rise", "spool", "on-store", false, quantity.Metric},
	{"kestrel-spool-in", "kestrel-rise", "spool", "emergency", true, quantity.Metric},
	{"kestrel-hand-by-pass", "kestrel-rise", "hand-by-pass", "on-main", true, quantity.Metric},
	{"kestrel-in-line", "kestrel-rise", "in-line", "normal", true, quantity.Metric},
	{"kestrel-raised", "kestrel-rise", "raised", "on-store", false, quantity.Metric},
	{"kestrel-header", "kestrel-rise", "header", "on-store", false, quantity.Metric},
	{"juniper-on-main", "juniper-flat", "", "on-main", true, quantity.US},
	{"juniper-on-store", "juniper-flat", "", "on-store", false, quantity.US},
}

func TestGolden(t *testing.T) {
	for _, c := range shown {
		a, j := example(t, c.job, c.arrangement)
		got := render(t, Schematic(a, staged(a, c.setting, j.Name, c.onMain, c.units)), Screen)
		wellFormed(t, got)
		file := "testdata/" + c.name + ".svg"
		if *update {
			if err := os.WriteFile(file, []byte(got), 0o666); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if got != string(want) {
			t.Errorf("%s differs; look at it, and if the change is meant run go test -update", file)
		}
	}
}

func BenchmarkSchematic(b *testing.B) {
	a, j := example(b, "kestrel-rise", "")
	v := staged(a, "normal", j.Name, true, quantity.Metric)
	b.ReportAllocs()
	for b.Loop() {
		_ = render(b, Schematic(a, v), Screen)
	}
}

func BenchmarkSixtyOutlets(b *testing.B) {
	_, j := example(b, "kestrel-rise", "")
	first := j.Outlets[0]
	j.Outlets = nil
	for i := range 60 {
		o := first
		o.Tag = fmt.Sprintf("tap-%d", i)
		o.Height.V = quantity.Length(i%11) / 2
		j.Outlets = append(j.Outlets, o)
	}
	a := build(b, j)
	for b.Loop() {
		_ = render(b, Schematic(a, View{}), Screen)
	}
}
