package pack

import "math"

// routine says whether the home is to be run on the store on purpose, and what that takes: how
// often, the handles, how long, the water. The card, the upkeep sheet and the calendar tell the
// same, which is what the age of the water was worked out with.
func (p *pack) routine() (args []string, is bool) {
	if p.Store == nil || p.Store.Routine.Every == 0 {
		return nil, false
	}
	r := p.Store.Routine
	back := say("routine.back", "setting", settingName(p.Assembly.Settings[0].Name))
	turns := p.turnText("on-store", "valves.stop")
	if p.automatic() { // while the main is there, only a shut main makes it change over
		turns = say("card.turn", "tag", p.stop(), "to", sayOr("turn.shut", "shut"))
		back = say("routine.open", "stop", p.stop())
	}
	return []string{"every", p.time(r.Every), "lasts", p.time(r.Lasts), "turns", turns, "back", back, "each", p.volume(p.Store.Each)}, true
}

// routineDays is how many days lie from one routine to the next; 0 where there is none.
func (p *pack) routineDays() int {
	if _, is := p.routine(); !is {
		return 0
	}
	return int(math.Round(float64(p.Store.Routine.Every) / 86400))
}
