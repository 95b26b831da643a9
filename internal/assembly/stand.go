package assembly

import (
	"math"

	"tideover/internal/job"
	"tideover/internal/quantity"
)

// roofOver is how high over the highest tap the roof of a home is taken to be [m]. Judgement.
const roofOver = 1.5

// HighestStand is the height above the datum up to which the base of a store may be put without
// an engineer's word [m]: a stand on the ground at the home, or one more on its roof. What is
// higher is a tower. It hangs on the home and not on where the tank is now, so that lifting a
// tank twice leads no higher than once.
func HighestStand(j *job.Job) quantity.Length {
	ground := j.Home.Level.V + GroundStand
	if j.Access.Place != "roof" {
		return ground
	}
	return max(ground, HighestHeader(j))
}

// HighestHeader is the same for a header tank, which stands on the home itself.
func HighestHeader(j *job.Job) quantity.Length {
	top := 0.0
	for i := range j.Outlets {
		top = math.Max(top, float64(j.Outlets[i].Height.V))
	}
	return j.Home.Level.V + quantity.Length(top+roofOver+RoofStand)
}
