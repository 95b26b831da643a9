package service

import (
	"os"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/finding"
	"tideover/internal/job"
)

// site is one example read, planned and made a circuit.
type site struct {
	job     *job.Job
	cat     *catalogue.Catalogue
	profile *catalogue.Profile
	plan    *assembly.Assembly
	circuit *circuit.Circuit
}

func readSite(t testing.TB, name string, change func(*job.Job)) site {
	t.Helper()
	src, err := os.ReadFile("../../examples/" + name + ".job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	doc, faults := job.Read(name, src)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	s := site{job: doc.Job}
	if change != nil {
		change(s.job)
	}
	if s.cat, err = catalogue.Load(); err != nil {
		t.Fatal(err)
	}
	if s.profile, err = s.cat.Profile(s.job.Profile); err != nil {
		t.Fatal(err)
	}
	s.build(t)
	return s
}

func (s *site) build(t testing.TB) {
	t.Helper()
	var err error
	if s.plan, err = assembly.Build(s.job, s.cat, s.profile); err != nil {
		t.Fatal(err)
	}
	if s.circuit, err = circuit.New(s.plan, circuit.Read(s.job)); err != nil {
		t.Fatal(err)
	}
}

func (s *site) analyse(t testing.TB, record bool) *Result {
	t.Helper()
	in := Read(s.job, s.plan, s.cat, s.profile)
	in.Record = record
	r, err := Analyse(s.circuit, in)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestDump(t *testing.T) {
	for _, name := range []string{"kestrel-rise", "juniper-flat"} {
		s := readSite(t, name, nil)
		r := s.analyse(t, true)
		for _, f := range r.Failed {
			t.Errorf("%+v", f)
		}
		for _, m := range r.Modes {
			t.Logf("%s %s %s main %.2f bar", name, m.ID, m.Setting, m.Main/1e5)
			for _, d := range m.Alone {
				t.Logf("   %-10s %5.2f L/min need %5.2f  %.2f bar sensor %.2f left %v", d.Outlet, d.Flow*60000, d.Need*60000, d.Pressure/1e5, d.Sensor/1e5, d.Left)
			}
			for _, d := range m.Together {
				t.Logf("   + %-10s %5.2f L/min need %5.2f  %.2f bar %v left %v hunts %v", d.Outlet, d.Flow*60000, d.Need*60000, d.Pressure/1e5, d.Open, d.Left, d.Hunts)
			}
			if m.Duty != nil {
				t.Logf("   duty %+v", *m.Duty)
			}
			for _, v := range m.Velocity {
				t.Logf("   v %s %.2f m/s %s", v.Run, v.Velocity, v.Rule)
			}
		}
		t.Logf("%+v", *r.Swing)
		for _, x := range r.Rests {
			t.Logf("rest %-10s %.2f..%.2f bar (%s) working %.2f (%s) rating %.1f %v", x.Part, x.Low/1e5, x.High/1e5, x.Cause, x.Working/1e5, x.WorkingCause, x.Rating/1e5, x.Determined)
		}
		for _, x := range r.Refills {
			t.Logf("refill %s %.2f bar %.1f L/min %.1f h", x.Hours, x.Pressure/1e5, x.Flow*60000, x.Time/3600)
		}
	}
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

func TestShowFindings(t *testing.T) {
	for _, name := range []string{"kestrel-rise", "juniper-flat"} {
		s := readSite(t, name, nil)
		r := s.analyse(t, true)
		list := Findings(r, Context{s.job, s.plan, s.cat, s.profile})
		finding.Order(list)
		for i := range list {
			title, text := finding.Text(&list[i], s.job.System())
			t.Logf("%s · %s\n     %s", list[i].Verdict.ID(), title, text)
		}
	}
}
