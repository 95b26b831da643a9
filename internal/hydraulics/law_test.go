package hydraulics

import (
	"math"
	"math/rand/v2"
	"testing"
)

// lawCase is a law with the joins at which its pieces meet.
type lawCase struct {
	name  string
	el    Element
	x     float64
	joins []float64 // flows [m³/s]
}

func lawCases() []lawCase {
	bore, nu := 0.016, 1.1e-6
	perRe := math.Pi / 4 * bore * nu
	pipe := must(NewPipe("pipe", PipeSpec{Bore: bore, Length: 7, Roughness: 7e-6, Viscosity: nu, Fittings: []Loss{{K1: 800, Kinf: 0.4, Count: 5}}}))
	rough := must(NewPipe("rough", PipeSpec{Bore: bore, Length: 7, Roughness: 0.05 * bore, Viscosity: nu}))
	pump := must(NewPump("pump", 45, 0.9e-3, 35, 1.4e-3, 24, 1e-3))
	c := 3.0e-5
	kv := 3.0 / 3600
	relief := must(NewRelief("relief", 0, 1, kv/3, 60, 6))
	z := func(b float64) float64 { return math.Sqrt(1e-4 / b) }
	return []lawCase{
		{"pipe", Element{Law: pipe}, 1, []float64{2000 * perRe, 4000 * perRe}},
		{"rough pipe", Element{Law: rough}, 1, []float64{2000 * perRe, 4000 * perRe}},
		{"fixed", Element{Law: must(NewFixed("m", kv))}, 1, []float64{z(barHead / kv / kv)}},
		{"hand valve open", Element{Law: must(NewHandValve("v", kv))}, 1, []float64{kv * rounding}},
		{"hand valve at 0.03", Element{Law: must(NewHandValve("v", kv))}, 0.03, []float64{kv * rounding * 9e-4}},
		{"way between", Element{Law: must(NewWay("w", kv))}, 0.5, []float64{kv * rounding / 2}},
		{"float at 0.2", Element{Law: must(NewFloatValve("f", kv)), OneWay: true}, 0.2, []float64{kv * rounding / 5}},
		{"non-return", must(NewNonReturn("nr", 0, 1, kv, 0.3)), 1, []float64{z(barHead / kv / kv)}},
		{"pump", Element{Law: pump}, 1, []float64{z(pump.C)}},
		{"pump at 0.6", Element{Law: pump, OneWay: true}, 0.6, []float64{z(pump.C)}},
		{"pump free-wheeling", Element{Law: pump}, 0, []float64{1e-3 * rounding}},
		{"outlet", Element{Law: must(NewOutlet("o", c, 0)), OneWay: true}, 1, []float64{0.01 * c}},
		{"outlet with regulator", Element{Law: must(NewOutlet("o", c, 1e-4)), OneWay: true}, 1, []float64{0.01 * c, 1e-4, 1.0001e-4}},
		{"main", Element{Law: must(NewMainLoss("m", 2000, 4e7))}, 1, []float64{z(4e7)}},
		{"main, linear", Element{Law: must(NewMainLoss("m", 2000, 0))}, 1, nil},
		{"main, sucking: the same law", Element{Law: must(NewMainLoss("m", 2000, 4e7))}, 1, []float64{z(4e7)}},
		{"worn seat", must(NewLeak("l", 0, 1, kv, WornSeat)), 1, []float64{kv * WornSeat * rounding}},
		{"motorised, stuck at 0.4", Element{Law: must(NewMotorised("mv", kv))}, 0.4, []float64{kv * rounding * 0.16}},
		{"strainer half blocked", Element{Law: must(NewStrainer("s", kv, 0.5))}, 1, []float64{kv * rounding / 2}},
		{"limiter", Element{Law: must(NewLimiter("fl", kv, 1.5e-4))}, 1, []float64{kv * rounding, 1.5e-4, 1.50015e-4}},
		{"limiter, tight", Element{Law: must(NewLimiter("fl", kv, kv*rounding/2))}, 1, []float64{kv * rounding / 2, kv * rounding / 2 * 1.0001}},
		{"reducer open", must(NewReducer("r", 0, 1, kv)), 1, []float64{kv * rounding}},
		{"reducer taking off 90 m", must(NewReducer("r", 0, 1, kv)), 0.7, []float64{kv * rounding}},
		{"relief", relief, 1, []float64{relief.Law.(*Relief).at, relief.Law.(*Relief).full}},
		{"vacuum relief", must(NewVacuumRelief("vr", 0, 1, kv, 0.2)), 1, []float64{kv * airEase * rounding}},
		{"air in", must(NewAirIn("ai", 0, 1, c)), 1, []float64{0.01 * c * airEase}},
		{"hose under water", must(NewSubmerged("h", 0, 1, c)), 1, []float64{0.01 * c}},
		{"heater", Element{Law: must(NewHeater("wh", kv, 60, 0))}, 1, []float64{kv * rounding}},
		{"lift", must(NewDroop("d", 30, 3e-4, 33, 1e-3, 20)).NewLift("d", 0, 1), 0.6, nil},
		{"peripheral pump", Element{Law: must(NewNameplatePump("p", Peripheral, 45, 0.65e-3, 0)).Low, OneWay: true}, 1, nil},
	}
}

