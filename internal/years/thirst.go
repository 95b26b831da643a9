package years

import (
	"math"
	"regexp"
	"sync"

	"tideover/internal/job"
	"tideover/internal/outage"
	"tideover/internal/seasons"
)

var dryWords = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(?i)\b(dry|drought|summer)\b`) })

// Midsummer, as days of the year from the first of January.
const north, south = 172, 355

// thirst is the day of the year on which the garden drinks most: the middle of the dry season
// told of, else midsummer. note is what the reader is told, if anything.
func thirst(m *outage.Model, j *job.Job) (day float64, known bool, note string) {
	x, y := 0.0, 0.0
	for _, s := range m.Water.Seasons {
		if dryWords().MatchString(s.Name) {
			a, b := 2*math.Pi*s.From/seasons.Year, 2*math.Pi*s.To/seasons.Year
			x, y = x+math.Sin(b)-math.Sin(a), y+math.Cos(a)-math.Cos(b) // ∫ of the year's hand over the season
		}
	}
	if math.Hypot(x, y) > 1e-6 {
		return math.Mod(math.Atan2(y, x)/(2*math.Pi)*365+365, 365), true, ""
	}
	switch j.Place.Midsummer {
	case "north":
		return north, true, ""
	case "south":
		return south, true, ""
	case "none":
		return 0, false, ""
	}
	return 0, false, "years.no-summer"
}
