package commission

import (
	"tideover/internal/assembly"
	"tideover/internal/assume"
	"tideover/internal/disinfect"
	"tideover/internal/quantity"
)

// FirstWater is what runs to the drain, at the least, when the main is back after an interruption,
// before anybody drinks of it or the store is filled: so many times what the pipe from the street to
// the home holds, π/4 d² L for each of its runs [m³]. 0 where there is no such pipe. What stirs in the
// street's own pipes is not in it: the water has to be seen clear as well.
func FirstWater(a *assembly.Assembly, v assume.Values) quantity.Volume {
	held := 0.0
	for i := range a.Parts {
		part := &a.Parts[i]
		if row, ok := pipeOf(part); ok && part.Purpose == assembly.AsServiceRun {
			held += disinfect.PipeVolume.Fn([]float64{float64(row.Bore), float64(part.Length)})
		}
	}
	return quantity.Volume(assume.FirstWater.In(v) * held)
}