// flows over twelve decades, both signs.
func twelveDecades() []float64 {
	var q []float64
	for k := -120; k <= 0; k += 3 {
		v := math.Pow(10, float64(k)/10)
		q = append(q, v, -v)
	}
	return append(q, 0)
}

func TestInverseOfEveryLaw(t *testing.T) {
	for _, c := range lawCases() {
		l := wayOf(c.el, new(float64))
		for _, q := range twelveDecades() {
			h, dh := l.at(q, c.x)
			if math.Abs(h) > 1e7 && !c.el.OneWay {
				continue // beyond anything pressed
			}
			got, _ := l.flow(h, c.x, 0, new(float64))
			// What rounding of the head itself allows.
			tol := 1e-9*math.Abs(q) + 4e-15*math.Max(1, math.Abs(h))/dh
			if !(math.Abs(got-q) <= tol) {
				t.Errorf("%s: flow(drop(%g)) = %g, off by %g, allowed %g", c.name, q, got, got-q, tol)
			}
		}
	}
}

func TestSlopeOfEveryLaw(t *testing.T) {
	for _, c := range lawCases() {
		l := wayOf(c.el, new(float64))
	next:
		for _, q := range twelveDecades() {
			d := 1e-5 * math.Abs(q)
			for _, j := range c.joins {
				if math.Abs(math.Abs(q)-j) < 2*d {
					continue next
				}
			}
			if d == 0 || math.Abs(q) < 1e-8 && q < 0 && l.stiff(c.x) {
				continue
			}
			up, _ := l.at(q+d, c.x)
			down, _ := l.at(q-d, c.x)
			h, dh := l.at(q, c.x)
			want := (up - down) / (2 * d)
			noise := 4e-16 * math.Abs(h) / d
			if !(math.Abs(dh-want) <= 1e-6*math.Abs(want)+noise) {
				t.Errorf("%s at %g: slope %g, by differences %g", c.name, q, dh, want)
			}
		}
	}
}

func TestLawsAreSmoothWhereTheirPiecesMeet(t *testing.T) {
	for _, c := range lawCases() {
		l := wayOf(c.el, new(float64))
		for _, j := range c.joins {
			for _, sign := range []float64{1, -1} {
				if sign < 0 && l.stiff(c.x) {
					continue
				}
				h0, s0 := l.at(sign*j*(1-1e-12), c.x)
				h1, s1 := l.at(sign*j*(1+1e-12), c.x)
				// A wall bends within a ten-thousandth of its flow: no more over the join than beside it.
				_, left := l.at(sign*j*(1-3e-12), c.x)
				_, right := l.at(sign*j*(1+3e-12), c.x)
				bend := math.Max(math.Abs(left-s0), math.Abs(right-s1))
				if math.Abs(h1-h0) > 1e-9*math.Max(1e-4, math.Abs(h0))+3e-12*j*s1 || math.Abs(s1-s0) > 1e-4*s0+bend {
					t.Errorf("%s at %g: head %g to %g, slope %g to %g", c.name, sign*j, h0, h1, s0, s1)
				}
			}
		}
	}
}

func TestLawsRiseEverywhere(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	for range 400 {
		e := randomElement(r, "e", 0, 1)
		l := wayOf(e, new(float64))
		x := []float64{1, 0.5, 0.01}[r.IntN(3)]
		last := math.Inf(-1)
		for k := -400; k <= 400; k++ {
			q := math.Copysign(math.Pow(10, math.Abs(float64(k))/40-12), float64(k))
			h, dh := l.at(q, x)
			if !(dh > 0) || math.IsInf(dh, 0) || !(h >= last) {
				t.Fatalf("%T at %g, opening %g: head %g after %g, slope %g", e.Law, q, x, h, last, dh)
			}
			last = h
		}
	}
}

// The bridge is monotone for every roughness: Fritsch & Carlson's sufficient condition.
func TestBridgeRises(t *testing.T) {
	for i := range 501 {
		rel := 0.05 * float64(i) / 500
		f := newFriction(rel)
		v1, m1 := f.turbulent(4000, new(float64))
		chord := (v1 - 128000) / 2000
		a, b := 64/chord, m1/chord
		if a*a+b*b >= 9 {
			t.Errorf("ε/D = %g: α² + β² = %g", rel, a*a+b*b)
		}
		last := 128000.0
		for re := 2001.0; re < 4000; re++ {
			phi, slope := f.at(re, new(float64))
			if phi <= last || slope <= 0 {
				t.Fatalf("ε/D = %g, Re = %g: φ = %g after %g, slope %g", rel, re, phi, last, slope)
			}
			last = phi
		}
	}
}

