package circuit

import "tideover/internal/quantity"

// Lock is the state table of a main-side lock-out, a controller with hysteresis:
//
//	locked out   stays while the main presses On or more    else the pump is allowed
//	allowed      stays while the main presses Off or less   else the pump is locked out
//
// Between On and Off both states stay: then a case has two answers, and both count.
type Lock struct{ On, Off quantity.Pressure }

// LockState is what a lock-out lets the pump do.
type LockState uint8

// The states of a lock-out.
const (
	LockedOut LockState = iota
	Allowed
)

// Stays reports whether a lock-out that feels p stays in the state.
func (l Lock) Stays(s LockState, p quantity.Pressure) bool {
	if s == LockedOut {
		return p >= l.On
	}
	return p <= l.Off
}

// Next returns the state a lock-out that feels p goes to.
func (l Lock) Next(s LockState, p quantity.Pressure) LockState {
	if l.Stays(s, p) {
		return s
	}
	return 1 - s
}
