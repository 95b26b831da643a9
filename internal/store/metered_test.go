package store

import (
	"strings"
	"testing"

	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// TestMetered: 4 people whose meter ran 15.6 m³ in 30 days use 130 L each. What is stated may
// be a tenth off, as two readings are; more is told, with which of the two was reckoned with.
func TestMetered(t *testing.T) {
	for _, c := range []struct {
		litres float64
		want   finding.Verdict
	}{{130, finding.Fine}, {142.9, finding.Fine}, {143.1, finding.LookAt}, {117.1, finding.Fine}, {116.9, finding.LookAt}} {
		j := &job.Job{}
		j.Home.People.V = 4
		j.Home.Use.V = quantity.Volume(c.litres / 1000)
		j.Home.Meter.First.V, j.Home.Meter.FirstDate = 100, "2026-01-01"
		j.Home.Meter.Second.V, j.Home.Meter.SecondDate = 115.6, "2026-01-31"
		list := metered(nil, j)
		if len(list) != 1 || list[0].Verdict != c.want {
			t.Fatalf("%v L: %+v", c.litres, list)
		}
		if _, sentence := finding.Text(&list[0], quantity.Metric); !strings.Contains(sentence, "the stated figure was reckoned with") && !strings.Contains(sentence, "The stated figure was reckoned with") || !strings.Contains(sentence, "130 L") {
			t.Errorf("%v L: %s", c.litres, sentence)
		}
		j.Home.Use.From = job.FromMeter
		if list := metered(nil, j); len(list) != 0 {
			t.Error("the meter contradicts itself")
		}
		j.Home.Use.From, j.Home.Meter.SecondDate = "", ""
		if list := metered(nil, j); len(list) != 0 {
			t.Error("one reading is held against what is stated")
		}
	}
}
