package proposal

import (
	"math"
	"strconv"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/consent"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/mend"
)

// fits reports whether an arrangement is worth trying within the limits of the place:
// without a pump only a raised store, and that only where a pump is refused or the store
// stands high already.
func (s *search) fits(arrangement string) bool {
	j := s.in.Job
	if arrangement == assembly.HeaderTank && !s.in.Doc.Given("choices.header.level") {
		return false // nobody knows where it could stand
	}
	if arrangement == assembly.Raised {
		return j.Access.Pump == job.No || j.Access.Place == "roof" || consent.Raised(j)
	}
	return j.Access.Pump != job.No
}

// driven are the edits that say what drives the water of a try: the weakest pump that does
// for the least, or a pump where the job names none; of a raised store its height alone.
func (s *search) driven(name Name, arrangement string, row catalogue.Store) []job.Edit {
	own := s.in.Job.Choices.Pump
	switch {
	case arrangement == assembly.Raised:
		level := math.Min(math.Max(s.highest()+assembly.FirstFall-float64(row.Outlet), s.foot()), s.top())
		return []job.Edit{set("choices.pump.row", "none"), set("choices.store.level", metres(level))}
	case name == Least, own == "", own == "none":
		return []job.Edit{set("choices.pump.row", s.weakest().Key)}
	}
	return nil
}

// foot is where a raised store can stand at the lowest: as high as the job says now. [m]
func (s *search) foot() float64 { return float64(s.in.Job.Choices.StoreLevel.V) }

// top is as high as it may be lifted without a tower. [m]
func (s *search) top() float64 { return float64(assembly.HighestStand(s.in.Job)) }

// highest is the height of the highest tap above the datum. [m]
func (s *search) highest() float64 {
	high := math.Inf(-1)
	for i := range s.in.Job.Outlets {
		high = math.Max(high, float64(s.in.Job.Outlets[i].Height.V))
	}
	return float64(s.in.Job.Home.Level.V) + high
}

// metres writes a height as a job does.
func metres(m float64) string { return strconv.FormatFloat(math.Round(m*10)/10, 'f', 1, 64) + " m" }

// lifted are the further steps of a raised store: higher up, wider pipe, another float
// valve.
func (s *search) lifted(doc *job.Doc, must *finding.Finding) [][]job.Edit {
	var list [][]job.Edit
	add := func(path, text string) { list = append(list, []job.Edit{set(path, text)}) }
	switch must.ID {
	case "outlet-flow", "outlet-peak":
		for up := float64(doc.Job.Choices.StoreLevel.V) + assembly.LiftStep; up <= s.top()+1e-9; up += assembly.LiftStep {
			add("choices.store.level", metres(up))
		}
		list = append(list, mend.Wider(s.in.Catalogue, doc)...)
	case "refill":
		for _, key := range s.in.Catalogue.Keys("floats") {
			add("choices.float", key)
		}
	}
	return list
}
