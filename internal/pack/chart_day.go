package pack

import (
	"tideover/internal/drawing"
	"tideover/internal/finding"
	"tideover/internal/quantity"
)

// thin is how far apart the points of the day are drawn [s].
const thin = 300

// dayCharts shows the store through the day on which the water fails, as it was run event
// by event with a typical day of draw-offs.
func (p *pack) dayCharts() []chart {
	if p.Day == nil || p.Day.Result == nil || p.Store == nil {
		return nil
	}
	at, held := p.Day.Held(thin)
	line := drawing.FillLine{Name: say("charts.day.line"), At: 0.3}
	for i := range at {
		line.Points = append(line.Points, drawing.Point{X: at[i], Y: held[i]})
	}
	if len(line.Points) < 2 {
		return nil
	}
	c := drawing.FillChart{Title: p.dayTitle(), Note: say("charts.day.note"), Units: p.sys, X: say("charts.day.x"),
		Hours: at[len(at)-1] / 3600, Lines: []drawing.FillLine{line},
		Full: drawing.Reading{SI: float64(p.Store.Usable), Text: p.volume(p.Store.Usable)}}
	if from, to, off := p.Day.Off(); off {
		c.Spans = []drawing.FillSpan{{From: from, To: to, Name: say("charts.day.off", "time", p.time(quantity.Time(to-from)))}}
	}
	rows := c.Table()
	return []chart{{name: "day", scene: c.Scene(), rows: everyHour(rows), share: []float64{2, 1, 1}}}
}

// everyHour keeps a table short: its head and every twelfth of its rows.
func everyHour(rows [][]string) [][]string {
	list := rows[:1:1]
	for i, row := range rows[1:] {
		if i%(3600/thin) == 0 || i == len(rows)-2 {
			list = append(list, row)
		}
	}
	return list
}

// dayTitle says whether the store carries the home through.
func (p *pack) dayTitle() string {
	for i := range p.Findings {
		if f := &p.Findings[i]; f.ID == "day-dry" || f.ID == "day-empty" {
			if f.Verdict == finding.Fine {
				return say("charts.day.fine", "left", p.volume(quantity.Volume(p.Day.Left())))
			}
			if f.Case == "hand" {
				return say("charts.day.hand", "time", quantity.Format(f.Args["dry"], p.sys))
			}
			return say("charts.day.dry", "time", quantity.Format(f.Figure, p.sys))
		}
	}
	return say("charts.day.plain", "left", p.volume(quantity.Volume(p.Day.Left())))
}
