package day

import (
	"errors"
	"math"
	"testing"

	"tideover/internal/circuit"
	"tideover/internal/hydraulics"
)

// A plant by hand: a wide store, a pump with its switch and vessel, and one tap. The
// curve of the pump is almost upright at q_p, and the tap draws nearly the same whatever
// presses on it, so that the plain arithmetic of a cycle is almost exact.
type bench struct {
	area                  float64
	pump                  float64 // flow the pump gives at any head in use
	draw                  float64 // flow of the tap
	volume, charge        float64 // of the vessel, m³ and gauge head m
	on, off               float64 // heads
	kind                  Kind
	curve                 [5]float64 // of the pump instead: h0, q1, h1, q2, h2
	tap                   float64    // coefficient of the tap instead of draw
	store                 Store
	dryStop, retry, runOn float64
	still                 float64
	need                  float64
	noVessel              bool
}

const air = 101325.0

func (b bench) plant(t testing.TB) *Plant {
	t.Helper()
	must := func(err error) {
		if err != nil {
			t.Fatal(err)
		}
	}
	var pump *hydraulics.Pump
	var err error
	if b.curve[0] > 0 {
		pump, err = hydraulics.NewPump("P1", b.curve[0], b.curve[1], b.curve[2], b.curve[3], b.curve[4], 0)
	} else { // 900 m at no flow, so steep that 30 m up or down change the flow by 2 %
		pump, err = hydraulics.NewPumpCurve("P1", 900, (900-30)/b.pump, 0, 0)
	}
	must(err)
	check, err := hydraulics.NewNonReturn("N1", 1, 2, 0.05, 0)
	must(err)
	c, limit := b.tap, b.draw
	if c == 0 {
		c = 1 // the regulator alone holds the flow
	}
	tap, err := hydraulics.NewOutlet("tap", c, limit)
	must(err)
	points := []hydraulics.Point{{Name: "surface", Held: true}, {Name: "pump"}, {Name: "tee"}, {Name: "mouth", Held: true}}
	elements := []hydraulics.Element{
		{Name: "P1", From: 0, To: 1, Law: pump},
		check,
		{Name: "tap", From: 2, To: 3, Law: tap, OneWay: true},
	}
	net, err := hydraulics.NewNet(points, elements)
	must(err)
	st := Store{Surface: []int32{0}, Area: b.area, Low: 0, Lip: 3, Shut: 2.9, Band: 0.05}
	if b.store.Area > 0 {
		st = b.store
	}
	p := &Plant{Net: net, Street: -1, Main: -1, Store: st, Shut: [][]bool{make([]bool, 3)},
		Outlets: []Outlet{{Tag: "tap", Element: 2, Need: b.need}},
		Pump: &Pump{Element: 0, Law: pump, Kind: b.kind, Sensor: 2, On: b.on, Off: b.off, Still: b.still, RunOn: b.runOn,
			DryStop: b.dryStop, Retry: b.retry, Rated: 500, At: 1e-3, Idle: 0.6}}
	if !b.noVessel {
		p.Vessel = &Vessel{Point: 2, Volume: b.volume, Charge: b.charge*circuit.Weight + air, Air: air}
	}
	return ready(t, p)
}

func hydrophore(pump, draw float64) bench {
	return bench{area: 1e3, pump: pump, draw: draw, volume: 0.0967, charge: 18, on: 20, off: 35, dryStop: 30, retry: 1800}
}

func drawing(until, level, vessel float64) *Schedule {
	return &Schedule{Until: until, Level: level, Vessel: vessel, Main: []Pressing{{Off: true}},
		Draws: []Draw{{Outlet: 0, Start: 0, Duration: 2 * until}}}
}

