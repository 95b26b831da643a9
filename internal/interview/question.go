package interview

import (
	"errors"
	"math"
	"slices"
	"strconv"
	"strings"

	"tideover/internal/catalogue"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// Unknown is the answer of somebody who does not know.
const Unknown = "-"

// Kind is what an answer looks like.
type Kind uint8

// The kinds.
const (
	Pick   Kind = iota // one of Options
	Amount             // a quantity with its unit, or one of Options
	Whole              // a whole number
	Money              // a number, in the currency of the reader's price list
	Free               // any text
)

// Question is one thing that is asked. Its words are "ask.<ID>" (the question),
// "ask.<ID>.hint" (how to find out), "ask.<ID>.unknown" (what not knowing means); those of
// an option are "ask.<ID>.<option>".
type Question struct {
	ID        string
	Kind      Kind
	Options   []string
	Dim       quantity.Dim
	Low, High float64 // SI; of a whole number or money, itself
	Ordinary  string  // what an answer nobody was asked for takes
	Cautious  string  // what "don't know" takes
	Call      bool    // one of the eight of the first telephone call

	titles map[string]string // of options whose words are the catalogue's
}

// Text is the question in words.
func (q Question) Text() string { return words.Say("ask."+q.ID, nil) }

// Hint says how to find out.
func (q Question) Hint() string { return words.Say("ask."+q.ID+".hint", nil) }

// IfUnknown says what is done when nobody knows.
func (q Question) IfUnknown() string { return words.Say("ask."+q.ID+".unknown", nil) }

// Option is one option in words.
func (q Question) Option(key string) string {
	if t, ok := q.titles[key]; ok {
		return t
	}
	return words.Say("ask."+q.ID+"."+key, nil)
}

// Interview is the questions against one catalogue, whose profiles can be chosen.
type Interview struct {
	rows *catalogue.Catalogue
	date string // ISO, of the job
	all  []Question
}

// New begins an interview. date is the ISO date the job will carry.
func New(rows *catalogue.Catalogue, date string) *Interview {
	v := &Interview{rows: rows, date: date, all: questions()}
	for i := range v.all {
		q := &v.all[i]
		if q.ID == "ground" {
			q.titles = map[string]string{}
			for _, key := range q.Options {
				q.titles[key] = words.Say("ground."+key, nil) // as the sheets say it
			}
		}
		if q.ID == "profile" {
			q.Options, q.titles = rows.Keys("profiles"), map[string]string{}
			for _, key := range q.Options {
				p := rows.Profiles[key]
				q.titles[key] = p.Rule("title").Text
			}
		}
	}
	return v
}

// questions are all of them in the order they are asked.
func questions() []Question {
	return []Question{
		{ID: "name", Kind: Free, Ordinary: "My home", Cautious: "My home"},
		{ID: "units", Options: []string{"metric", "us", "imperial"}, Ordinary: "metric", Cautious: "metric"},
		{ID: "profile", Ordinary: "generic", Cautious: "generic"},
		{ID: "people", Kind: Whole, Low: 1, High: 30, Ordinary: "4", Cautious: "5", Call: true},
		{ID: "storeys", Options: []string{"one", "two", "three"}, Ordinary: "one", Cautious: "two", Call: true},
		{ID: "bathrooms", Kind: Whole, Low: 1, High: 6, Ordinary: "1", Cautious: "2"},
		{ID: "garden", Options: []string{"yes", "no"}, Ordinary: "yes", Cautious: "yes"},
		{ID: "fails", Options: []string{"daily", "weekly", "monthly", "rarely", "never"}, Ordinary: "monthly", Cautious: "weekly", Call: true},
		{ID: "longest", Kind: Amount, Dim: quantity.TimeDim, Low: 600, High: 60 * 86400, Ordinary: "24 h", Cautious: "2 d", Call: true},
		{ID: "pressure", Kind: Amount, Options: []string{"weak", "good", "strong"}, Dim: quantity.PressureDim, Low: 0, High: 16e5, Ordinary: "good", Cautious: "weak", Call: true},
		{ID: "worst-hours", Options: []string{"same", "weaker", "nothing"}, Ordinary: "same", Cautious: "weaker"},
		{ID: "distance", Kind: Amount, Dim: quantity.LengthDim, Low: 1, High: 1000, Ordinary: "20 m", Cautious: "30 m"},
		{ID: "rise", Kind: Amount, Dim: quantity.LengthDim, Low: -50, High: 80, Ordinary: "0 m", Cautious: "2 m"},
		{ID: "heater", Options: []string{"none", "storage-pressure", "storage-vented", "instant-gas", "electric-shower"}, Ordinary: "storage-pressure", Cautious: "unknown"},
		{ID: "water", Options: []string{"cold", "mild", "hot"}, Ordinary: "mild", Cautious: "mild"},
		{ID: "frost", Options: []string{"yes", "no"}, Ordinary: "no", Cautious: "unknown"},
		{ID: "power-cuts", Options: []string{"never", "rarely", "often"}, Ordinary: "rarely", Cautious: "often"},
		{ID: "takes-water", Options: []string{"none", "few", "half", "most", "all"}, Ordinary: "unknown", Cautious: "unknown"},
		{ID: "joint", Options: []string{"yes", "with-consent", "asked", "no"}, Ordinary: "unknown", Cautious: "unknown", Call: true},
		{ID: "place", Options: []string{"ground", "roof"}, Ordinary: "ground", Cautious: "ground", Call: true},
		{ID: "door", Kind: Amount, Dim: quantity.LengthDim, Low: 0.3, High: 10, Ordinary: "1.5 m", Cautious: "0.9 m", Call: true},
		{ID: "pump", Options: []string{"yes", "no"}, Ordinary: "yes", Cautious: "yes"},
		{ID: "budget", Kind: Money, Low: 0, High: 1e9},
		{ID: "tenure", Options: []string{"owner", "tenant", "shared"}, Ordinary: "owner", Cautious: "unknown"},
		{ID: "use", Kind: Amount, Dim: quantity.VolumeDim, Low: 0.03, High: 2},
		{ID: "short-then", Options: []string{"yes", "no"}, Ordinary: "no", Cautious: "yes"},
		{ID: "by-day", Options: []string{"yes", "no"}, Ordinary: "yes", Cautious: "no"},
		{ID: "guests", Kind: Whole, Low: 0, High: 30, Ordinary: "0", Cautious: "2"},
		{ID: "empty", Kind: Whole, Low: 0, High: 300, Ordinary: "0", Cautious: "14"},
		{ID: "saves", Options: []string{"yes", "no"}, Ordinary: "no", Cautious: "no"},
		{ID: "back", Kind: Amount, Dim: quantity.TimeDim, Low: 0, High: 2 * 86400, Call: true},
		{ID: "begin", Options: []string{"day", "night", "any"}, Ordinary: "unknown", Cautious: "unknown"},
		{ID: "notice", Kind: Amount, Dim: quantity.TimeDim, Low: 0, High: 30 * 86400},
		{ID: "chlorine", Kind: Amount, Dim: quantity.DoseDim, Low: 0, High: 0.005},
		{ID: "stands", Options: []string{"sun", "shade", "indoors"}, Ordinary: "sun", Cautious: "sun"},
		{ID: "colour", Options: []string{"black", "green", "beige", "white"}, Ordinary: "black", Cautious: "black"},
		{ID: "hot-day", Kind: Amount, Dim: quantity.TemperatureDim, Low: 0, High: 55},
		{ID: "also", Options: []string{"none", "rain", "borehole", "tanker", "sump"}, Ordinary: "none", Cautious: "tanker"},
		{ID: "ground", Options: []string{"rock", "gravel", "dense-sand", "medium-sand", "loose-sand", "stiff-clay", "firm-clay", "soft-clay", "made-ground"}, Cautious: "unknown"},
		{ID: "heater-volume", Kind: Amount, Dim: quantity.VolumeDim, Low: 0.001, High: 10},
	}
}

// Answers are the texts given so far, by question. A question without a text has not been
// answered.
type Answers map[string]string

// Questions returns what is asked after these answers, in order: a question that the
// others make idle is left out.
func (v *Interview) Questions(a Answers) []Question {
	return slices.DeleteFunc(slices.Clone(v.all), func(q Question) bool {
		switch q.ID {
		case "ground":
			return a["place"] == "roof"
		case "heater-volume":
			return !tanked(a["heater"])
		case "longest", "back", "begin", "notice":
			return a["fails"] == "never"
		case "takes-water":
			return a["power-cuts"] == "never"
		case "short-then":
			return a["use"] == "" || a["use"] == Unknown
		case "colour":
			return a["stands"] == "shade" || a["stands"] == "indoors"
		}
		return false
	})
}

// tanked reports whether an answer to what heats the water leaves room for a tank of it under
// pressure, which needs room to swell into.
func tanked(heater string) bool {
	return heater == "" || heater == Unknown || heater == "storage-pressure"
}

// Call returns the questions of the first telephone call.
func (v *Interview) Call() []Question {
	return slices.DeleteFunc(slices.Clone(v.all), func(q Question) bool { return !q.Call })
}

// Find returns the question with an id.
func (v *Interview) Find(id string) (Question, bool) {
	for _, q := range v.all {
		if q.ID == id {
			return q, true
		}
	}
	return Question{}, false
}

// Check reads one answer as a person types it and returns it as it is kept: an option's
// key, a quantity, a number, Unknown. An empty text is no answer and stays empty. The
// error says in words what is accepted.
func (q Question) Check(text string, sys quantity.System) (string, error) {
	text = strings.TrimSpace(text)
	lower := strings.ToLower(text)
	switch {
	case text == "" || text == Unknown:
		return text, nil
	case slices.Contains(q.Options, lower):
		return lower, nil
	case q.Kind == Pick:
		return "", q.refuse("ask.fault.option", text)
	case q.Kind == Free:
		return q.free(text)
	case q.Kind == Amount:
		return q.amount(text, sys)
	}
	return q.number(text)
}

func (q Question) refuse(id, text string) error {
	return errors.New(words.Say(id, words.Args{"text": text, "options": strings.Join(q.Options, ", "),
		"low": strconv.FormatFloat(q.Low, 'f', -1, 64), "high": strconv.FormatFloat(q.High, 'f', -1, 64)}))
}

// longestName keeps a name on one line of a sheet.
const longestName = 80

func (q Question) free(text string) (string, error) {
	if len([]rune(text)) > longestName || strings.ContainsFunc(text, func(r rune) bool { return r < ' ' || r == 0x7f }) {
		return "", q.refuse("ask.fault.text", text)
	}
	return text, nil
}

func (q Question) amount(text string, sys quantity.System) (string, error) {
	v, err := quantity.Parse(text, q.Dim, sys)
	if err != nil {
		return "", err
	}
	if v.SI < q.Low || v.SI > q.High {
		show := func(si float64) string { return quantity.Format(quantity.Quantity{Dim: q.Dim, SI: si}, sys) }
		return "", errors.New(words.Say("ask.fault.range", words.Args{"text": text, "low": show(q.Low), "high": show(q.High)}))
	}
	return text, nil
}

func (q Question) number(text string) (string, error) {
	v, err := strconv.ParseFloat(text, 64)
	switch {
	case err != nil || math.IsNaN(v) || math.IsInf(v, 0) || q.Kind == Whole && v != math.Trunc(v):
		return "", q.refuse("ask.fault.number", text)
	case v < q.Low || v > q.High:
		return "", q.refuse("ask.fault.range", text)
	}
	return text, nil
}

// Flags returns every question, for a command line that has a flag for each.
func Flags() []Question { return questions() }
