package outage

import "math"

// Pressure is what the main gives at the meter when it is on, by the hour of the day.
// Gauge pressures [Pa]; PeakFrom and PeakTo in seconds of the day, equal where the
// job tells of no peak. PeakTo before PeakFrom runs through midnight.
type Pressure struct {
	Static, Peak     float64
	PeakFrom, PeakTo float64
}

// At is the pressure of the main at a moment of the run, when it is on. [Pa]
func (p Pressure) At(t float64) float64 {
	if p.InPeak(t) {
		return p.Peak
	}
	return p.Static
}

// InPeak reports whether a moment lies in the hours in which the main sags.
func (p Pressure) InPeak(t float64) bool {
	of := t - Day*math.Floor(t/Day)
	if p.PeakFrom <= p.PeakTo {
		return of >= p.PeakFrom && of < p.PeakTo
	}
	return of >= p.PeakFrom || of < p.PeakTo
}

// Next is the first moment after t at which the pressure changes; +Inf where it never does.
func (p Pressure) Next(t float64) float64 {
	if p.PeakFrom == p.PeakTo {
		return math.Inf(1)
	}
	base := Day * math.Floor(t/Day)
	best := math.Inf(1)
	for _, at := range [...]float64{base + p.PeakFrom, base + p.PeakTo, base + Day + p.PeakFrom, base + Day + p.PeakTo} {
		if at > t {
			best = min(best, at)
		}
	}
	return best
}
