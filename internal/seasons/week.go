package seasons

import "tideover/internal/stream"

// WeekOf is how the main stands through the hours of a week in a future: as Week, with one of Instead
// in place of Usual.
func (in *Input) WeekOf(home uint32) [168]uint8 {
	week := in.Week
	if len(in.Instead) == 0 {
		return week
	}
	s := stream.Of(stream.Key{Seed: in.Home.Seed, Home: home, Process: stream.Posterior, Item: weekItem})
	way := in.Instead[min(int(s.Uniform()*float64(len(in.Instead))), len(in.Instead)-1)]
	for hour := range week {
		if week[hour] == in.Usual {
			week[hour] = way
		}
	}
	return week
}

// weekItem is the draw of how a future's main stands among those of its parameters.
const weekItem = 9
