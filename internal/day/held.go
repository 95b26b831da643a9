package day

import "math"

// Held is the usable water in the store over the run that it is judged by: times [s from the start] and volumes
// [m³], never below nothing, no two closer than apart [s] but for the last. Between two it
// is nearly straight where apart is a small part of an hour.
func (d *Day) Held(apart float64) (at, volume []float64) {
	for i, m := range d.Judged().Moments {
		n := len(at)
		if n > 0 && m.At-at[n-1] < apart && (i < len(d.Judged().Moments)-1 || m.At <= at[n-1]) {
			continue
		}
		at, volume = append(at, m.At), append(volume, math.Max(0, d.Plant.Store.volume(m.Level))+d.Plant.upper(m.Upper))
	}
	return at, volume
}

// Off is when the water fails and when it is back [s from the start]; ok is false on an
// ordinary day.
func (d *Day) Off() (from, to float64, ok bool) {
	return d.In.At, d.In.At + d.In.Fails, d.Failing && d.In.Fails > 0
}
