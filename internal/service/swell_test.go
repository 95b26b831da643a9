package service

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"tideover/internal/finding"
	"tideover/internal/hydraulics"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// TestSwellByHand: 1,000 L of water from 22 to 60 °C: densities 997.77 and 983.20 kg/m³
// (tables), so 14.8 L more. A vessel of 24 L charged to and standing at 3 bar takes
// 24 (1 − 4.013/6.413) = 8.98 L up to 5.4 bar.
func TestSwellByHand(t *testing.T) {
	if got := 1000 * hydraulics.Swell(1, 22, 60); math.Abs(got-14.82) > 0.03 {
		t.Errorf("1,000 L grow by %.3f L, want 14.82", got)
	}
	if got := 1000 * hydraulics.DrawdownEq.Fn([]float64{0.024, 4.01325e5, 4.01325e5, 6.41325e5}); math.Abs(got-8.98) > 0.01 {
		t.Errorf("24 L take %.3f L, want 8.98", got)
	}
}

// TestRoomForHeatedWater: what the heater holds decides; not told, nothing is judged, and a
// heater that heats as it flows, or a home without the vessel, is not asked.
func TestRoomForHeatedWater(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*job.Job)
		want   finding.Verdict
		field  string
	}{
		{"two cylinders of 500 L, 24 L beside them", func(*job.Job) {}, finding.LookAt, ""},
		{"60 L beside them", func(j *job.Job) { j.Choices.Expansion = "vessel-60" }, finding.Fine, ""},
		{"not told", func(j *job.Job) { j.Home.HotVolume.V = 0 }, finding.NotJudged, "home.heater.volume"},
		{"a small heater", func(j *job.Job) { j.Home.HotVolume.V = 0.1 }, finding.Fine, ""},
	} {
		s := readSite(t, "osprey-house", func(j *job.Job) { j.Home.HotVolume.V = 1; c.change(j) })
		f := judged(t, s.findings(t), "heater-room", "")
		if f.Verdict != c.want || c.field != "" && f.Names["field"] != c.field {
			t.Errorf("%s: %s (%.3g of %.3g L), field %q", c.name, f.Verdict.ID(), 1000*f.Figure.SI, 1000*f.Limit.SI, f.Names["field"])
		}
		if c.want == finding.LookAt && len(f.Cures) == 0 {
			t.Errorf("%s: nothing is tried", c.name)
		}
	}
	s := readSite(t, "osprey-house", func(j *job.Job) { j.Home.Heater = "instant-gas"; j.Home.HotVolume.V = 1 })
	for _, f := range s.findings(t) {
		if f.ID == "heater-room" {
			t.Errorf("one that stores nothing: %s", f.Verdict.ID())
		}
	}
}

// TestMoreHotWaterNeverFitsBetter: more water, colder before, never grows less; a larger
// vessel never takes less.
func TestMoreHotWaterNeverFitsBetter(t *testing.T) {
	s := readSite(t, "osprey-house", nil)
	r := s.analyse(t, true)
	rows := []string{"vessel-8", "vessel-24", "vessel-60", "vessel-100"}
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(0.02, 2).Draw(t, "volume")
		cold := rapid.Float64Range(2, 40).Draw(t, "cold")
		of := func(v, cold float64, row string) (takes, grows float64) {
			j := *s.job
			j.Home.HotVolume.V, j.Place.Water.V = quantity.Volume(v), quantity.Temperature(cold)
			plan := *s.plan
			plan.Parts = append(plan.Parts[:0:0], plan.Parts...)
			for i := range plan.Parts {
				if plan.Parts[i].Tag == "E2" {
					plan.Parts[i].Row = s.cat.Vessels[row]
				}
			}
			for _, f := range Findings(nil, r, Context{&j, &plan, s.cat, s.profile, false}) {
				if f.ID == "heater-room" {
					return f.Figure.SI, f.Limit.SI
				}
			}
			t.Fatal("not judged at all")
			return 0, 0
		}
		i := rapid.IntRange(0, len(rows)-2).Draw(t, "vessel")
		takes, grows := of(v, cold, rows[i])
		larger, _ := of(v, cold, rows[i+1])
		_, more := of(1.5*v, cold, rows[i])
		_, colder := of(v, cold-1, rows[i])
		if larger < takes || more < grows || cold > 6 && colder < grows {
			t.Fatalf("takes %g, larger %g; grows %g, more %g, colder %g", takes, larger, grows, more, colder)
		}
	})
}

// TestDrawOffOfADwelling: the rule for what is drawn at once counts for dwellings: with more
// than ten people nothing that rests on it is fine, and what fails stays told.
func TestDrawOffOfADwelling(t *testing.T) {
	rests := map[string]bool{"outlet-together": true, "pump-duty": true, "npsh": true, "velocity": true}
	for _, people := range []quantity.Ratio{10, 11} {
		s := readSite(t, "osprey-house", func(j *job.Job) { j.Home.People.V = people })
		fine, told := 0, 0
		for _, f := range s.findings(t) {
			switch {
			case !rests[f.ID]:
			case f.Verdict == finding.Fine:
				fine++
			case f.Names["field"] == "@draw-off.rule":
				told++
			}
		}
		if crowd := people > 10; crowd == (fine > 0) || crowd != (told > 0) {
			t.Errorf("%g people: %d fine, %d not judged for the rule's range", people, fine, told)
		}
	}
}
