package demand

import (
	"testing"

	"tideover/internal/catalogue"
)

// TestHomesDiffer holds what homes draw against the closed form. With a share of its own, even on
// 0.7 to 1.4 (mean 1.05, variance 0.7²/12), and days that vary by 0.3, the draws of a day have the
// mean 200 × 1.05 and, by the law of total variance, the variance
// λm + λ²(m² + v) 0.3² + λ²v over homes and days.
func TestHomesDiffer(t *testing.T) {
	u := plain(200, 3, 0.1)
	m := ready(t, Household{Uses: []Use{u}, Scale: 1, DaySpread: 0.3, Below: 0.3, Above: 0.4})
	near(t, "mean told", m.Mean(), 200*1.05*u.Volume/Day, 1e-12)
	r := NewReader(m)
	const homes, days = 4000, 2
	n, sum, square := 0.0, 0.0, 0.0
	for k := range uint32(homes) {
		own := m.Own(k)
		if own < 0.7 || own > 1.4 {
			t.Fatalf("home %d draws %g of what is told, want 0.7 to 1.4", k, own)
		}
		r.Open(k)
		for d := range days {
			day := 0.0
			for h := range 24 {
				a := float64(d)*Day + float64(h)*Hour
				l := byLine(r, a, a+Hour, 0)
				day += l[Either] / u.Volume
			}
			n, sum, square = n+1, sum+day, square+day*day
		}
	}
	mean, v := 1.05, HomesVary.Fn([]float64{0.3, 0.4}) // 0.49/12
	near(t, "variance of the share", v, 0.0408333, 1e-5)
	near(t, "draws a day", sum/n, 200*mean, 0.01)
	near(t, "variance over homes and days", square/n-sum/n*sum/n, 200*mean+200*200*((mean*mean+v)*0.09+v), 0.05)
}

// TestHomeIsOne: a home draws the same share in every year, and two homes that differ in it only
// draw more in no hour.
func TestHomeIsOne(t *testing.T) {
	few, many := family(), family()
	few.Below, many.Below, many.Above = 0.2, 0.2, 0.3
	a, b := NewReader(ready(t, few)), NewReader(ready(t, many))
	for _, home := range []uint32{0, 7, 91} {
		a.Open(home)
		b.Open(home)
		for k := range 9000 {
			at := float64(k) * 29 * Hour
			x, y := byLine(a, at, at+Hour, 0), byLine(b, at, at+Hour, 0)
			if x[Either] > y[Either]+1e-12 || x[OnStore] > y[OnStore]+1e-12 {
				t.Fatalf("home %d, hour %d: %v drawn, %v with more room above", home, 29*k, x, y)
			}
		}
	}
	if ready(t, few).Alike(ready(t, many)) {
		t.Error("homes that differ in how much they draw count as alike")
	}
}

// TestReadApart: the range of a home's use is the one its job states.
func TestReadApart(t *testing.T) {
	c, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]float64{"kestrel-rise": 0.2, "juniper-flat": 0.15, "lantern-row": 0.2, "osprey-house": 0.25} {
		h, err := Read(example(t, name), c, all)
		if err != nil {
			t.Fatal(err)
		}
		near(t, name+" below", h.Below, want, 1e-9)
		near(t, name+" above", h.Above, want, 1e-9)
	}
}
