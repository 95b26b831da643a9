package drawing

import (
	"strings"

	"tideover/internal/drawing/font"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// OutletBar is what one outlet gets and what it needs. A nil reading was not worked out:
// of Together, because the outlet is not among those open at once.
type OutletBar struct {
	Outlet          string
	Alone, Together *Reading
	Need            Reading
	Short           string // the word of its verdict where it falls short; or ""
}

// OutletChart is what each outlet gets in one normal case against its need: what is
// missing is hatched, what is needed or more stays white.
type OutletChart struct {
	Title string // states the finding
	Note  string // in what case
	Units quantity.System
	Bars  []OutletBar
}

// Measures of the bars [mm].
const (
	barPitch = 9.4
	barThick = 2.4
	// how far the bar with others open stands below the bar alone
	togetherOff = 4.0
	nameWide    = 44.0
)

// Scene draws the chart.
func (c *OutletChart) Scene() *Scene {
	s := newSheet(c.Title, c.Note)
	p := c.plot(s.y)
	for i := range c.Bars {
		c.bar(p, i)
	}
	s.items = append(s.items, p.items()...)
	s.y = p.box[3] + p.x.below()
	return s.scene(c.Desc())
}

// plot is the field: flows to the right, one row an outlet.
func (c *OutletChart) plot(top float64) *plot {
	most := 0.0
	for _, b := range c.Bars {
		for _, r := range []*Reading{b.Alone, b.Together, &b.Need} {
			if r != nil {
				most = max(most, r.SI)
			}
		}
	}
	// Room for the words behind the longest bar.
	x := axisOf(quantity.FlowDim, 0, most*1.45, 6, true, c.Units, words.Say("chart.outlets.x", nil))
	top++
	return newPlot(x, axis{low: 0, high: 1}, margin+nameWide, top, chartWidth-margin, top+barPitch*float64(len(c.Bars))+1)
}

// bar draws one outlet: its name and need at the left, the bar alone filled, the bar
// with others open striped, the need as a heavy upright.
func (c *OutletChart) bar(p *plot, i int) {
	b := &c.Bars[i]
	y := p.box[1] + barPitch*float64(i) + 1.4
	need := p.x.at(b.Need.SI)
	if b.Need.SI > 0 {
		foot := y + barThick
		if b.Together != nil {
			foot += togetherOff
		}
		p.over = append(p.over, DrawLine("chart need", need, y-0.8, need, foot+0.8))
	}
	c.heading(p, b, y)
	rows := []struct {
		id, class string
		r         *Reading
		off       float64
	}{{"chart.outlets.alone", "chart bar", b.Alone, 0}, {"chart.outlets.together", "chart bar open", b.Together, togetherOff}}
	for _, row := range rows {
		if row.r == nil {
			if row.id == "chart.outlets.alone" {
				c.value(p, words.Say("chart.outlets.unjudged", nil), p.box[0], y, need)
			}
			continue
		}
		x := p.x.at(row.r.SI)
		if x < need { // what is missing
			p.hatch([]float64{x, y + row.off, need, y + row.off, need, y + row.off + barThick, x, y + row.off + barThick})
			p.lines = append(p.lines, DrawLine("hair", x, y+row.off, need, y+row.off), DrawLine("hair", x, y+row.off+barThick, need, y+row.off+barThick))
		}
		if x > p.box[0] {
			p.lines = append(p.lines, DrawRect(row.class, p.box[0], y+row.off, x, y+row.off+barThick))
			if row.class == "chart bar open" {
				p.lines = append(p.lines, hatched("chart stripe", []float64{p.box[0], y + row.off, x, y + row.off, x, y + row.off + barThick, p.box[0], y + row.off + barThick}, 1.5)...)
			}
		}
		c.value(p, words.Say(row.id, words.Args{"flow": row.r.Text}), x, y+row.off, need)
	}
}

// heading names the outlet and says what it needs, left of the field.
func (c *OutletChart) heading(p *plot, b *OutletBar, y float64) {
	x := p.box[0] - 2
	name := b.Outlet
	if b.Short != "" {
		name = words.Say("chart.outlets.short", words.Args{"outlet": b.Outlet, "verdict": b.Short})
	}
	p.over = append(p.over,
		DrawText("label strong", chartText, End, x, y+2.3, font.Fit(name, chartText, true, nameWide-2)),
		DrawText("note", chartTick, End, x, y+5.9, font.Fit(words.Say("chart.outlets.need", words.Args{"flow": b.Need.Text}), chartTick, false, nameWide-2)))
}

// value writes a bar's figure behind its end, or behind the need where it falls short.
func (c *OutletChart) value(p *plot, text string, x, y, need float64) {
	foot := y + barThick/2 + font.CapHeight*chartTick/2
	at := max(x, need) + 1.4
	p.over = append(p.over, DrawText("label", chartTick, Start, at, foot, font.Fit(text, chartTick, false, p.box[2]-at)))
}

// Table is the chart as a table.
func (c *OutletChart) Table() [][]string {
	rows := [][]string{{words.Say("chart.outlets.outlet", nil), words.Say("chart.outlets.col-alone", nil),
		words.Say("chart.outlets.col-together", nil), words.Say("chart.outlets.col-need", nil), words.Say("chart.outlets.col-verdict", nil)}}
	for _, b := range c.Bars {
		rows = append(rows, []string{b.Outlet, readingText(b.Alone), readingText(b.Together), b.Need.Text, b.Short})
	}
	return rows
}

func readingText(r *Reading) string {
	if r == nil {
		return words.Say("chart.none", nil)
	}
	return r.Text
}

// Desc is the chart in words.
func (c *OutletChart) Desc() string {
	list := []string{c.Note}
	for _, b := range c.Bars {
		list = append(list, words.Say("chart.outlets.desc", words.Args{
			"outlet": b.Outlet, "alone": readingText(b.Alone), "together": readingText(b.Together), "need": b.Need.Text}))
	}
	return strings.Join(list, " ")
}
