package circuit

import (
	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/quantity"
)

// LockFloor is the pressure a main-side lock-out must feel at the least for the main to serve
// the tap that needs most of it: what that tap needs, and the height from the sensor up to it.
// Friction comes on top. A lock-out set lower leaves the home on a main that serves no more.
// 0 without a lock-out.
func LockFloor(a *assembly.Assembly) quantity.Pressure {
	lock := a.LockOut()
	if lock == nil {
		return 0
	}
	sensor := a.Parts[lock.Senses.Part].Ports[lock.Senses.Port].Z
	sides, floor := a.Sides(), quantity.Pressure(0)
	for _, i := range a.Of(assembly.Outlet) {
		row, ok := a.Parts[i].Row.(catalogue.Outlet)
		if ok && sides.Main[i] && sides.Store[i] {
			floor = max(floor, row.Pressure+quantity.Pressure(float64(a.Parts[i].Ports[0].Z-sensor)*Weight))
		}
	}
	return floor
}
