package outage

import (
	"errors"
	"math"
	"slices"
	"strings"

	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// Told is one clause of what somebody remembers: so many a year, of lengths between two
// bounds. PerYear 0: lengths without a number. When is what stood before the numbers.
type Told struct {
	When        string
	PerYear     float64 // 1/year
	Least, Most float64 // s
	Weak        float64 // s: the main is weak so long once it is back
	Between     bool    // and then the next one comes, where no number says how often
}

// inRows reports whether spells follow each other with nothing but the time told between.
func (t Told) inRows() bool { return t.Between && t.PerYear == 0 && t.Weak > 0 }

// What a memory is worth: as much as five lengths seen, lying where they would if four
// of five fell between the two bounds. Basis: judgement.
const memory = 5

// Standard normal deviates of the middles of five equal classes, and exponential ones
// brought to mean 1.
var (
	normalFive = [memory]float64{-1.2815515655, -0.5244005127, 0, 0.5244005127, 1.2815515655}
	expFive    = [memory]float64{0.1129938, 0.3825247, 0.7433579, 1.2912009, 2.4694227}
)

const narrowest = 1.3 // bounds nearer together than this factor are taken this far apart

// lengths is what a clause is worth as lengths seen, weight all together.
func (t Told) lengths(weight float64) []Seen {
	least, most := t.Least, t.Most
	if least <= 0 {
		least = most / 10
	}
	if most/least < narrowest {
		middle := math.Sqrt(most * least)
		least, most = middle/math.Sqrt(narrowest), middle*math.Sqrt(narrowest)
	}
	mu, sigma := math.Log(least*most)/2, math.Log(most/least)/2/normalFive[memory-1]
	list := make([]Seen, memory)
	for i, z := range normalFive {
		list[i] = Seen{Length: math.Exp(mu + sigma*z), Weight: weight / memory}
	}
	return list
}

func (t Told) mean() float64 {
	sum := 0.0
	for _, s := range t.lengths(memory) {
		sum += s.Length / memory
	}
	return sum
}

// TooMuchError says that a habit leaves no time with supply.
type TooMuchError struct {
	Field string  // of the job that tells it
	Share float64 // of the time off
}

// Error returns the sentence.
func (e *TooMuchError) Error() string {
	return words.Say("outage-habit.too-much", words.Args{"field": e.Field, "share": quantity.Fixed(100*e.Share, 0)})
}

// told is the habit of one field.
func told(field string, list []job.Spell) (Process, []Note, error) {
	p, notes, err := habit(toldOf(list))
	if e := (*TooMuchError)(nil); errors.As(err, &e) {
		e.Field = field
	}
	return p, notes, err
}

// habit fits what somebody remembers, season by season.
func habit(told []Told) (Process, []Note, error) {
	var always []Told
	bySeason := map[string][]Told{}
	var spans []span
	notes := []Note{{ID: "outage.habit-worth", Args: map[string]float64{"count": memory}}}
	for _, t := range told {
		s, assumed := seasonOf(t.When)
		if s == nil {
			always = append(always, t)
			continue
		}
		if assumed {
			notes = append(notes, Note{ID: "outage.season-assumed", Args: map[string]float64{"from": s.from, "to": s.to}})
		}
		if len(bySeason[s.name]) == 0 {
			spans = append(spans, *s)
		}
		bySeason[s.name] = append(bySeason[s.name], t)
	}
	base, more, err := season(always, nil)
	if err != nil {
		return Process{}, nil, err
	}
	notes = append(notes, more...)
	p := Process{Seasons: []Season{base}}
	for _, s := range spans {
		own, more, err := season(bySeason[s.name], always)
		if err != nil {
			return Process{}, nil, err
		}
		own.Name = s.name
		notes = append(notes, more...)
		p.Seasons = s.lay(p.Seasons, own)
	}
	return p, append(notes, Note{ID: "outage.longest", Args: map[string]float64{"length": 60 * Day}}), nil
}

// season fits the clauses of one season. Where none says how often, spells come in rows where it is
// told what lies between them, else as often as in the rest of the year; where that is not told
// either, once a month.
func season(told, rest []Told) (Season, []Note, error) {
	if len(told) == 0 {
		return Season{To: Year}, nil, nil
	}
	var notes []Note
	rate, down := 0.0, []Seen{}
	for _, t := range told {
		rate += t.PerYear
	}
	for _, t := range told {
		switch {
		case rate == 0:
			down = append(down, t.lengths(memory/float64(len(told)))...)
		case t.PerYear == 0: // the worst: one length of the most told
			down = append(down, Seen{Length: t.Most})
			notes = append(notes, Note{ID: "outage.worst-counted", Args: map[string]float64{"length": t.Most}})
		default:
			down = append(down, t.lengths(memory*t.PerYear/rate)...)
		}
	}
	up, note, err := between(rate, told, rest)
	if err != nil {
		return Season{}, nil, err
	}
	if note.ID == rowsNote {
		rate = Year / (up + told[0].mean())
	}
	if note.ID != "" {
		notes = append(notes, note)
	}
	s := Season{To: Year, Down: fit(down, DownPrior), Longest: longest(down)}
	for _, t := range told {
		s.Weak = math.Max(s.Weak, t.Weak)
	}
	ups, weight := make([]Seen, memory), oftenWorth(rate)
	for i, x := range expFive {
		ups[i] = Seen{Length: up * x, Weight: weight / memory}
	}
	notes = append(notes, Note{ID: "outage.often-worth", Args: map[string]float64{"count": weight}})
	s.Up = fit(ups, UpPrior)
	return s, notes, nil
}

// oftenWorth is how many times between two spells a told number is worth: what happens in
// a quarter of a year, which people keep in mind, five at least and twenty at most.
// Basis: judgement.
func oftenWorth(rate float64) float64 {
	return math.Min(20, math.Max(memory, math.Round(rate/4)))
}

// rowsNote says that spells of a season follow each other.
const rowsNote = "outage.season-in-rows"

// between is the mean time with supply between two spells. [s]
func between(rate float64, told, rest []Told) (float64, Note, error) {
	note := Note{}
	from := told
	if i := slices.IndexFunc(told, Told.inRows); rate == 0 && i >= 0 {
		return told[i].Weak, Note{ID: rowsNote, Args: map[string]float64{"length": told[i].Weak}}, nil
	}
	if rate == 0 {
		for _, t := range rest {
			rate += t.PerYear
		}
		from, note = rest, Note{ID: "outage.season-as-often", Args: map[string]float64{"rate": rate}}
	}
	if rate == 0 {
		rate, from, note = 12, told, Note{ID: "outage.often-assumed", Args: map[string]float64{"rate": 12}}
	}
	off, counted := 0.0, 0.0
	for _, t := range from {
		off += t.PerYear * t.mean()
		counted += t.PerYear
	}
	if counted == 0 {
		off = rate * told[0].mean()
	}
	if !(off < Year) {
		return 0, note, &TooMuchError{Share: off / Year}
	}
	return (Year - off) / rate, note, nil
}

// span is a part of the year with a name; from may lie after to, through the new year.
type span struct {
	name     string
	from, to float64
}

var (
	seasonWord = form(`(?i)\b(season|summer|winter|spring|autumn|fall|monsoon|months?|rains?|drought)\b`)
	wordForm   = form(`[A-Za-z]+`)
	monthStart = [...]float64{0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334, 365}
)

// seasonOf finds the part of the year a clause speaks of: by its months ("Jun to Sep"),
// or, for a season without any, the four months from June, assumed. nil: all the year.
func seasonOf(when string) (s *span, assumed bool) {
	var months []int
	for _, w := range wordForm().FindAllString(when, -1) {
		if m := monthOf(w); m > 0 {
			months = append(months, m)
		}
	}
	name := strings.ToLower(strings.Trim(strings.TrimSpace(when), ":,"))
	switch {
	case len(months) > 0:
		return &span{name, monthStart[months[0]-1] * Day, monthStart[months[len(months)-1]] * Day}, false
	case seasonWord().MatchString(when):
		return &span{name, monthStart[5] * Day, monthStart[9] * Day}, true
	}
	return nil, false
}

// lay puts a season over those there are, from and to within the year.
func (s span) lay(list []Season, own Season) []Season {
	if s.from >= s.to {
		list = span{s.name, 0, s.to}.lay(list, own)
		return span{s.name, s.from, Year}.lay(list, own)
	}
	var out []Season
	add := func(part Season, from, to float64) {
		if from < to {
			part.From, part.To = from, to
			out = append(out, part)
		}
	}
	for _, l := range list {
		add(l, l.From, math.Min(l.To, s.from))
		add(own, math.Max(l.From, s.from), math.Min(l.To, s.to))
		add(l, math.Max(l.From, s.to), l.To)
	}
	return out
}
