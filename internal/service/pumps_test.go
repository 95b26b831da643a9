package service

import (
	"testing"

	"tideover/internal/job"
)

// TestPumpsSideBySide: on standby one pump does what one alone does, but for the tees, and
// each starts half as often; together they pass at one head twice what one passes, and
// take twice the power for it.
func TestPumpsSideBySide(t *testing.T) {
	of := func(n float64, duty string) *Result {
		s := readSite(t, "osprey-house", func(j *job.Job) {
			j.Choices.Pumps.V, j.Choices.PumpDuty = 1, duty
			if n == 2 {
				j.Choices.Pumps.V = 2
			}
		})
		return s.analyse(t, true)
	}
	one, standby, assist := of(1, ""), of(2, "standby"), of(2, "assist")
	duty := func(r *Result) *Duty { return r.Mode("on-store").Duty }
	if a, b := duty(one), duty(standby); b.Pumps != 1 || b.Pump != "P1" {
		t.Errorf("on standby %d run, %s: %+v, alone %+v", b.Pumps, b.Pump, b, a)
	}
	near(t, "flow on standby", float64(duty(one).Flow), float64(duty(standby).Flow), 0.02)
	near(t, "starts on standby", one.Swing.Starts/2, standby.Swing.Starts, 1e-9)
	near(t, "time between starts at a drip", 2*float64(one.Swing.LeakPeriod), float64(standby.Swing.LeakPeriod), 1e-9)
	if d := duty(assist); d.Pumps != 2 {
		t.Errorf("together %d run", d.Pumps)
	}
	// The same water at the same pressure asks the same power of the water, so that the
	// set's flow counts whole.
	a, b := duty(standby), duty(assist)
	near(t, "power per head and flow", float64(a.Power)/float64(a.Flow)/float64(a.Head), float64(b.Power)/float64(b.Flow)/float64(b.Head), 1e-9)
	full, both := standby.Curves.Pump, assist.Curves.Pump
	for _, p := range full[1:8] {
		near(t, "head of both at twice the flow", float64(p.Head), at(t, both, 2*float64(p.Flow)), 2e-2)
	}
	if b.NPSHNeeds > a.NPSHNeeds {
		t.Errorf("each of two carries half, and asks for more at its inlet: %g m, one %g m", b.NPSHNeeds, a.NPSHNeeds)
	}
}
