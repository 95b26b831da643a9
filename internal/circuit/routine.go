package circuit

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// Routine is running the home on the store on purpose, so that its water is renewed: every so
// long, for so long each time. It has this one meaning wherever it is reckoned with or told.
type Routine struct {
	Every, Lasts quantity.Time
}

// RoutineOf is the routine that a job asks for. ok is false where it asks for none, and where
// none can be done: nothing that the store serves could hang on the main meanwhile.
func RoutineOf(j *job.Job, a *assembly.Assembly) (r Routine, ok bool) {
	r = Routine{j.Choices.Exercise.V, j.Choices.ExerciseFor.V}
	return r, r.Every > 0 && CanTurn(a)
}

// CanTurn reports whether some outlet hangs on the main or on the store, as the home is turned.
func CanTurn(a *assembly.Assembly) bool {
	sides := a.Sides()
	for _, i := range a.Of(assembly.Outlet) {
		if sides.Main[i] && sides.Store[i] {
			return true
		}
	}
	return false
}

// Draws is the water that the routine draws each time [m³]: what is used meanwhile at the
// mean use [m³/s], at most what the store gives [m³]. From a whole day's length on the hour it
// begins at does not matter; a shorter one by day draws more than this.
func (r Routine) Draws(use, usable float64) float64 { return math.Min(use*float64(r.Lasts), usable) }
