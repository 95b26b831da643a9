package hydraulics

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// row is one line of a validation file.
type row struct {
	source, id, quantity string
	want, tol            float64
	standing             string
}

// readCases reads validation/<source>/cases.csv and refuses a row that is not whole.
func readCases(t *testing.T, source string) []row {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "validation", source, "cases.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []row
	for _, l := range lines[1:] {
		r := row{source: source, id: l[0], quantity: l[1], standing: l[4]}
		r.want, err = strconv.ParseFloat(l[2], 64)
		if err != nil {
			t.Fatalf("%s: %v: %v", source, l, err)
		}
		if r.tol, err = strconv.ParseFloat(l[3], 64); err != nil || r.tol <= 0 {
			t.Fatalf("%s: %v: tolerance", source, l)
		}
		switch r.standing {
		case "published", "recalled", "computed":
		default:
			t.Fatalf("%s: %v: standing %q", source, l, r.standing)
		}
		rows = append(rows, r)
	}
	return rows
}

// hold compares every row of a source with what the code gives for its case and
// quantity; a row nothing answers is a failure.
func hold(t *testing.T, source string, got map[string]float64) {
	t.Helper()
	published := 0
	for _, r := range readCases(t, source) {
		v, ok := got[r.id+" "+r.quantity]
		if !ok {
			t.Errorf("%s: %s %s: no answer", source, r.id, r.quantity)
			continue
		}
		if d := math.Abs(v-r.want) / math.Abs(r.want); !(d <= r.tol) {
			t.Errorf("%s: %s %s = %.6g, want %.6g within %g (%s): off by %.2g", source, r.id, r.quantity, v, r.want, r.tol, r.standing, d)
		}
		if r.standing == "published" {
			published++
		}
		record("Figures of validation/", source+", "+r.id, r.quantity+" ("+r.standing+")", r.want, v, r.tol)
	}
	t.Logf("%s: %d published rows held", source, published)
}

// junction solves reservoirs joined at one point and returns the joint's head and the
// flow out of each reservoir.
func junction(t *testing.T, levels []float64, laws []Law) (joint float64, q []float64) {
	t.Helper()
	points := []Point{{Name: "joint"}}
	var elements []Element
	for i := range levels {
		points = append(points, Point{Held: true})
		elements = append(elements, Element{From: int32(i + 1), To: 0, Law: laws[i]})
	}
	n := must(NewNet(points, elements))
	s := n.NewState()
	for i, h := range levels {
		s.Held[i+1] = h
	}
	a := n.NewAnswer()
	if err := n.Solve(s, a, n.NewWork()); err != nil {
		t.Fatal(err)
	}
	if c := Certify(n, s, a); !c.OK() {
		t.Fatalf("%+v", c)
	}
	return a.Head[0], a.Flow
}

func plain(bore, length, rough, nu float64) Law {
	return must(NewPipe("pipe", PipeSpec{Bore: bore, Length: length, Roughness: rough, Viscosity: nu}))
}

// through is the flow of one law, or several in series, under a head.
func through(t *testing.T, head float64, laws ...Law) float64 {
	t.Helper()
	points := []Point{{Held: true}}
	var elements []Element
	for i, l := range laws {
		points = append(points, Point{})
		elements = append(elements, Element{From: int32(i), To: int32(i + 1), Law: l})
	}
	points[len(laws)].Held = true
	n := must(NewNet(points, elements))
	s, a := n.NewState(), n.NewAnswer()
	s.Held[0], s.Held[len(laws)] = head, 0
	if err := n.Solve(s, a, n.NewWork()); err != nil {
		t.Fatal(err)
	}
	return a.Flow[0]
}

func TestWhite(t *testing.T) {
	got := map[string]float64{}
	// W1: head from flow.
	v := VelocityEq.Fn([]float64{0.2, 0.2})
	re := ReynoldsEq.Fn([]float64{v, 0.2, 1e-5})
	got["W1 velocity"], got["W1 reynolds"] = v, re
	got["W1 friction"] = DarcyFactor(re, 0.26/200)
	h, _ := plain(0.2, 500, 0.26e-3, 1e-5).Drop(0.2, 1)
	got["W1 head"] = h * Gravity / 9.81 // the source's g
	// W2: flow from head, through the solver.
	const ft = 0.3048
	d, nu := 0.5*ft, 1.1e-5*ft*ft
	q := through(t, 4.5*ft, plain(d, 200*ft, 0.0008*d, nu))
	v = VelocityEq.Fn([]float64{q, d})
	got["W2 velocity"], got["W2 reynolds"] = v, ReynoldsEq.Fn([]float64{v, d, nu})
	got["W2 friction"] = DarcyFactor(v*d/nu, 0.0008)
	// W3 to W5: three pipes at a joint, side by side, end to end.
	pipes := []Law{plain(0.080, 100, 0.24e-3, 1.02e-6), plain(0.060, 150, 0.12e-3, 1.02e-6), plain(0.040, 80, 0.20e-3, 1.02e-6)}
	joint, f := junction(t, []float64{20, 100, 40}, pipes)
	got["W3 joint"], got["W3 flow1"], got["W3 flow2"], got["W3 flow3"] = joint, f[0], f[1], f[2]
	for i, p := range pipes {
		got["W4 flow"+strconv.Itoa(i+1)] = through(t, 20.3, p)
		got["W4 total"] += through(t, 20.3, p)
	}
	got["W5 flow"] = through(t, 20.3, pipes...)
	hold(t, "white-fluid-mechanics", got)
}

