package pack

import (
	"math"

	"tideover/internal/drawing"
	"tideover/internal/service"
)

// fillCharts shows how the store fills at each hour's pressure, from empty and with
// nothing drawn, and how it empties at the usual use with the main off.
func (p *pack) fillCharts() []chart {
	if p.Store == nil || !(p.Store.Usable > 0) || len(p.Service.Refills) == 0 {
		return nil
	}
	const day = 24 * 3600
	full := float64(p.Store.Usable)
	c := drawing.FillChart{Title: p.fillTitle(), Note: say("charts.fill.note"), Units: p.sys, X: say("charts.fill.x"), Hours: 24,
		Full: drawing.Reading{SI: full, Text: p.volume(p.Store.Usable)}}
	for _, r := range p.Service.Refills {
		if l, ok := p.fillLine(&r, full, day); ok {
			c.Lines = append(c.Lines, l)
		}
	}
	carry := float64(p.Store.Carry)
	if p.Years != nil {
		carry = p.Years.Lasts.Median
	}
	if carry > 0 && !math.IsInf(carry, 1) {
		text, _ := p.carry()
		c.Lines = append(c.Lines, drawing.FillLine{Thin: true, Points: []drawing.Point{{X: 0, Y: full}, {X: carry, Y: 0}}, At: 0.5,
			Name: say("charts.fill.use", "time", text)})
	}
	return []chart{{name: "fill", scene: c.Scene(), rows: c.Table(), share: []float64{2, 1, 1}}}
}

// fillLine is the store filling at one hour's pressure: up to full; level at nothing where
// nothing comes.
func (p *pack) fillLine(r *service.Refill, full, day float64) (drawing.FillLine, bool) {
	hours := sayOr("hours."+r.Hours, r.Hours)
	l := drawing.FillLine{Name: say("charts.fill.line", "hours", hours, "time", p.time(r.Time)), Thin: r.Hours != "usual"}
	if !r.Certified {
		return l, false
	}
	if math.IsInf(float64(r.Time), 1) {
		l.Name = say("charts.fill.nil", "hours", hours)
		l.Points, l.At = []drawing.Point{{X: 0, Y: 0}, {X: day, Y: 0}}, 0.5
		return l, true
	}
	l.Points = []drawing.Point{{X: 0, Y: 0}, {X: float64(r.Time), Y: full}}
	l.At = map[bool]float64{false: 0.65, true: 0.35}[l.Thin]
	return l, true
}

// fillTitle says how long filling takes, and that at the worst hours nothing comes.
func (p *pack) fillTitle() string {
	usual, peak := "", ""
	for _, r := range p.Service.Refills {
		switch {
		case !r.Certified:
		case r.Hours == "usual":
			usual = p.time(r.Time)
			if math.IsInf(float64(r.Time), 1) {
				return say("charts.fill.title-nil")
			}
		case r.Hours == "peak" && math.IsInf(float64(r.Time), 1):
			peak = "nil"
		}
	}
	switch {
	case usual == "":
		return say("charts.fill.title-unknown")
	case peak == "nil":
		return say("charts.fill.title-peak", "time", usual)
	}
	return say("charts.fill.title", "time", usual)
}