// Colebrook-White has a closed form by Lambert's W (Keady 1998; Brkic & Praks 2019):
// with r = ε/(3.7 D), b = 2.51/Re, L = ln 10:
// 1/√f = (2/L) W[(L/2b) exp(rL/2b)] − r/b. W is found here from its own definition.
func TestColebrookAgainstLambert(t *testing.T) {
	worst := 0.0
	for i := range 120 {
		re := 4000 * math.Pow(10, float64(i)/24)
		for j := range 60 {
			r := 0.05 / 3.7 * float64(j) / 59
			b := 2.51 / re
			if r*math.Ln10/(2*b) > 600 {
				continue // the closed form overflows; Newton does not
			}
			// ln of W's argument; w + ln w = that.
			z := math.Log(math.Ln10/(2*b)) + r*math.Ln10/(2*b)
			w := math.Max(z-math.Log(math.Max(z, 1)), 0.5)
			for range 50 {
				w -= (w + math.Log(w) - z) / (1 + 1/w)
			}
			// r/b and W nearly cancel in rough pipes: what that costs is allowed.
			want := 2/math.Ln10*w - r/b
			got := colebrook(r, re, 0)
			d := math.Abs(got-want) / (want + 1e-3*r/b)
			worst = math.Max(worst, d)
		}
	}
	if worst > 1e-12 {
		t.Errorf("largest relative difference %g, want 1e-12", worst)
	}
	record("Laws against independent forms", "Colebrook-White by Lambert's W (Keady 1998)", "1/√f over 7,200 pairs of Re 4e3 to 4e8 and ε/D 0 to 0.05, largest difference", 0, worst, 1e-12)
}

// The residual of the implicit equation itself, where the closed form overflows too.
func TestColebrookResidual(t *testing.T) {
	for i := range 200 {
		re := 4000 * math.Pow(10, 6*float64(i)/199)
		for _, rel := range []float64{0, 1e-6, 1e-4, 5e-3, 0.05} {
			for _, from := range []float64{0, 1, 4, 8, 20} { // nowhere, and any remembered one
				x := colebrook(rel/3.7, re, from)
				if d := math.Abs(x+2*math.Log10(rel/3.7+2.51*x/re)) / x; !(d <= 1e-13) {
					t.Errorf("Re %g, ε/D %g from %g: residual %g", re, rel, from, d)
				}
			}
		}
	}
}