func TestMunson(t *testing.T) {
	const ft, g = 0.3048, 32.2 * 0.3048
	area := math.Pi / 4 * ft * ft
	law := func(l float64) Law { return must(NewMainLoss("pipe", 0, 0.02*l/(2*g*area*area))) }
	joint, q := junction(t, []float64{100 * ft, 20 * ft, 0}, []Law{law(1000), law(500), law(400)})
	hold(t, "munson-fluid-mechanics", map[string]float64{
		"W6 joint": joint, "W6 velocity1": q[0] / area, "W6 velocity2": -q[1] / area, "W6 velocity3": -q[2] / area,
	})
}

func TestDouglas(t *testing.T) {
	law := func(l, d float64) Law { return must(NewMainLoss("pipe", 0, 0.01*l/(3*math.Pow(d, 5)))) }
	joint, q := junction(t, []float64{60, 30, 15}, []Law{law(1500, 0.3), law(800, 0.25), law(400, 0.2)})
	hold(t, "douglas-fluid-mechanics", map[string]float64{
		"W7 joint": joint, "W7 flow1": q[0], "W7 flow2": -q[1], "W7 flow3": -q[2],
	})
}

func TestDrawdown(t *testing.T) {
	const psi, gallon = 6894.757, 3.785411784e-3
	args := []float64{85 * gallon, (28 + 14.7) * psi, (30 + 14.7) * psi, (50 + 14.7) * psi}
	v := DrawdownEq.Fn(args)
	hold(t, "drawdown-article", map[string]float64{"W8 drawdown": v})
}

// W9: the share of a vessel that comes out between cut-out and cut-in when it is charged
// to cut-in, the vessel that gives its drawdown of 101.25 L, and the starts that makes.
func TestWorksheet(t *testing.T) {
	const bar = 1e5
	share := DrawdownEq.Fn([]float64{1, 5.4 * bar, 5.4 * bar, 6.4 * bar})
	hold(t, "vessel-worksheet", map[string]float64{
		"W9 acceptance": share,
		"W9 starts":     CyclingEq.Fn([]float64{135e-3 / 60, 0.10125}),
	})
}

func TestWater(t *testing.T) {
	got := map[string]float64{}
	for _, c := range []float64{5, 10, 15, 20, 25, 30, 40, 60} {
		k := strconv.Itoa(int(c))
		got[k+" density"], got[k+" viscosity"] = Density(c), Viscosity(c)
		got[k+" kinematic"], got[k+" vapour"] = KinematicViscosity(c), VapourPressure(c)
	}
	for _, z := range []float64{0, 1000, 1500, 2500} {
		got[strconv.Itoa(int(z))+" air-head"] = Atmosphere(z) / (Density(20) * Gravity)
	}
	hold(t, "water-properties", got)
}

// Two independent viscosity formulas agree: Kestin, Sokolov & Wakeham 1978.
func TestViscosityAgainstKestin(t *testing.T) {
	for c := 0.0; c <= 60; c++ {
		want := 1002e-6 * math.Pow(10, (20-c)/(c+96)*(1.2364-1.37e-3*(20-c)+5.7e-6*(20-c)*(20-c)))
		if d := math.Abs(Viscosity(c)/want - 1); d > 0.0023 {
			t.Errorf("%g °C: %g against %g", c, Viscosity(c), want)
		}
	}
}

// Density is greatest at 3.98 °C; boiling at one atmosphere is at 99.97 °C.
func TestWaterLandmarks(t *testing.T) {
	if Density(3.98) < Density(3.9) || Density(3.98) < Density(4.06) || math.Abs(Density(3.98)-999.975) > 0.005 {
		t.Errorf("density at 3.98 °C: %.4f", Density(3.98))
	}
	if p := VapourPressure(99.974); math.Abs(p-101325) > 40 {
		t.Errorf("vapour pressure at 99.974 °C: %.0f Pa", p)
	}
}
