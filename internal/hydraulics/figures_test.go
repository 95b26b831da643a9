package hydraulics

import (
	"math"
	"testing"
)

// TestPartsAgainstFigures holds the loss of a fitting, a hand valve, an outlet and a pump at
// flow against validation/fittings-and-parts: through the solver, and again by the
// certificate's own laws, which share nothing with it.
func TestPartsAgainstFigures(t *testing.T) {
	const lpm = 1e-3 / 60
	// elbow is the loss of one screwed elbow, taken from a bore at a velocity.
	elbow := func(bore, v float64) (pipe *Pipe, q float64) {
		spec := PipeSpec{Bore: bore, Length: 1, Viscosity: 1e-6, Fittings: []Loss{{K1: 800, Kinf: 0.4, Count: 1}}}
		return must(NewPipe("elbow", spec)), v * math.Pi / 4 * bore * bore
	}
	alone := func(bore float64) *Pipe {
		return must(NewPipe("pipe", PipeSpec{Bore: bore, Length: 1, Viscosity: 1e-6}))
	}
	valve := must(NewHandValve("valve", 10.0/3600))
	tap := must(NewOutletAt("tap", 15*lpm, 3*barHead, 0))
	pump := must(NewPump("pump", 45, 0.9e-3, 35, 1.4e-3, 24, 0))

	for who, drop := range map[string]func(l Law, q, x float64) float64{
		"solver":      func(l Law, q, x float64) float64 { h, _ := l.Drop(q, x); return h },
		"certificate": plainDrop,
	} {
		loss := func(bore, v float64) float64 {
			p, q := elbow(bore, v)
			return drop(p, q, 1) - drop(alone(bore), q, 1)
		}
		fast := 100000 * 1e-6 / 0.0254 // Re 100,000
		got := map[string]float64{
			"E1 head": loss(0.0254, 1), "E2 head": loss(0.0127, 1), "E3 head": loss(0.0254, 0.01),
			"E4 k":    loss(0.0254, fast) / (fast * fast / (2 * Gravity)),
			"V1 open": drop(valve, 1.0/3600, 1), "V1 half": drop(valve, 1.0/3600, 0.5),
			"V2 ratio": drop(valve, 1.0/3600, 0.5) / drop(valve, 1.0/3600, 1),
			"P1 head":  -drop(pump, 1.2e-3, 1), "P1 slowed": -drop(pump, 1.2e-3, 0.9),
		}
		for name, x := range map[string]float64{"O1 one-bar": 1, "O1 half-open": 0.5} {
			q, high := 0.0, 1e-3
			for range 60 { // the flow at 1 bar, by halving
				if q = high / 2; drop(tap, q, x) > barHead {
					high = q
					continue
				}
				break
			}
			low := q
			for range 60 {
				if q = (low + high) / 2; drop(tap, q, x) > barHead {
					high = q
				} else {
					low = q
				}
			}
			got[name] = q
		}
		t.Run(who, func(t *testing.T) { hold(t, "fittings-and-parts", got) })
	}
}

// strange is a sound law that the certificate has no form of its own for.
type strange struct{}

func (strange) Drop(q, _ float64) (h, dh float64) { return 1e4 * q, 1e4 }

// TestUnknownLawIsRefused: a law the certificate cannot judge is never taken at its word.
func TestUnknownLawIsRefused(t *testing.T) {
	points := []Point{{Name: "a", Held: true}, {Name: "b", Held: true}}
	if _, err := NewNet(points, []Element{{Name: "strange", From: 0, To: 1, Law: strange{}}}); err == nil {
		t.Error("a circuit with a law that the certificate does not know was taken")
	}
	if h := plainDrop(strange{}, 1e-4, 1); !math.IsNaN(h) {
		t.Errorf("the certificate took a strange law at its word: %g", h)
	}
}
