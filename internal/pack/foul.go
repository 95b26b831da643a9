package pack

import (
	"strings"

	"tideover/internal/job"
	"tideover/internal/pack/paper"
)

// foul names the outlets that water which nobody may drink gets to; "" where there is none.
func (p *pack) foul() string {
	for i := range p.Findings {
		if f := &p.Findings[i]; f.ID == "not-drinking-water" {
			return f.Names["taps"]
		}
	}
	return ""
}

// submerged names the outlets whose mouth lies under water.
func (p *pack) submerged() string {
	var tags []string
	for i := range p.Job.Outlets {
		if o := &p.Job.Outlets[i]; o.Submerged() {
			tags = append(tags, o.Tag)
		}
	}
	return strings.Join(tags, ", ")
}

// warnings are what whoever stands before the card must know first: which taps not to drink
// from, which hose to lift out of the water.
func (p *pack) warnings() []string {
	var lines []string
	if taps := p.foul(); taps != "" {
		lines = append(lines, say("card.foul", "outlets", taps))
	}
	if tags := p.submerged(); tags != "" {
		lines = append(lines, say("card.hose", "outlets", tags))
	}
	return lines
}

// foulTags are the tags to hang at taps that nobody may drink from.
func (p *pack) foulTags() []paper.Block {
	taps := p.foul()
	if taps == "" {
		return nil
	}
	b := []paper.Block{para(say("tags.foul"))}
	for i, tag := range strings.Split(taps, ", ") {
		row := paper.Row{Widths: []float64{0}, Pad: tagPad, Frame: "page-cut", Gap: 0, Cells: [][]paper.Block{{
			paper.Text{Style: paper.Figure, Text: say("tags.not-drinking")}, paper.Text{Style: paper.SmallStrong, Text: tag}}}}
		if i == 0 {
			row.Gap = 3
		}
		b = append(b, row)
	}
	return b
}

// foulLine is what a letter says of stored water that is not the main's own.
func (p *pack) foulLine() []string {
	if p.foul() == "" {
		return nil
	}
	return []string{say("letter.foul", "category", say(p.Profile.WaterGrade(job.Foul)))}
}
