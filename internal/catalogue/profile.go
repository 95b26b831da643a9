package catalogue

import (
	"math"
	"strconv"

	"tideover/internal/quantity"
)

// Rule is one field of a local-rules profile: a limit or default with its source.
// A blank one (Set false) makes whatever needs it "not judged", by name.
type Rule struct {
	Key       string // "max-velocity-header"
	Set       bool
	Value     float64 // SI; 0 for rules that are words
	Text      string  // as written in the file; the value of rules that are words
	Source    string
	Edition   string
	Certainty Certainty
	Standing  Standing
}

// Cited returns the rule's source and the id of its standing, as a finding takes them.
func (r Rule) Cited() (source, standing string) { return r.Source, r.Standing.ID() }

// Profile is one set of local rules. The tool never claims compliance with it: it says
// what it checked and defers to the local code and licensed practice.
type Profile struct {
	Key   string
	Words string
	Rules map[string]Rule
}

// Rule returns the rule with the given key; one that nobody set comes back with Set
// false. It panics on a key that no profile can hold (our own fault).
func (p *Profile) Rule(key string) Rule {
	if _, ok := ruleKinds[key]; !ok {
		panic("catalogue: profile rule " + key + ": not in the list of rules")
	}
	if p == nil {
		return Rule{Key: key}
	}
	if r, ok := p.Rules[key]; ok {
		return r
	}
	return Rule{Key: key}
}

// ruleKind says what a rule holds: a quantity, or a word.
type ruleKind struct {
	dim     quantity.Dim
	text    bool
	choices []string // of a word; empty for any text
	like    string   // an example, for messages
}

func figure(d quantity.Dim, like string) ruleKind { return ruleKind{dim: d, like: like} }
func oneOf(choices ...string) ruleKind            { return ruleKind{text: true, choices: choices} }

var (
	velocity  = figure(quantity.VelocityDim, "2 m/s")
	pressure  = figure(quantity.PressureDim, "1 bar")
	dose      = figure(quantity.DoseDim, "50 mg/L")
	number    = figure(quantity.NoDim, "2")
	duration  = figure(quantity.TimeDim, "60 min")
	discharge = figure(quantity.FlowDim, "9.5 L/min")
	device    = oneOf("none", "single", "double", "reduced-pressure", "air-gap")
)

// ruleKinds is every rule a profile can hold.
var ruleKinds = map[string]ruleKind{
	"title":                   {text: true},
	"max-velocity-header":     velocity,
	"max-velocity-branch":     velocity,
	"max-velocity-suction":    velocity,
	"min-pressure-outlet":     pressure,
	"min-pressure-shower":     pressure, // where the code asks more of a mixing shower than of a plain tap
	"min-pressure-wc":         pressure,
	"max-flow-shower":         discharge, // most the law lets a fitting give
	"max-flow-sink":           discharge,
	"max-flow-basin":          discharge,
	"max-static-outlet":       pressure,
	"max-static-garden":       pressure,
	"air-gap-factor":          number,
	"air-gap-least":           figure(quantity.LengthDim, "20 mm"),
	"overflow-margin":         figure(quantity.LengthDim, "25 mm"),
	"by-pass-allowed":         oneOf("yes", "with-consent", "no", "unknown"),
	"booster-on-main":         oneOf("yes", "with-cut-out", "with-consent", "no", "unknown"),
	"booster-free-flow":       discharge, // a pump on the main that draws no more asks nobody
	"fluid-category":          oneOf("2", "3", "5"),
	"backflow-scale":          oneOf("category", "hazard-two", "hazard-three"), // how the code there grades water
	"water-temperature":       {text: true},                                    // read by the job's field table, as a job file writes it
	"night-maximum":           {text: true},
	"use-per-person":          {text: true},
	"device-category-2":       device,
	"device-category-3":       device,
	"device-category-4":       device,
	"device-category-5":       device,
	"lock-out-least":          pressure,
	"starts-hour":             figure(quantity.NoDim, "20 1/h"),
	"starts-hour-soft":        figure(quantity.NoDim, "60 1/h"), // of a pump behind a speed control
	"npsh-margin":             figure(quantity.HeadDim, "0.5 m"),
	"loss-scatter":            figure(quantity.RatioDim, "25 %"),
	"test-multiple":           number,
	"test-time":               duration,
	"test-least":              pressure,
	"disinfect-dose":          dose,
	"disinfect-time":          duration,
	"disinfect-residual":      dose,
	"disinfect-alt-dose":      dose, // a second regime the same clause allows
	"disinfect-alt-time":      duration,
	"disinfect-exempt":        oneOf("none", "one-dwelling", "on-demand"),
	"flush-residual":          dose,
	"neutralise-thiosulphate": number,
	"neutralise-ascorbic":     number,
	"turnover-look":           duration,
	"turnover-fix":            duration,
	"bearing":                 pressure,
}

func parseNumber(s string) (float64, bool) {
	v, err := strconv.ParseFloat(s, 64)
	return v, err == nil && !math.IsNaN(v) && !math.IsInf(v, 0)
}
