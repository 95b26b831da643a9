package proof

import (
	"fmt"
	"strings"

	"tideover/internal/finding"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// NeverArises reports whether nothing in the assembly can break or keep the promise.
func (r *Result) NeverArises() bool { return r.Verdict == NotJudged && r.Reason == neverArises }

// Lines tells a result line by line: the case that breaks the promise and how to look at
// it again, what it means, the failures that break it alone, the cures that stand the whole job; where
// none does, the cheapest that was refused.
func (r *Report) Lines(x *Result, v finding.Verdict, sys quantity.System, cures []Cure, refused *Cure) []string {
	if x.Verdict == NotJudged {
		return []string{words.Say("promise."+x.About.ID, nil), words.Say("proof.not-judged", words.Args{"reason": words.Say(x.Reason, nil)})}
	}
	c := x.Shown()
	if c == nil {
		return []string{words.Say("promise."+x.About.ID, nil), r.tellVerdict(x)}
	}
	lines := []string{r.Tell(x.About, c, sys)}
	if v != finding.Fine {
		lines = append(lines, words.Say("promise."+x.About.ID+".so", nil))
	}
	lines = append(lines, r.tellVerdict(x), words.Say("proof.again", words.Args{"case": r.Space.String(c.Case)}))
	if list := r.breakers(x); list != "" {
		lines = append(lines, words.Say("proof.breakers", words.Args{"list": list, "n": digits(len(x.Breakers))}))
	}
	for i := range cures {
		m := cures[i].Remedy(x.About)
		lines = append(lines, m.Tell(sys))
	}
	if refused != nil {
		lines = append(lines, refused.TellRefused())
	}
	return lines
}

// mostBreakers is how many failures are named one by one.
const mostBreakers = 4

func (r *Report) breakers(x *Result) string {
	var list []string
	for i := range x.Breakers {
		if i == mostBreakers {
			list = append(list, words.Say("proof.more", words.Args{"n": digits(len(x.Breakers) - i)}))
			break
		}
		list = append(list, r.Space.TellMishap(x.Breakers[i].Case.Mishaps[0]))
	}
	return strings.Join(list, "; ")
}

// TellWork says what the proof took: judgements, each for a box of cases, and circuits.
func (r *Report) TellWork() string {
	return words.Say("proof.work", words.Args{"boxes": Grouped(uint64(r.Boxes)), "solves": Grouped(uint64(r.Solves)), "distinct": Grouped(uint64(r.Distinct))})
}

// Tell says a sequence: from where to where, and what to do in which order.
func (s *Sequence) Tell() string {
	args := words.Args{"from": settingName(s.From), "to": settingName(s.To)}
	if !s.Judged {
		return words.Say("proof.sequence.unjudged", args)
	}
	if len(s.Moves) == 0 {
		return words.Say("proof.sequence.none", args)
	}
	var list []string
	for i := range s.Moves {
		list = append(list, s.Moves[i].Tell())
	}
	args["moves"] = strings.Join(list, ", ")
	text := words.Say("proof.sequence", args)
	for i := range s.Blocks {
		text += " " + s.Blocks[i].Tell()
	}
	return text
}

// Tell says one movement.
func (m *Movement) Tell() string {
	switch m.Act {
	case PullPlug:
		return words.Say("proof.move.pull", nil)
	case PutPlug:
		return words.Say("proof.move.put", nil)
	case LookTaps:
		return words.Say("proof.move.taps", nil)
	case OpenTaps:
		return words.Say("proof.move.open-taps", nil)
	case HeaterOff:
		return words.Say("proof.move.heater", nil)
	}
	return words.Say("proof.move.turn", words.Args{"tag": m.Tag, "to": words.Say("position."+m.To, nil)})
}

// Tell says which promise breaks on the way, and for how long.
func (b *Block) Tell() string {
	return words.Say("proof.block", words.Args{"promise": words.Say("promise."+b.Promise+".title", nil), "after": digits(b.After),
		"until": digits(b.Until), "for": fmt.Sprintf("%.0f s", float64(b.For))})
}

func settingName(name string) string {
	if id := "setting." + name; words.Has(id) {
		return words.Say(id, nil)
	}
	return name
}

// Told tells the case that was replayed, with all its figures: what every part carries
// and stands under, and what every promise says of it.
func (p *Replay) Told(s *Space, sys quantity.System) []string {
	lines := []string{s.String(p.Case), words.Say("proof.replay.with", words.Args{"setting": s.TellSetting(p.Case.Setting),
		"world": s.TellWorld(p.Case), "mishap": s.tellMishaps(p.Case)})}
	if !p.Steady {
		lines = append(lines, words.Say("proof.replay.unsteady", nil))
	}
	if !p.Solved {
		lines = append(lines, words.Say("proof.replay.unsolved", nil))
	}
	if len(p.Boils) > 0 {
		lines = append(lines, words.Say("proof.replay.boils", words.Args{"where": and(p.Boils)}))
	}
	lines = append(lines, "")
	for i := range p.Parts {
		lines = append(lines, p.Parts[i].told(sys))
	}
	lines = append(lines, "")
	for i := range p.Answers {
		lines = append(lines, p.Answers[i].told(sys))
	}
	return lines
}

func (p *Played) told(sys quantity.System) string {
	var at []string
	for _, i := range p.Pressures {
		low, high := shown(finding.Of(quantity.PressureDim, i.Low), sys), shown(finding.Of(quantity.PressureDim, i.High), sys)
		if low == high {
			at = append(at, low)
		} else {
			at = append(at, words.Say("proof.replay.between", words.Args{"low": low, "high": high}))
		}
	}
	return fmt.Sprintf("  %-12s %-12s %s", p.Tag, shown(finding.Of(quantity.FlowDim, float64(p.Flow)), sys), strings.Join(at, "   "))
}

func (a *Answer) told(sys quantity.System) string {
	j := a.Judgement
	id := j.Outcome.ID()
	text := fmt.Sprintf("  %-36s %s", words.Say("promise."+a.About.ID+".title", nil), words.Say("proof.outcome."+id, nil))
	if j.Figure.Dim != quantity.NoDim && j.Outcome != Silent {
		text += ": " + words.Say("proof.outcome.figure", words.Args{"figure": shown(j.Figure, sys), "limit": shown(j.Limit, sys)})
	}
	return text
}