// TestCycleOfASwitch: at half the pump's flow a cycle is 4 V_d/Q; at other draws it is
// V_d/(Q − d) + V_d/d (mass balance), and starts an hour follow.
func TestCycleOfASwitch(t *testing.T) {
	const q = 40.0 / 60000
	for _, share := range []float64{0.2, 0.5, 0.8} {
		b := hydrophore(q, share*q)
		p := b.plant(t)
		v := p.Vessel
		down := v.Water(35) - v.Water(20)
		// Filling and emptying as a sum of thin slices of water, by the pump's own curve.
		want, mean := 0.0, 0.0
		const slices = 20000
		for i := range slices {
			w := v.Water(20) + down*(float64(i)+0.5)/slices
			h := (v.Charge*v.Volume/(v.Volume-w) - air) / circuit.Weight
			d := share * q * (1 + 1e-5*h) // the regulator gives 0.1 % more at another 100 m
			give := (900 + 2 - h) / ((900 - 30) / q)
			want += down / slices * (1/(give-d) + 1/d)
			mean += give / slices
		}
		r, err := ByEvents(p, drawing(7200, 2, 35))
		if err != nil {
			t.Fatal(err)
		}
		n := len(r.Starts)
		if n < 4 {
			t.Fatalf("%d starts", n)
		}
		got := (r.Starts[n-1] - r.Starts[1]) / float64(n-2)
		if math.Abs(got-want) > 2e-4*want {
			t.Errorf("draw %.0f %%: cycle %.4f s, want %.4f s", 100*share, got, want)
		}
		if share == 0.5 {
			if four := 4 * down / mean; math.Abs(got-four) > 0.003*four {
				t.Errorf("cycle %.4f s, 4 V_d/Q = %.4f s", got, four)
			}
		}
		most, _ := r.Busiest()
		if float64(most) > 3600/want+1 || float64(most) < 3600/want-1 {
			t.Errorf("draw %.0f %%: %d starts in the busiest hour, want %.2f", 100*share, most, 3600/want)
		}
		closes(t, r)
	}
}

// booked is the day of a home with the books of energy kept.
func booked(h homeRun) (*Day, error) {
	d, err := Prepare(h.ci, h.in)
	if d != nil {
		d.Schedule.Unbooked = false
		err = d.Run(nil)
	}
	return d, err
}

func closes(t testing.TB, r *Result) {
	t.Helper()
	if !(r.Closes.Water < 1e-9 && r.Closes.Energy < 1e-9) {
		t.Errorf("books are out by %.3g of the water and %.3g of the energy", r.Closes.Water, r.Closes.Energy)
	}
}

// TestVesselRunsDown: with no pump the time a steady draw takes from one pressure to
// another is the drawdown over the draw, to rounding (Boyle's law; W8 and the worked
// drawdowns of the reference).
func TestVesselRunsDown(t *testing.T) {
	for _, c := range []struct{ volume, charge, from, to float64 }{{0.0967, 18, 35, 20}, {0.322, 19.7, 35.2, 21.1}, {0.008, 19.4, 28.6, 24.5}} {
		b := hydrophore(40.0/60000, 10.0/60000)
		b.volume, b.charge, b.on, b.off = c.volume, c.charge, c.to, c.from
		p := b.plant(t)
		abs := func(head float64) float64 { return head*circuit.Weight + air }
		want := c.volume * abs(c.charge) * (1/abs(c.to) - 1/abs(c.from)) / (10.0 / 60000)
		r, err := ByEvents(p, drawing(3600, 2, c.from))
		if err != nil {
			t.Fatal(err)
		}
		// The regulator lets the flow rise by 0.1 % at another 100 m.
		if got := r.Starts[0]; math.Abs(got-want) > 1e-3*want {
			t.Errorf("first start after %.4f s, want %.4f s", got, want)
		}
	}
}

// TestRunsDry: a store is drawn down by a steady flow and runs dry when its
// water is gone; the pump stops for want of it, and tries again after its delay.
func TestRunsDry(t *testing.T) {
	b := hydrophore(40.0/60000, 20.0/60000)
	b.store = Store{Surface: []int32{0}, Area: 1, Low: 0, Lip: 3, Shut: 2.9, Band: 0.05}
	p := b.plant(t)
	r, err := ByEvents(p, drawing(7200, 0.5, 35))
	if err != nil {
		t.Fatal(err)
	}
	closes(t, r)
	if len(r.RanDry) != 1 || len(r.Stops) == 0 {
		t.Fatalf("ran dry %v, stops %v", r.RanDry, r.Stops)
	}
	// 500 L and what the vessel gave, less what it holds, at 20 L/min.
	gone := 0.5 + p.Vessel.Water(35)
	if got := r.Drawn; math.Abs(got-gone) > 1e-6 {
		t.Errorf("drawn %.6f m³, want all there was: %.6f", got, gone)
	}
	if r.Lowest < -1e-9 {
		t.Errorf("the store fell to %g m below its outlet", r.Lowest)
	}
	for i, at := range r.Stops {
		if i > 0 && math.Abs(at-r.Stops[i-1]-1830) > 1e-6 {
			t.Errorf("stops %v: want one every 1800 + 30 s", r.Stops)
		}
	}
}

// TestRestless: a switch without a vessel has no steady state, and that is said.
func TestRestless(t *testing.T) {
	b := hydrophore(40.0/60000, 20.0/60000)
	b.noVessel = true
	_, err := ByEvents(b.plant(t), drawing(3600, 2, 35))
	if !errors.Is(err, ErrRestless) {
		t.Errorf("error %v, want %v", err, ErrRestless)
	}
}
