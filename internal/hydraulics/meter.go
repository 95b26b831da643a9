package hydraulics

import "math"

// MeterKv is the flow factor of a water meter [m³/s at 1 bar] from its permanent flow q3
// [m³/s] and the loss dp [Pa] that its pressure-loss class allows there: 0.63 bar for
// class 63, which meters are when nothing else is marked.
//
//	Kv = Q3/√(Δp/1 bar)
//
// Source: ISO 4064-1:2014, pressure-loss classes Δp 63, 40, 25, 16, 10 (kPa).
func MeterKv(part string, q3, dp float64) (float64, error) {
	g := guard{part: part}
	g.want("permanent flow", q3, q3 >= 1e-5 && q3 <= 1, "1e-5 to 1 m³/s")
	g.want("loss at the permanent flow", dp, dp >= 1e3 && dp <= 1e5, "1000 to 100000 Pa")
	return q3 / math.Sqrt(dp/1e5), g.fail()
}

// NewStrainer makes a strainer or filter of flow factor kv clean [m³/s at 1 bar], of
// which the share blocked, 0 to below 1, of the free area is full of dirt.
//
//	Kv' = Kv (1 − blocked)
//
// so that half blocked loses four times what it lost clean. Strictly increasing, C1, odd
// (see Fixed). Source: an orifice's flow goes with its area; the housing's own loss is
// counted as if it were the mesh's, which is on the safe side.
func NewStrainer(part string, kv, blocked float64) (*Fixed, error) {
	g := guard{part: part}
	g.want("share blocked", blocked, blocked >= 0 && blocked < 1, "0 to below 1")
	g.want("flow factor", kv, kv > 0, "above 0 m³/s at 1 bar")
	if err := g.fail(); err != nil {
		return nil, err
	}
	return NewFixed(part, kv*(1-blocked))
}
