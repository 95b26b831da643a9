package pack

import (
	"tideover/internal/commission"
	"tideover/internal/pack/paper"
	"tideover/internal/quantity"
)

// again is the table of readings that upkeep takes again on the gauge of the hand-over: what
// was read then is written beside what is read now, and the difference decides.
func (p *pack) again() []paper.Block {
	if p.HandOver == nil || len(p.HandOver.Again) == 0 {
		return nil
	}
	t := paper.Table{Gap: 1, Pad: 0.5, Cols: []paper.Col{{Share: 1.3}, {Width: 24}, {Width: 24}, {Width: 24}, {Width: 26}, {Width: 30}},
		Head: []string{say("upkeep.again.what"), say("commission.expect"), say("upkeep.again.first"), say("upkeep.again.now"), say("upkeep.again.differ"), say("upkeep.again.finds")}}
	for i := range p.HandOver.Again {
		a := &p.HandOver.Again[i]
		t.Rows = append(t.Rows, []paper.Cell{{Text: say("upkeep.again."+a.ID, "tag", a.Tag), Style: paper.Small}, cell(p.figure(a.First)), write, write,
			cell(p.guess(quantity.PressureDim, a.Limit)), {Text: p.guess(quantity.PressureDim, a.Mild), Style: paper.Small}})
	}
	return []paper.Block{heading("upkeep.again"), small(say("upkeep.again.how", "times", number(commission.Times))), t}
}

// leakShows says how small a leak the watched gauge shows, and stillShows the meter.
func (p *pack) leakShows() string {
	if p.HandOver.Leak.Finds <= 0 {
		return ""
	}
	return " " + say("commission.shows.leak", "flow", p.hourly(p.HandOver.Leak.Finds))
}

func (p *pack) stillShows() string {
	return ". " + say("commission.shows.still", "flow", p.hourly(commission.MeterFinds()))
}

// hourly is a small flow as what runs in an hour.
func (p *pack) hourly(q quantity.Flow) string {
	return p.guess(quantity.VolumeDim, float64(q)*3600)
}
