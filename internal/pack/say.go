package pack

import (
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/finding"
	"tideover/internal/pack/paper"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// say fills a message's places with name, value…; sayOr has something to stand for a
// message that is not there.
var say, sayOr = words.Fill, words.SayOr

// lowerFirst puts a label inside a sentence; an abbreviation stays as it is.
func lowerFirst(text string) string {
	if len(text) > 1 && text[1] >= 'a' && text[1] <= 'z' {
		return strings.ToLower(text[:1]) + text[1:]
	}
	return text
}

func upperFirst(text string) string {
	if text == "" {
		return ""
	}
	return strings.ToUpper(text[:1]) + text[1:]
}

func oneLine(text string) string { return strings.Join(strings.Fields(text), " ") }

// fig prints a worked-out value in the reader's units.
func (p *pack) fig(dim quantity.Dim, si float64) string {
	return quantity.Format(quantity.Quantity{Dim: dim, SI: si, Basis: quantity.Derived}, p.sys)
}

// guess prints a rule-of-thumb value with no more digits than it deserves.
func (p *pack) guess(dim quantity.Dim, si float64) string {
	return quantity.Format(quantity.Quantity{Dim: dim, SI: si, Half: 0.3 * si, Basis: quantity.Assumed}, p.sys)
}

func (p *pack) flow(v quantity.Flow) string         { return p.fig(quantity.FlowDim, float64(v)) }
func (p *pack) pressure(v quantity.Pressure) string { return p.fig(quantity.PressureDim, float64(v)) }
func (p *pack) volume(v quantity.Volume) string     { return p.fig(quantity.VolumeDim, float64(v)) }
func (p *pack) mass(v quantity.Mass) string         { return p.fig(quantity.MassDim, float64(v)) }
func (p *pack) length(v quantity.Length) string     { return p.fig(quantity.LengthDim, float64(v)) }
func (p *pack) time(v quantity.Time) string         { return p.fig(quantity.TimeDim, float64(v)) }
func (p *pack) dose(v quantity.Dose) string         { return p.fig(quantity.DoseDim, float64(v)) }
func (p *pack) ratio(v quantity.Ratio) string       { return p.fig(quantity.RatioDim, float64(v)) }

// found returns the finding of an id at a place in a mode, or nil.
func (p *pack) found(id, where, mode string) *finding.Finding {
	for i := range p.Findings {
		if f := &p.Findings[i]; f.ID == id && f.Where == where && f.Mode == mode {
			return f
		}
	}
	return nil
}

// count is how many findings have a verdict.
func (p *pack) count(v finding.Verdict) int {
	n := 0
	for i := range p.Findings {
		if p.Findings[i].Verdict == v {
			n++
		}
	}
	return n
}

// partName says what a part is for.
func partName(part *assembly.Part) string { return sayOr(part.Purpose.Message(), part.Tag) }

// shortName is the part's name without its explanation, for tables and lists of turns.
func shortName(part *assembly.Part) string {
	name, _, _ := strings.Cut(partName(part), ":")
	return name
}

// hand returns the hand-turned parts, street to home, and apart from them the tags of
// the drains that stay shut in every setting.
func (p *pack) hand() (turned []*assembly.Part, drains []string) {
	for i := range p.Assembly.Parts {
		part := &p.Assembly.Parts[i]
		still := part.Kind == assembly.Drain
		for _, s := range p.Assembly.Settings {
			still = still && s.Positions[part.Tag] == "shut"
		}
		switch {
		case still:
			drains = append(drains, part.Tag)
		case part.Positions() != nil:
			turned = append(turned, part)
		}
	}
	return turned, drains
}

// named returns the tag of the first part that is there for one of the purposes, in the
// order asked, or the words of other where there is none.
func (p *pack) named(other string, purposes ...assembly.Purpose) string {
	for _, purpose := range purposes {
		for i := range p.Assembly.Parts {
			if p.Assembly.Parts[i].Purpose == purpose {
				return p.Assembly.Parts[i].Tag
			}
		}
	}
	return say(other)
}

func (p *pack) feed() string { return p.named("valves.feed", assembly.AsFeedValve) }

func (p *pack) stop() string {
	return p.named("valves.stop", assembly.AsMeterStop, assembly.AsServiceStop)
}

// tags returns the tags of a kind of part, joined.
func (p *pack) tags(k assembly.Kind) string {
	var list []string
	for _, i := range p.Assembly.Of(k) {
		list = append(list, p.Assembly.Parts[i].Tag)
	}
	return strings.Join(list, ", ")
}

// pumpControls are the tags of what starts and stops the pump; a lock-out on the main's
// side has set points of its own.
func (p *pack) pumpControls() string {
	var list []string
	for i := range p.Assembly.Controls {
		if c := &p.Assembly.Controls[i]; c.Kind.Starts() {
			list = append(list, c.Tag)
		}
	}
	return strings.Join(list, ", ")
}

// pumpVessels are the tags of the vessels beside the pump; the water heater's is not one.
func (p *pack) pumpVessels() string {
	var list []string
	for _, i := range p.Assembly.Of(assembly.Vessel) {
		if part := &p.Assembly.Parts[i]; part.Purpose != assembly.AsHeaterVessel {
			list = append(list, part.Tag)
		}
	}
	return strings.Join(list, ", ")
}

// heaterVessel says how the water heater's vessel is charged, where there is one: to what
// stands on it, not to what the pump's vessel gets.
func (p *pack) heaterVessel() string {
	for i := range p.Assembly.Parts {
		if part := &p.Assembly.Parts[i]; part.Purpose == assembly.AsHeaterVessel {
			return say("valves.heater-vessel", "tag", part.Tag)
		}
	}
	return ""
}

// ruled is where a rule comes from, in full, and what that is to this place.
func (p *pack) ruled(keys, standing string) string {
	cat := catalogue.Catalogue{Sources: p.Sources}
	return finding.From(&finding.Finding{Source: cat.Cite(keys), Standing: standing})
}

// The blocks every sheet is made of.

func heading(id string) paper.Text {
	return paper.Text{Style: paper.Heading, Text: say(id), Gap: 6, Keep: true}
}

func para(text string) paper.Text { return paper.Text{Style: paper.Body, Text: text, Gap: 1.5} }

func small(text string) paper.Text { return paper.Text{Style: paper.Small, Text: text, Gap: 1} }

// caution is a warning where the hand is.
func (p *pack) caution(id string) paper.Banner {
	text := say(id, append(p.handFigures(),
		"bag", p.guess(quantity.MassDim, 25), "deep", p.guess(quantity.LengthDim, 1.2),
		"tonne", p.guess(quantity.MassDim, 1000), "water", p.guess(quantity.VolumeDim, 1))...)
	return paper.Banner{Style: paper.Strong, Text: say("caution.word") + " " + text, Gap: 2}
}

// deferral is said once on each sheet that somebody builds or acts from.
func deferral() paper.Block {
	return paper.Text{Style: paper.Small, Text: say("caution.deferral"), Gap: 5}
}

func cell(text string) paper.Cell   { return paper.Cell{Text: text} }
func strong(text string) paper.Cell { return paper.Cell{Text: text, Style: paper.Strong} }

var (
	tick  = paper.Cell{Mark: paper.Tick}
	write = paper.Cell{Write: true}
)
