package disinfect

import (
	"math"
	"testing"
)

// TestSwab: by hand, 10 g of chlorine from granules of 65 % are 15.385 g; from a bottle of
// 12.5 % w/v (125 g/L) they are 80 mL. Twice the water takes twice the product.
func TestSwab(t *testing.T) {
	for _, tt := range []struct {
		bottle    Bottle
		mass, vol float64
	}{
		{Bottle{Strength: 0.65, Convention: "w/w"}, 0.010 / 0.65, 0},
		{Bottle{Strength: 0.125, Convention: "w/v"}, 0, 80e-6},
	} {
		d, err := Work(2, nil, tt.bottle, Regime{Dose: 0.050, Hold: 3600, Least: 0.030, Thiosulphate: 1.9, Ascorbic: 2.5})
		if err != nil {
			t.Fatal(err)
		}
		v, m := d.Swab(0.001)
		if tt.mass > 0 && math.Abs(float64(m)-tt.mass) > 1e-9 || math.Abs(float64(v)-tt.vol) > 1e-12 {
			t.Errorf("%+v: %v m³, %v kg", tt.bottle, v, m)
		}
		v2, m2 := d.Swab(0.002)
		if math.Abs(float64(v2-2*v)) > 1e-15 || math.Abs(float64(m2-2*m)) > 1e-12 {
			t.Errorf("%+v: twice the water does not take twice the product", tt.bottle)
		}
	}
}
