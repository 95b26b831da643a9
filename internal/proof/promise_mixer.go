package proof

import (
	"tideover/internal/assembly"
)

// mixer: hot and cold of a mixer come from the same pressure side. From two sides, water
// crosses over in every mixer left half open: the hot pipe fills with cold, or the cold
// with hot, and whoever stands under the shower is scalded when one side fails.
type mixer struct{}

// About says what is promised.
func (mixer) About() About {
	return About{ID: "mixer", Kind: Reach, Spread: EveryCase, Safety: true, Source: "trade"}
}

// Judge compares what presses on the heater with what presses on each outlet that mixes.
func (mixer) Judge(v *View) Judgement {
	in := v.Input()
	heaters := in.Assembly.Of(assembly.Heater)
	mixers := in.mixers()
	if len(heaters) == 0 || len(mixers) == 0 {
		return none()
	}
	const pressing = Street | Stored | Pumped
	for _, o := range mixers {
		for _, h := range heaters {
			cold, hot := v.Reaches(o, 0, pressing), v.Reaches(h, 0, pressing)
			if cold != hot && cold != NoSource && hot != NoSource {
				return broken(in.tag(o))
			}
		}
	}
	return kept()
}

// mixers lists the outlets that draw hot and cold.
func (in *Input) mixers() []int {
	var list []int
	for _, o := range in.Job.Outlets {
		if i := in.Assembly.Index(o.Tag); i >= 0 && o.Water == "both" {
			list = append(list, i)
		}
	}
	return list
}
