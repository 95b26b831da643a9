package assembly

import (
	"tideover/internal/assume"
	"tideover/internal/quantity"
)

// drift moves what controls were set to by what they have drifted since: a pressure switch's spring
// sets and its contacts wear, so that both its pressures move together. The pump's and the
// lock-out's (or cut-out's) are two devices. A speed control feels by a sensor, and holds by
// assume.Droop instead; a level switch has no pressure.
func (b *build) drift() {
	for i := range b.a.Controls {
		c := &b.a.Controls[i]
		var by float64
		switch {
		case c.Kind.Bars():
			by = assume.LockDrift.In(b.a.Assumed)
		case c.Kind == PressureSwitch, c.Kind == FlowControl:
			by = assume.SwitchDrift.In(b.a.Assumed)
		}
		if by != 0 {
			c.On, c.Off = c.On+quantity.Pressure(by), c.Off+quantity.Pressure(by)
		}
	}
}