func TestRefusals(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	pipe := func(b, l, e, v float64) error {
		_, err := NewPipe("rising-main", PipeSpec{Bore: b, Length: l, Roughness: e, Viscosity: v})
		return err
	}
	pump := func(h0, q1, h1, q2, h2 float64) error {
		_, err := NewPump("booster", h0, q1, h1, q2, h2, 0)
		return err
	}
	second := func(_ any, err error) error { return err }
	turned := func(part string, turn float64) error { _, _, err := ThreeWay(part, turn); return err }
	tests := []struct {
		name string
		err  error
		want string // what the message must hold: the part and the field
	}{
		{"no bore", pipe(0, 1, 0, 1e-6), "rising-main: bore"},
		{"negative bore", pipe(-0.02, 1, 0, 1e-6), "rising-main: bore"},
		{"bore not a number", pipe(nan, 1, 0, 1e-6), "rising-main: bore"},
		{"no length", pipe(0.02, 0, 0, 1e-6), "rising-main: length"},
		{"endless", pipe(0.02, inf, 0, 1e-6), "rising-main: length"},
		{"too rough", pipe(0.02, 1, 0.002, 1e-6), "rising-main: roughness"},
		{"no viscosity", pipe(0.02, 1, 0, 0), "rising-main: viscosity"},
		{"rising curve", pump(40, 1e-3, 41, 2e-3, 20), "booster: first head"},
		{"flat end", pump(40, 1e-3, 30, 2e-3, 30), "booster: second head"},
		{"humped", pump(40, 1e-3, 39.9, 1.1e-3, 1), "booster: curve: B"},
		{"flattening", pump(40, 1e-3, 20, 2e-3, 15), "booster: curve: C"},
		{"no first flow", pump(40, 0, 30, 2e-3, 10), "booster: first flow"},
		{"no flow factor", second(NewFixed("meter", 0)), "meter: flow factor"},
		{"valve", second(NewHandValve("gate", -1)), "gate: flow factor"},
		{"outlet", second(NewOutlet("tap", nan, 0)), "tap: outlet coefficient"},
		{"regulator", second(NewOutlet("tap", 1e-5, -1)), "tap: regulator limit"},
		{"outlet by flow", second(NewOutletAt("tap", 1e-4, 0, 0)), "tap: head"},
		{"opening head", second(NewNonReturn("check", 0, 1, 1e-3, -0.1)), "check: opening head"},
		{"main that rises", second(NewMain("street", 30, 1e-4, 31, 2e-4, 20)), "street: head at the lower flow"},
		{"main that never sags", second(NewMain("street", 30, 1e-4, 30, 2e-4, 30)), "street: head at the higher flow"},
		{"main of nothing", second(NewMainLoss("street", 0, 0)), "street: b"},
		{"valve that leaks nothing", second(NewLeak("gate", 0, 1, 1e-3, 0)), "gate: share that leaks"},
		{"non-return states", second(NewNonReturnStates("check", 0, 1, 1e-3, 0, 2)), "check: share that leaks"},
		{"three-way beyond its stop", turned("diverter", 1.1), "diverter: turn"},
		{"travel below nothing", second(Travel("zone", -0.1, 1, 0, 10)), "zone: travel at the start"},
		{"travel not a number", second(Travel("zone", 0, nan, 0, 10)), "zone: travel asked for"},
		{"no travel time", second(Travel("zone", 0, 1, 0, 0)), "zone: time of the whole travel"},
		{"strainer shut with dirt", second(NewStrainer("strainer", 1e-3, 1)), "strainer: share blocked"},
		{"meter", second(MeterKv("meter", 0, 63e3)), "meter: permanent flow"},
		{"meter class", second(MeterKv("meter", 1e-3, nan)), "meter: loss at the permanent flow"},
		{"limiter of nothing", second(NewLimiter("limiter", 1e-3, 0)), "limiter: limit"},
		{"seat", second(SeatKv("float", -0.006)), "float: seat bore"},
		{"float upside down", second(NewDelayedFloat("float", 1.4, 1.2)), "float: opening level"},
		{"relief at nothing", second(NewRelief("relief", 0, 1, 1e-3, 0, 1)), "relief: set head"},
		{"relief without band", second(NewRelief("relief", 0, 1, 1e-3, 60, 0)), "relief: band"},
		{"vacuum relief", second(NewVacuumRelief("vent", 0, 1, 1e-3, -1)), "vent: opening head"},
		{"air in", second(NewAirIn("tap", 0, 1, -1)), "tap: outlet coefficient"},
		{"reducer", second(NewReducer("reducer", 0, 1, inf)), "reducer: flow factor"},
		{"heater", second(NewHeater("geyser", 1e-3, 0, 0)), "geyser: rating"},
		{"heater's least flow", second(NewHeater("geyser", 1e-3, 60, -1)), "geyser: least flow"},
		{"droop that never falls", second(NewDroop("booster", 30, 1e-3, 31, 2e-3, 33)), "booster: second head"},
		{"droop that does not droop", second(NewDroop("booster", 30, 1e-3, 22, 2e-3, 10)), "booster: curve: B"},
		{"nameplate", second(NewNameplatePump("booster", Jet, 40, 0, 0)), "booster: greatest flow"},
		{"no such pump", second(NewNameplatePump("booster", 9, 40, 1e-3, 0)), "booster: kind of pump"},
		{"another pump's reading", second(must(NewNameplatePump("booster", Jet, 40, 1e-3, 0)).Corrected("booster", 1e-4, 5)), "booster: reading over nameplate"},
		{"reading without a nameplate", second(PumpBand{}.Corrected("booster", 1e-4, 5)), "booster: nameplate"},
		{"no power", second(NewPumpPower("booster", Jet, 0, 1e-3)), "booster: electrical power"},
		{"no pumps", second(NewPumpSet("duty", nil, nil)), "duty: number of pumps"},
		{"alike", second(NewPumpsAlike("duty", nil, 2)), "duty: pump"},
		{"vessel charge", second(NewVessel("vessel", 0.02, 2)), "vessel: charge"},
		{"overflow", second(NewOverflow("overflow", -0.05, 0, 1)), "overflow: bore"},
		{"screen", second(NewOverflow("overflow", 0.05, 0, 0)), "overflow: share of the screen open"},
		{"pump coefficients", second(NewPumpCurve("booster", 40, 0, 0, 0)), "booster: C"},
	}
	for _, test := range tests {
		if test.err == nil {
			t.Errorf("%s: accepted", test.name)
			continue
		}
		if got := test.err.Error(); !contains(got, test.want) {
			t.Errorf("%s: %q does not say %q", test.name, got, test.want)
		}
	}
}
