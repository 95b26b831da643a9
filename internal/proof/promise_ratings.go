package proof

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/quantity"
)

// ratings: no part stands above its rating, at the worst end of where standing water can
// be: what is trapped keeps the most that ever pressed on it.
type ratings struct{}

// About says what is promised.
func (ratings) About() About {
	return About{ID: "ratings", Kind: Standing, Spread: EveryCase, Safety: true, Source: "en-806-2"}
}

// Judge asks only about the parts that something in the assembly could press too high at
// all: the main at its highest, and on top of it the pump where it draws on the main.
func (ratings) Judge(v *View) Judgement {
	worst := Judgement{Outcome: Kept, Margin: math.Inf(1)}
	for _, i := range v.Input().doubtful() {
		p := &v.Input().Assembly.Parts[i]
		limit := float64(v.Input().rating(i))
		for k := range p.Ports {
			if p.Ports[k].Name == "mouth" {
				continue
			}
			high := v.Pressure(i, k).High
			if !v.Solved() {
				return unjudged("no-answer")
			}
			if math.IsInf(high, 0) {
				continue // nothing ever pressed on it
			}
			if j := most(quantity.PressureDim, high, limit, p.Tag); j.Margin < worst.Margin {
				worst = j
			}
		}
	}
	return worst
}

// doubtful lists the rated parts that the greatest head anything makes would press above
// their rating. The others need no case.
func (in *Input) doubtful() []int {
	top := in.greatestHead()
	var list []int
	for i := range in.Assembly.Parts {
		rating := in.rating(i)
		if rating <= 0 {
			continue
		}
		for _, port := range in.Assembly.Parts[i].Ports {
			if port.Name != "mouth" && top-float64(port.Z) > headOf(rating) {
				list = append(list, i)
				break
			}
		}
	}
	return list
}

// greatestHead is a head nothing exceeds [m above the datum]: what main or store hold, and
// the pump's shut-off head on top.
func (in *Input) greatestHead() float64 {
	top := math.Inf(-1)
	if in.Part(assembly.Main, "") >= 0 {
		night := in.night()
		top = headOf(night) + float64(in.Circuit.GaugeHeight())
	}
	for _, i := range in.Assembly.Of(assembly.Store) {
		row, ok := in.storeRow(i)
		if ok {
			top = math.Max(top, float64(in.base(i)+row.Height))
		}
	}
	if law := in.Circuit.PumpLaw(); law != nil {
		top += law.ShutOff(1)
	}
	return top
}

// night is the highest the main presses, at the gauge.
func (in *Input) night() quantity.Pressure {
	return max(in.Job.Supply.NightMax.V, in.Job.Supply.Static.V)
}

// base is the height of the ground a store stands on.
func (in *Input) base(store int) quantity.Length {
	row, _ := in.storeRow(store)
	return in.Assembly.Parts[store].Ports[0].Z - row.Outlet
}

// rating is the pressure a part stands; 0 when nobody says. A heater's own label in the
// job outranks the catalogue's.
func (in *Input) rating(part int) quantity.Pressure {
	switch r := in.Assembly.Parts[part].Row.(type) {
	case catalogue.Pipe:
		return r.Rating
	case catalogue.Valve:
		return r.Rating
	case catalogue.NonReturn:
		return r.Rating
	case catalogue.Float:
		return r.Rating
	case catalogue.Vessel:
		return r.Rating
	case catalogue.Pump:
		return r.Rating
	case catalogue.Control:
		return r.Rating
	case catalogue.Heater:
		if given := in.Job.Home.Rating.V; given > 0 {
			return given
		}
		return r.Rating
	}
	return 0
}
