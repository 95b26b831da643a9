package proof

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/quantity"
	"tideover/internal/site"
)

// ratings: no part stands above its rating, at the worst end of where standing water can
// be: what is trapped keeps the most that ever pressed on it.
type ratings struct{}

// About says what is promised.
func (ratings) About() About {
	return About{ID: "ratings", Kind: Standing, Spread: EveryCase, Safety: true, Source: "en-806-2-3-4-2"}
}

// Judge asks only about the parts that something in the assembly could press too high at
// all: the main at its highest, or the pump as its controller lets it; at full speed where
// that is stuck.
func (ratings) Judge(v *View) Judgement {
	in := v.Input()
	doubts := in.doubts()
	list := doubts.stuck
	if len(list) == 0 {
		return kept()
	}
	stuck := v.Upset(circuit.PumpAlwaysRuns)
	if !stuck {
		if list = doubts.sound; len(list) == 0 {
			return kept()
		}
	}
	worst := Judgement{Outcome: Kept, Margin: math.Inf(1)}
	for _, i := range list {
		p := &in.Assembly.Parts[i]
		limit := float64(in.rating(i))
		for k := range p.Ports {
			if p.Ports[k].Name == "mouth" || stuck && v.Reaches(i, k, Pumped) == NoSource {
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

// doubted are the parts that something could press too high at all: with the pump as its
// controller lets it, and at full speed where that is stuck.
type doubted struct{ sound, stuck []int }

func (in *Input) doubt() doubted {
	return doubted{in.doubtful(in.greatestHead(false)), in.doubtful(in.greatestHead(true))}
}

// doubtful lists the rated parts that a head would press above their rating. The others
// need no case.
func (in *Input) doubtful(top float64) []int {
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

// controlled is a margin on the head at which a controller stops the pump, for what stands
// between the pump and where it feels [m]: an assumption, three times a non-return valve.
const controlled = 3.0

// greatestHead is a head nothing exceeds [m above the datum]: what main or store hold, and
// what the pump puts on top of them: as its controller lets it, or at full speed.
func (in *Input) greatestHead(stuck bool) float64 {
	main, store := math.Inf(-1), math.Inf(-1)
	if in.Part(assembly.Main, "") >= 0 {
		main = headOf(in.night()) + float64(in.Circuit.GaugeHeight())
	}
	for _, i := range in.Assembly.Of(assembly.Store) {
		if row, ok := in.storeRow(i); ok {
			store = math.Max(store, float64(in.base(i)+row.Height))
		}
	}
	law, c := in.Circuit.PumpLaw(), in.Circuit.ControlOf()
	if law == nil {
		return math.Max(main, store)
	}
	under := store
	if in.drawsOnMain() {
		under = math.Max(main, store)
	}
	top := under + law.ShutOff(1)
	if !stuck && c != nil && c.Kind != assembly.FlowControl {
		z := in.Assembly.Parts[c.Senses.Part].Ports[c.Senses.Port].Z
		top = math.Min(top, math.Max(circuit.HeadOf(c.Off, z)+controlled, under))
	}
	return math.Max(main, top)
}

// drawsOnMain reports whether pipes alone, through no store, lead from the main to the
// inlet of the pump.
func (in *Input) drawsOnMain() bool {
	pump, m := in.Circuit.Pump(), in.Part(assembly.Main, "")
	if pump < 0 || m < 0 {
		return false
	}
	g := newMeets(in.Assembly)
	seen := map[int]bool{m: true}
	for _, i := range in.Circuit.Pumps() {
		seen[i] = true
	}
	for queue := []int{m}; len(queue) > 0; queue = queue[1:] {
		for k := range in.Assembly.Parts[queue[0]].Ports {
			e, ok := g.with[assembly.End{Part: queue[0], Port: k}]
			if ok && e == (assembly.End{Part: pump, Port: 0}) {
				return true
			}
			if ok && !seen[e.Part] && in.Assembly.Parts[e.Part].Kind != assembly.Store {
				seen[e.Part] = true
				queue = append(queue, e.Part)
			}
		}
	}
	return false
}

// night is the highest the main presses, at the gauge.
func (in *Input) night() quantity.Pressure {
	main := site.MainOf(in.Job)
	return main.Highest()
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
	case catalogue.Regulator:
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
