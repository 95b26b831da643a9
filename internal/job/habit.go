package job

import (
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"tideover/internal/quantity"
	"tideover/internal/words"
)

const year = 365.25 * day // s, the Julian year: what "a year" is counted in

var (
	// A clause with a frequency: what precedes it, how many, of what, and the length.
	oftenForm = regexp.MustCompile(`^(?i)(.*?)\s*:?\s*\b(?:(?:about|around)\s+)?(once|twice|[0-9][0-9.,]*)\s+(?:times\s+)?(?:a|an|per)\s+([a-z]+)\s*,\s*(\S.*)$`)
	// A clause with a length only: a worst case without a frequency.
	worstForm = regexp.MustCompile(`^(?i)(.*?)\s*:?\s*((?:(?:up\s+)?to\s+)?[0-9].*)$`)
	// How often, and nothing more.
	onlyOften = regexp.MustCompile(`^(?i)(?:.*\s)?(?:once|twice|[0-9][0-9.,]*)\s+(?:times\s+)?(?:a|an|per)\s+[a-z]+$`)
	rangeForm = regexp.MustCompile(`^(?i)(.*?)\s*\b(?:up\s+)?to\s+(.+)$`)
	// What follows an interruption: the main comes back weak for a while.
	weakForm = regexp.MustCompile(`^(?i)(.*?)[,\s]\s*with\s+(.+?)\s+(?:of\s+)?weak(?:\s+(?:supply|water|main))?(?:\s+(between|after|afterwards))?$`)
	unitTail = regexp.MustCompile(`\pL+\s*$`)
)

// perYear is how many of a period there are in a year.
var perYear = map[string]float64{"day": 365.25, "week": 365.25 / 7, "month": 12, "year": 1}

// ParseHabit reads what somebody remembers of interruptions: clauses parted by ";",
// each "[when] [about N a day|week|month|year,] [least to] most". A length without a
// lower bound ("to 3 days") counts from nought; one alone ("6 h") is both bounds.
// Lengths read as quantities of time. "with 6 h of weak supply between" at the end of a clause
// says how long the main is weak once it is back. Errors say which clause and where in it.
func ParseHabit(text string) ([]Spell, error) {
	var list []Spell
	at := 0
	for _, clause := range strings.Split(text, ";") {
		lead := len(clause) - len(strings.TrimLeft(clause, " \t\n"))
		s, err := parseSpell(strings.TrimSpace(clause))
		if err != nil {
			err.At += utf8.RuneCountInString(text[:at+lead])
			return nil, err
		}
		list = append(list, s)
		at += len(clause) + 1
	}
	return list, nil
}

func parseSpell(clause string) (Spell, *valueError) {
	s := Spell{From: clause}
	if clause == "" {
		return s, wrong("habit-empty", nil)
	}
	whole := clause
	if m := weakForm.FindStringSubmatchIndex(clause); m != nil {
		weak, err := quantity.Parse(clause[m[4]:m[5]], quantity.TimeDim, quantity.Metric)
		if err != nil {
			return s, fromQuantity(err, utf8.RuneCountInString(clause[:m[4]]))
		}
		if weak.SI <= 0 {
			return s, wrong("habit-nothing", words.Args{"clause": clause})
		}
		s.Weak, s.Between = quantity.Time(weak.SI), m[6] >= 0 && strings.EqualFold(clause[m[6]:m[7]], "between")
		clause = clause[:m[3]]
	}
	long := ""
	if m := oftenForm.FindStringSubmatchIndex(clause); m != nil {
		s.When, long = clause[:m[3]], clause[m[8]:m[9]]
		n, err := frequency(clause[m[4]:m[5]], strings.ToLower(clause[m[6]:m[7]]))
		if err != nil {
			err.At = utf8.RuneCountInString(clause[:m[4]])
			return s, err
		}
		s.PerYear = n
	} else if m := worstForm.FindStringSubmatchIndex(clause); m != nil && !onlyOften.MatchString(clause) {
		s.When, long = clause[:m[3]], clause[m[4]:m[5]]
	} else {
		return s, wrong("habit-no-length", words.Args{"clause": clause})
	}
	err := s.length(long)
	if err != nil {
		err.At += utf8.RuneCountInString(clause) - utf8.RuneCountInString(long)
		return s, err
	}
	return s, s.sense(whole)
}

// frequency returns how many a year "2 a week" is. [1/year]
func frequency(many, period string) (float64, *valueError) {
	per, known := perYear[strings.TrimSuffix(period, "s")]
	if !known {
		return 0, wrong("habit-period", words.Args{"period": period})
	}
	switch strings.ToLower(many) {
	case "once":
		return per, nil
	case "twice":
		return 2 * per, nil
	}
	n, err := strconv.ParseFloat(many, 64)
	if err != nil || n <= 0 || n*per > 366*24 {
		return 0, wrong("habit-often", words.Args{"many": many, "period": period})
	}
	return n * per, nil
}

// length reads "10 to 20 h", "to 3 days", "6 h" into the bounds of s.
func (s *Spell) length(text string) *valueError {
	least, most := "", text
	if m := rangeForm.FindStringSubmatch(text); m != nil {
		least, most = m[1], m[2]
	} else {
		least = text
	}
	high, err := quantity.Parse(most, quantity.TimeDim, quantity.Metric)
	if err != nil {
		return fromQuantity(err, utf8.RuneCountInString(text)-utf8.RuneCountInString(most))
	}
	s.Most = quantity.Time(high.SI)
	if least == "" {
		return nil
	}
	if !unitTail.MatchString(least) {
		least += " " + unitTail.FindString(most)
	}
	low, err := quantity.Parse(least, quantity.TimeDim, quantity.Metric)
	if err != nil {
		return fromQuantity(err, 0)
	}
	s.Least = quantity.Time(low.SI)
	return nil
}

// sense refuses a spell that cannot be: bounds the wrong way round, nothing, longer
// than a year, or more hours off than a year has.
func (s *Spell) sense(clause string) *valueError {
	args := words.Args{"clause": clause}
	switch {
	case s.Least < 0 || s.Most <= 0:
		return wrong("habit-nothing", args)
	case s.Least > s.Most:
		return wrong("habit-order", args)
	case s.Most > year:
		return wrong("habit-long", args)
	case s.PerYear*float64(s.Least) > year:
		return wrong("habit-too-much", args)
	}
	return nil
}

// valueError says why a text is not the value of a field.
type valueError struct {
	ID      string
	Args    words.Args
	At      int // in the text, in characters from 0
	Accept  string
	Nearest string
}

// Error returns the message in words.
func (e *valueError) Error() string { return Fault{ID: e.ID, Args: e.Args}.Message() }

func wrong(id string, args words.Args) *valueError { return &valueError{ID: id, Args: args} }

// fromQuantity carries a quantity's own message, moved to where its text began.
func fromQuantity(err error, at int) *valueError {
	p := err.(*quantity.ParseError) // what Parse promises
	return &valueError{ID: p.ID, Args: p.Args, At: at + p.At}
}
