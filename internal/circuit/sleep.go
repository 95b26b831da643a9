package circuit

import (
	"tideover/internal/assembly"
	"tideover/internal/assume"
)

// Sleeps is below which draw a control of a kind stops a pump that no pressure stops, and how long the
// pump runs on then [m³/s, s]; a pressure switch stops it by pressure, at once.
func Sleeps(kind assembly.ControlKind, v assume.Values) (below, runOn float64) {
	switch kind {
	case assembly.FlowControl:
		return assume.FlowStop.In(v), assume.FlowRunOn.In(v)
	case assembly.SpeedControl:
		return assume.Sleep.In(v), assume.RunOn.In(v)
	}
	return 0, 0
}
