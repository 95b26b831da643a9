package drawing

import (
	"strconv"
	"strings"

	"tideover/internal/drawing/font"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// CalendarChart is a year month by month, a day beside the other: when the main failed and
// when the taps went dry.
type CalendarChart struct {
	Title  string // states the finding
	Note   string
	Units  quantity.System
	Strips []Strip // of a year of 365 days, times in s from its beginning; each in a lane of its own
}

// Measures of the months [mm].
const (
	laneTall  = 1.9
	monthGap  = 2.0
	monthName = 9.0
)

var monthFirst = [...]int{0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334, 365}

// Scene draws the chart.
func (c *CalendarChart) Scene() *Scene {
	s := newSheet(c.Title, c.Note)
	keys(s, c.Strips, margin)
	left := margin + monthName
	day := (chartWidth - margin - left) / 31
	for d := range 31 {
		if d == 0 || (d+1)%5 == 0 {
			s.items = append(s.items, DrawText("note", chartTick, Middle, left+(float64(d)+0.5)*day, s.y+font.Ascent*chartTick, strconv.Itoa(d+1)))
		}
	}
	s.y += chartLine + 0.4
	for m := range 12 {
		c.month(s, m, left, day)
	}
	return s.scene(c.Desc())
}

// month draws one month: its name, its days, its lanes.
func (c *CalendarChart) month(s *sheet, m int, left, day float64) {
	tall := laneTall*float64(max(1, len(c.Strips))) + 0.8
	first, days := monthFirst[m], monthFirst[m+1]-monthFirst[m]
	right := left + float64(days)*day
	s.items = append(s.items, DrawText("label", chartTick, Start, margin, s.y+tall/2+font.CapHeight*chartTick/2, words.Say("month.short."+strconv.Itoa(m+1), nil)))
	for d := 0; d <= days; d++ {
		x := left + float64(d)*day
		s.items = append(s.items, DrawLine("hair", x, s.y+tall-0.8, x, s.y+tall))
	}
	s.items = append(s.items, DrawLine("hair", left, s.y+tall, right, s.y+tall))
	from := float64(first) * 86400
	x := func(t float64) float64 { return left + (t-from)/86400*day }
	for i := range c.Strips {
		s.items = append(s.items, c.Strips[i].bars(x, from, from+float64(days)*86400, s.y+laneTall*float64(i), laneTall-0.3)...)
	}
	s.y += tall + monthGap
}

// Table is the chart as a table: of each month, how often and how long.
func (c *CalendarChart) Table() [][]string {
	head := []string{words.Say("chart.calendar.month", nil)}
	for i := range c.Strips {
		head = append(head, c.Strips[i].Name)
	}
	rows := [][]string{head}
	for m := range 12 {
		from, to := float64(monthFirst[m])*86400, float64(monthFirst[m+1])*86400
		row := []string{words.Say("month.short."+strconv.Itoa(m+1), nil)}
		for i := range c.Strips {
			row = append(row, c.cell(&c.Strips[i], from, to))
		}
		rows = append(rows, row)
	}
	return rows
}

// cell says how often something began between two moments, and how long it lasted.
func (c *CalendarChart) cell(s *Strip, from, to float64) string {
	n := 0
	for _, t := range s.Times {
		if t.From >= from && t.From < to {
			n++
		}
	}
	lasts := s.within(from, to)
	if lasts < 1 {
		return words.Say("chart.none", nil)
	}
	return words.Say("chart.calendar.cell", words.Args{"n": strconv.Itoa(n),
		"time": quantity.Format(quantity.Quantity{Dim: quantity.TimeDim, SI: lasts, Half: 0.05 * lasts}, c.Units)})
}

// Desc is the chart in words.
func (c *CalendarChart) Desc() string {
	list := []string{c.Note}
	for i := range c.Strips {
		s := &c.Strips[i]
		list = append(list, words.Say("chart.strip.desc", words.Args{"strip": s.Name, "n": strconv.Itoa(len(s.Times)),
			"time": quantity.Format(quantity.Quantity{Dim: quantity.TimeDim, SI: s.within(0, 365*86400), Half: 0.05 * s.within(0, 365*86400)}, c.Units)}))
	}
	return strings.Join(list, " ")
}
