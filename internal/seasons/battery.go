package seasons

import (
	"math"

	"tideover/internal/stream"
)

// BatteryHours is how long the battery of a future runs the pump [s]: between its ends by the
// logarithm any alike, for what nobody tells (kind, age, how it is drawn) are factors.
func (in *Input) BatteryHours(home uint32) float64 {
	p := &in.Pump
	if !(p.Most > p.Battery) || p.Battery <= 0 {
		return p.Battery
	}
	s := stream.Of(stream.Key{Seed: in.Home.Seed, Home: home, Process: stream.Posterior, Item: batteryItem})
	return p.Battery * math.Pow(p.Most/p.Battery, s.Uniform())
}

// batteryItem is the draw of a future's battery among those of its parameters.
const batteryItem = 8
