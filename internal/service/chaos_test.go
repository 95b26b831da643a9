package service

import (
	"math"
	"strings"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/finding"
	"tideover/internal/job"

	"pgregory.net/rapid"
)

// Any home the field table lets through: every case certifies, no figure is undefined,
// no outlet gets water where none can come from, and every sentence has its figures.
func TestAnyHome(t *testing.T) {
	kestrel, juniper := readSite(t, "kestrel-rise", nil), readSite(t, "juniper-flat", nil)
	rapid.Check(t, func(r *rapid.T) {
		s := rapid.SampledFrom([]example{kestrel, juniper}).Draw(r, "site")
		j := s.job.Clone()
		j.Choices.Arrangement = rapid.SampledFrom(assembly.Arrangements()).Draw(r, "arrangement")
		j.Choices.Control = rapid.SampledFrom([]string{"pressure-switch", "flow-control", "speed-control"}).Draw(r, "control")
		j.Choices.LockLow.V, j.Choices.LockHigh.V = 1.2e5, 1.8e5
		for _, m := range []struct {
			path     string
			low, top float64
		}{
			{"supply.static", 0, 10e5}, {"supply.night-maximum", 0, 16e5}, {"supply.service.length", 0.5, 500},
			{"home.level", -30, 40}, {"choices.store.level", -5, 30}, {"choices.pump.level", -5, 30},
			{"pipework.store-to-pump", 0.2, 100}, {"pipework.tee-to-store", 0.2, 200}, {"place.water", 1, 40},
			{"choices.pump.cut-in", 0.2e5, 4e5}, {"choices.store.count", 1, 4}, {"place.altitude", 0, 4000},
		} {
			if rapid.Bool().Draw(r, m.path) {
				continue
			}
			x := rapid.Float64Range(m.low, m.top).Draw(r, "value")
			if m.path == "choices.store.count" {
				x = math.Round(x)
			}
			next, err := j.With(m.path, x)
			if err != nil {
				r.Fatal(err)
			}
			j = next
		}
		check(r, s, j)
	})
}

func check(r *rapid.T, s example, j *job.Job) {
	c := s
	c.job = j
	if err := c.tryBuild(); err != nil {
		if strings.Contains(err.Error(), "circuit") {
			r.Fatalf("the circuit refuses a home that could be laid out: %v", err)
		}
		r.Skip()
	}
	res, err := Analyse(c.circuit, Read(c.job, c.plan, c.cat, c.profile))
	if err != nil {
		r.Fatal(err)
	}
	for _, f := range res.Failed {
		r.Errorf("not certified: %+v", f)
	}
	for _, m := range res.Modes {
		for _, d := range m.Alone {
			if !(d.Flow >= 0) || math.IsInf(float64(d.Flow), 0) || !(d.Pressure >= 0) {
				r.Errorf("%s %s: flow %g, pressure %g", m.ID, d.Outlet, d.Flow, d.Pressure)
			}
		}
	}
	for _, f := range Findings(nil, res, Context{c.job, c.plan, c.cat, c.profile, false}) {
		title, sentence := finding.Text(&f, c.job.System())
		if math.IsNaN(f.Figure.SI) || strings.ContainsAny(title+sentence, "‹›") {
			r.Errorf("%q: figure %g: %s: %s", f.Key(), f.Figure.SI, title, sentence)
		}
	}
}
