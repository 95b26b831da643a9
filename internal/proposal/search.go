package proposal

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"tideover/internal/appraise"
	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/site"
	"tideover/internal/words"
)

// search is what one proposal looks for.
type search struct {
	in     appraise.Input
	joins  bool              // stored water and main may be joined behind valves
	stores []catalogue.Store // that pass the door and the floor, the smallest first
	pumps  []catalogue.Pump  // the weakest first
	daily  float64           // m³ the home uses in a day
}

// try is one start: an arrangement with a store for an interruption of some length.
type try struct {
	name  Name
	lasts quantity.Time
	edits []job.Edit
}

// The figures of a first size. Judgement, each; what comes out is appraised.
const (
	rationed  = 0.7  // share of their use people have once they know the store is low
	mostTanks = 4    // side by side
	beside    = 0.05 // m that a tank needs in a door
	above     = 0.25 // longer than the worst told, for the most assured
	unknown   = 86400.0
	shared    = 10 // people from which more than one household hangs on the pump
)

func newSearch(in appraise.Input) (*search, error) {
	j := in.Job
	s := &search{in: in, daily: float64(site.Daily(j))}
	rule := in.Profile.Rule("by-pass-allowed")
	switch j.Supply.Bypass {
	case job.Yes, job.WithConsent, job.Asked:
		s.joins = !(rule.Set && rule.Text == "no")
	}
	if in.Doc.Given("budget.most") && j.Access.Budget.V == 0 {
		return nil, fight("proposal.conflict.budget", "budget.most")
	}
	for _, key := range in.Catalogue.Keys("stores") {
		if row := in.Catalogue.Stores[key]; catalogue.SoldIn(key, j.System()) && s.passes(row) {
			s.stores = append(s.stores, row)
		}
	}
	if len(s.stores) == 0 {
		return nil, fight("proposal.conflict.store", "access.door", "access.floor-load").with(in)
	}
	slices.SortFunc(s.stores, func(a, b catalogue.Store) int {
		return cmp.Or(cmp.Compare(a.Nominal, b.Nominal), cmp.Compare(a.Key, b.Key))
	})
	for _, key := range in.Catalogue.Keys("pumps") {
		s.pumps = append(s.pumps, in.Catalogue.Pumps[key])
	}
	slices.SortFunc(s.pumps, func(a, b catalogue.Pump) int {
		return cmp.Or(cmp.Compare(a.Power, b.Power), cmp.Compare(a.Shutoff, b.Shutoff), cmp.Compare(a.Key, b.Key))
	})
	return s, nil
}

func fight(id string, paths ...string) *Conflict {
	return &Conflict{Fight: paths, ID: id, Args: words.Args{"fields": joined(paths)}}
}

// with names the limits as they were told.
func (c *Conflict) with(in appraise.Input) *Conflict {
	show := func(path string) string {
		if text, ok := in.Doc.Text(path); ok {
			return text
		}
		return words.Say("proposal.not-told", nil)
	}
	c.Args["door"], c.Args["floor"] = show("access.door"), show("access.floor-load")
	return c
}

func joined(list []string) string { return strings.Join(list, ", ") }

// passes reports whether a tank passes the door and stands on the floor, as far as the job
// tells of either.
func (s *search) passes(row catalogue.Store) bool {
	a := &s.in.Job.Access
	if a.Door.V > 0 && float64(row.Diameter)+beside > float64(a.Door.V) {
		return false
	}
	return !(a.Floor.V > 0) || float64(row.Overflow)*float64(quantity.StandardDensity*quantity.StandardGravity) <= float64(a.Floor.V)
}

// spans are the interruptions the three alternatives are sized for: the shortest kind the
// job tells of, the middle between it and the worst, and longer than the worst.
func (s *search) spans() map[Name]quantity.Time {
	short, long := math.Inf(1), 0.0
	for _, spell := range site.InterruptionsOf(s.in.Job).Kinds {
		short, long = math.Min(short, float64(spell.Most)), math.Max(long, float64(spell.Most))
	}
	if long == 0 {
		short, long = unknown/2, unknown
	}
	if short == long {
		short = 0.6 * long
	}
	return map[Name]quantity.Time{Least: quantity.Time(short), Balanced: quantity.Time((short + long) / 2), Assured: quantity.Time((1 + above) * long)}
}

