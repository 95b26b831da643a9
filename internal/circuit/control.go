package circuit

import "tideover/internal/quantity"

// Lock is the state table of a main-side lock-out, a controller with hysteresis:
//
//	locked out   stays while the main presses On or more    else the pump is allowed
//	allowed      stays while the main presses Off or less   else the pump is locked out
//
// Between On and Off both states stay: then a case has two answers, and both count.
//
// A low-pressure cut-out at the inlet of a pump is the same the other way up: it bars the
// pump until it feels On or more, and lets it run until it feels less than Off.
type Lock struct {
	On, Off quantity.Pressure
	Low     bool // a cut-out
}

// LockState is what a lock-out lets the pump do.
type LockState uint8

// The states of a lock-out.
const (
	LockedOut LockState = iota
	Allowed
)

// Stays reports whether a lock-out that feels p stays in the state.
func (l Lock) Stays(s LockState, p quantity.Pressure) bool {
	switch {
	case l.Low && s == LockedOut:
		return p <= l.On
	case l.Low:
		return p >= l.Off
	case s == LockedOut:
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
