package assembly

// ControlKind is what a control decides by.
type ControlKind string

// The kinds of control. The first three start and stop the pump; the others only let it run,
// or bar it, whatever its controller says.
const (
	PressureSwitch ControlKind = "pressure-switch"
	FlowControl    ControlKind = "flow-control"
	SpeedControl   ControlKind = "speed-control"

	LockOut ControlKind = "lock-out" // bars the pump while the main presses: felt on the main's side
	CutOut  ControlKind = "cut-out"  // bars a booster when the pressure at its inlet falls: the booster must not suck the main dry
	DryRun  ControlKind = "dry-run"  // bars the pump when the store is empty
)

// Starts reports whether a control of this kind starts and stops the pump by itself.
func (k ControlKind) Starts() bool {
	return k == PressureSwitch || k == FlowControl || k == SpeedControl
}

// Bars reports whether a control of this kind bars the pump by a pressure on its inlet's side.
func (k ControlKind) Bars() bool { return k == LockOut || k == CutOut }

// PumpControl is the control that starts and stops the pump, or nil.
func (a *Assembly) PumpControl() *Control { return a.control(ControlKind.Starts) }

// LockOut is the main-side lock-out, or nil.
func (a *Assembly) LockOut() *Control {
	return a.control(func(k ControlKind) bool { return k == LockOut })
}

// CutOut is the low-pressure cut-out of a booster, or nil.
func (a *Assembly) CutOut() *Control {
	return a.control(func(k ControlKind) bool { return k == CutOut })
}

// Bar is the control that bars the pump by a pressure, a lock-out or a cut-out; nil where
// there is neither.
func (a *Assembly) Bar() *Control { return a.control(ControlKind.Bars) }

// LevelGuard reports whether a level switch bars the pump on an empty store.
func (a *Assembly) LevelGuard() bool {
	return a.control(func(k ControlKind) bool { return k == DryRun }) != nil
}

func (a *Assembly) control(of func(ControlKind) bool) *Control {
	for i := range a.Controls {
		if of(a.Controls[i].Kind) {
			return &a.Controls[i]
		}
	}
	return nil
}
