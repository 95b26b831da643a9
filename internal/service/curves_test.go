package service

import (
	"math"
	"testing"

	"tideover/internal/catalogue"
)

// at reads a curve at a flow by straight lines between its points.
func at(t *testing.T, curve []CurvePoint, q float64) float64 {
	t.Helper()
	for i := 1; i < len(curve); i++ {
		a, b := curve[i-1], curve[i]
		if float64(a.Flow) <= q && q <= float64(b.Flow) {
			x := (q - float64(a.Flow)) / float64(b.Flow-a.Flow)
			return float64(a.Head) + x*float64(b.Head-a.Head)
		}
	}
	t.Fatalf("flow %g lies outside the curve %v", q, curve)
	return 0
}

// TestCurves: each point of the pipework's curve lies on the pump's at its speed, by the
// affinity laws and the three catalogue points worked out here; both curves bend the way
// they must; at no flow the pipework asks for the plain lift to the lowest open outlet
// and what opens the non-return valves; the duty stands where it should.
func TestCurves(t *testing.T) {
	for _, name := range []string{"kestrel-rise", "juniper-flat"} {
		s := readSite(t, name, nil)
		r := s.analyse(t, true)
		c := r.Curves
		if c == nil {
			t.Fatalf("%s: no curves", name)
		}
		row, ok := s.plan.Parts[s.circuit.Pump()].Row.(catalogue.Pump)
		if !ok {
			t.Fatal("the pump has no row")
		}
		byHand := func(q, speed float64) float64 { // Lagrange through the row's points
			h0, q1, h1, q2, h2 := float64(row.Shutoff), float64(row.Q1), float64(row.H1), float64(row.Q2), float64(row.H2)
			x := q / speed
			return speed * speed * (h0*(x-q1)*(x-q2)/(q1*q2) + h1*x*(x-q2)/(q1*(q1-q2)) + h2*x*(x-q1)/(q2*(q2-q1)))
		}
		for _, p := range append(append([]CurvePoint{}, c.Pump...), c.Circuit...) {
			near(t, name+": head", byHand(float64(p.Flow), p.Speed), float64(p.Head), 2e-3)
		}
		for i := 1; i < len(c.Circuit); i++ {
			if c.Circuit[i].Flow <= c.Circuit[i-1].Flow || c.Circuit[i].Head <= c.Circuit[i-1].Head {
				t.Errorf("%s: the pipework's curve does not rise at %d", name, i)
			}
		}
		for i := 1; i < len(c.Pump); i++ {
			if c.Pump[i].Head >= c.Pump[i-1].Head {
				t.Errorf("%s: the pump's curve does not fall at %d", name, i)
			}
		}
		if end := c.Circuit[len(c.Circuit)-1]; end.Speed != 1 {
			t.Errorf("%s: the curve ends at speed %g, want full speed", name, end.Speed)
		}
		lift := s.lowestOpen(c.Open) - float64(Read(s.job, s.plan, s.cat, s.profile).Low)
		if got := float64(c.Circuit[0].Head); got < lift || got > lift+2 {
			t.Errorf("%s: at no flow the pipework asks for %.2f m, want %.2f m and a little for the non-return valves", name, got, lift)
		}
	}
}

// lowestOpen is the height of the lowest outlet that is open.
func (s *example) lowestOpen(open []string) float64 {
	low := math.Inf(1)
	for _, tag := range open {
		low = math.Min(low, float64(s.plan.Parts[s.plan.Index(tag)].Ports[0].Z))
	}
	return low
}

// TestCurvesMeetTheDuty: a speed-controlled pump works on the pipework's curve, at the
// slowed pump's curve and at the controller's upper pressure.
func TestCurvesMeetTheDuty(t *testing.T) {
	s := readSite(t, "kestrel-rise", nil)
	r := s.analyse(t, true)
	duty, c := r.Mode("on-store").Duty, r.Curves
	q, h := float64(duty.Flow), float64(duty.Head)
	near(t, "pipework at the duty", at(t, c.Circuit, q), h, 0.15)
	near(t, "slowed pump at the duty", at(t, c.Slowed, q), h, 0.05)
	near(t, "controller's upper pressure at the duty", at(t, c.Stop, q), h, 0.01)
	// 0.4 bar lie between cut-in and cut-out: 4.079 m of water (p = ρ g h).
	near(t, "swing", at(t, c.Stop, q)-at(t, c.Start, q), 0.4e5/9806.65, 1e-3)
}

// TestCurvesOnlyOnce: a rerun for spread works out none.
func TestCurvesOnlyOnce(t *testing.T) {
	s := readSite(t, "kestrel-rise", nil)
	if s.analyse(t, false).Curves != nil {
		t.Error("a rerun works out curves")
	}
}