// tries are the starts, in a fixed order.
func (s *search) tries() []try {
	var list []try
	spans := s.spans()
	for _, name := range Names() {
		row, count := s.tanks(spans[name])
		for _, arrangement := range assembly.Arrangements() {
			if !s.fits(arrangement) {
				continue
			}
			edits := append(s.unlist(), set("choices.arrangement", arrangement), set("choices.store.row", row.Key), set("choices.store.count", strconv.Itoa(count)))
			if name == Assured && arrangement != assembly.Raised && s.in.Job.Power.Battery != job.Yes {
				edits = append(edits, set("power.battery", "yes"))
			}
			edits = append(edits, s.drilled(row)...)
			edits = append(edits, s.driven(name, arrangement, row)...)
			edits = append(edits, s.spare(name, arrangement)...)
			list = append(list, try{name, spans[name], edits})
		}
	}
	return list
}

// spare gives the most assured design of a house that many share a second pump on standby,
// unless it has more than one already.
func (s *search) spare(name Name, arrangement string) []job.Edit {
	if name != Assured || arrangement == assembly.Raised || s.in.Job.Home.People.V < shared || s.in.Job.Choices.Pumps.V > 1 {
		return nil
	}
	return []job.Edit{set("choices.pump.count", "2"), set("choices.pump.duty", "standby")}
}

// drilled are the edits that say what the fitter drills into a new tank: the row's own bore
// behind mesh in a wide housing, at the heights the tank is made for. What the check finds
// wrong with it is put right by what it suggests.
func (s *search) drilled(row catalogue.Store) []job.Edit {
	if row.Key == s.in.Job.Choices.Store && s.in.Doc.Given("choices.store.overflow") {
		return nil // the customer's own
	}
	bore := strconv.FormatFloat(math.Round(float64(row.OverflowBore)*1000), 'f', -1, 64) + " mm"
	edits := []job.Edit{set("choices.store.spill", "pipe"), set("choices.store.overflow", bore), set("choices.store.screen", "wide")}
	return append(edits, heights(s.in.Doc, "choices.store.row")...)
}

// unlist takes out the parts and joins of an arrangement that was listed freely.
func (s *search) unlist() []job.Edit {
	var edits []job.Edit
	for _, p := range s.in.Job.Joins {
		edits = append(edits, job.Edit{Op: job.Remove, Path: "joins." + p.Tag})
	}
	for _, p := range s.in.Job.Parts {
		edits = append(edits, job.Edit{Op: job.Remove, Path: "parts." + p.Tag})
	}
	return edits
}

func set(path, text string) job.Edit { return job.Edit{Op: job.Set, Path: path, Text: text} }

// tanks are the fewest tanks, then the least water, that last so long on rationed use.
func (s *search) tanks(lasts quantity.Time) (row catalogue.Store, count int) {
	want := s.daily * rationed * float64(lasts) / 86400
	for count = 1; count <= mostTanks; count++ {
		for _, row := range s.stores {
			if float64(row.Usable(site.OverflowMargin(s.in.Profile, s.in.Job.Assumed), site.UsualCover(s.in.Job.Assumed)))*float64(count) >= want {
				return row, count
			}
		}
	}
	return s.stores[len(s.stores)-1], mostTanks
}

// weakest is the weakest pump that makes the pressure the job's control asks for.
func (s *search) weakest() catalogue.Pump {
	asked := float64(s.in.Job.Choices.CutOut.V)/float64(quantity.StandardDensity*quantity.StandardGravity) + 2
	for _, p := range s.pumps {
		if float64(p.H1) >= asked {
			return p
		}
	}
	return s.pumps[len(s.pumps)-1]
}

// ladder are further steps for what must be fixed: the next pump, another float valve.
func (s *search) ladder(doc *job.Doc, must *finding.Finding) [][]job.Edit {
	var list [][]job.Edit
	add := func(path, text string) { list = append(list, []job.Edit{set(path, text)}) }
	if doc.Job.Choices.Arrangement == assembly.Raised {
		return s.lifted(doc, must)
	}
	switch must.ID {
	case "outlet-flow", "outlet-peak", "pump-start", "pump-stop":
		own := doc.Job.Choices.Pump
		for _, p := range s.pumps {
			if p.Power >= s.in.Catalogue.Pumps[own].Power && p.Key != own {
				add("choices.pump.row", p.Key)
			}
		}
	case "refill", "rest-pressure":
		for _, key := range s.in.Catalogue.Keys("floats") {
			add("choices.float", key)
		}
	}
	return list
}

// weigh adds up mass and floor of the stores.
func (a *Alternative) weigh() {
	for _, i := range a.Appraisal.Assembly.Of(assembly.Store) {
		part := &a.Appraisal.Assembly.Parts[i]
		row, ok := part.Row.(catalogue.Store)
		if !ok {
			continue
		}
		n := float64(max(1, part.Count))
		a.Area += quantity.Area(n * float64(row.Diameter*row.Diameter)) // the square it needs
		a.Mass += quantity.Mass(n * (float64(row.Mass) + float64(row.Nominal)*float64(quantity.StandardDensity)))
	}
}
