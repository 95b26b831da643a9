package pack

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"strconv"

	"tideover/internal/appraise"
	"tideover/internal/drawing"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// YearsCharts are the pictures of years lived through: what each size rides out, the worst
// days of one future, the age of the water, the year those days lie in.
func YearsCharts(j *job.Job, y *appraise.Years) []Chart {
	var out []Chart
	for _, c := range yearsCharts(j, y) {
		out = append(out, Chart{c.name, c.scene, c.rows, c.notes})
	}
	return out
}

func yearsCharts(j *job.Job, y *appraise.Years) []chart {
	v := yearsView{y, j.System()}
	list := []chart{v.size()}
	if c, ok := v.trace(); ok {
		list = append(list, c)
	}
	if c, ok := v.age(); ok {
		list = append(list, c)
	}
	if c, ok := v.calendar(); ok {
		list = append(list, c)
	}
	return list
}

// yearsView draws one answer in the reader's units.
type yearsView struct {
	*appraise.Years
	sys quantity.System
}

func (v *yearsView) text(dim quantity.Dim, si float64) string {
	return quantity.Format(quantity.Quantity{Dim: dim, SI: si, Half: 0.05 * math.Abs(si), Basis: quantity.Derived}, v.sys)
}

// lived says how much was lived.
func (v *yearsView) lived() string {
	return say("charts.years.lived", "years", strconv.Itoa(int(v.Answer.Years)), "futures", strconv.Itoa(v.Answer.Futures))
}

// size is what each size rides out.
func (v *yearsView) size() chart {
	ride := appraise.RideThrough
	c := drawing.SizeChart{Title: v.sizeTitle(), Note: v.lived() + " " + say("charts.size.note"), Units: v.sys, Enough: v.Enough, FreshTo: v.FreshTo, Fresh: v.text(quantity.TimeDim, v.Ceiling)}
	for i := range v.Answer.Stores {
		o := &v.Answer.Stores[i]
		e := o.By[ride]
		if e.N == 0 {
			continue
		}
		c.Points = append(c.Points, drawing.SizePoint{Name: o.Name, Usable: o.Usable, Share: e.Value, Low: e.Low, High: e.High, Unlucky: o.Next[ride].Low, Lucky: o.Next[ride].High,
			Age: drawing.Reading{SI: v.Fresh[i].Mean.Value, Text: v.text(quantity.TimeDim, v.Fresh[i].Mean.Value)}, Own: i == v.Own})
	}
	return chart{name: "store-size", scene: c.Scene(), rows: c.Table(), wide: true, share: []float64{1.4, 1, 1, 1.2, 1.2, 1}}
}

// sizeTitle says whether a size is enough and fresh.
func (v *yearsView) sizeTitle() string {
	a := v.Answer
	own := &a.Stores[v.Own]
	e := own.By[appraise.RideThrough]
	if e.N == 0 {
		return say("charts.size.title-none")
	}
	n := strconv.Itoa(int(math.Round(100 * e.Value)))
	if w := v.Window; w != nil {
		return say("charts.size.title", "store", own.Name, "n", n, "sizes", v.Sizes(*w))
	}
	return say("charts.size.title-closed", "store", own.Name, "n", n)
}

// trace is the worst days of one future.
func (v *yearsView) trace() (chart, bool) {
	t := v.Course
	if t == nil || len(t.Line) < 2 {
		return chart{}, false
	}
	usable := v.Answer.Stores[v.Own].Usable
	title := say("charts.trace.least", "left", v.text(quantity.VolumeDim, t.Least))
	if t.Dry > 0 {
		title = say("charts.trace.dry", "time", v.text(quantity.TimeDim, t.Dry))
	}
	c := drawing.TraceChart{Title: title, Note: say("charts.trace.note", "store", v.Answer.Stores[v.Own].Name), Units: v.sys, Days: t.Days,
		First: int(t.From/86400) % 7, Full: drawing.Reading{SI: usable, Text: v.text(quantity.VolumeDim, usable)}, Under: v.strips(&t.Week)}
	for _, p := range t.Line {
		c.Line = append(c.Line, drawing.Point{X: p.At, Y: p.Water})
	}
	return chart{name: "store-worst", scene: c.Scene(), rows: c.Table(), share: []float64{1.2, 1, 1, 1, 1, 1}}, true
}

// strips are the times worth a row: those of what happened at all, the main's own always.
func (v *yearsView) strips(s *appraise.Strips) []drawing.Strip {
	list := []drawing.Strip{{Name: say("chart.strip.off"), Kind: drawing.Striped, Times: stretches(s.Off)}}
	for _, x := range []struct {
		id    string
		kind  drawing.StripKind
		times []appraise.Spell
	}{{"chart.strip.weak", drawing.Open, s.Weak}, {"chart.strip.lost-" + v.Course.LostBy, drawing.Thin, s.Lost}, {"chart.strip.dry", drawing.Filled, s.Dry}} {
		if len(x.times) > 0 {
			list = append(list, drawing.Strip{Name: say(x.id), Kind: x.kind, Times: stretches(x.times)})
		}
	}
	return list
}

func stretches(list []appraise.Spell) []drawing.Stretch {
	out := make([]drawing.Stretch, len(list))
	for i, s := range list {
		out[i] = drawing.Stretch{From: s.From, To: s.To}
	}
	return out
}

// age is how old the water is that the store at hand gives.
func (v *yearsView) age() (chart, bool) {
	f := &v.Fresh[v.Own]
	bins, beyond := f.Bins()
	if len(bins) == 0 {
		return chart{}, false
	}
	id := "charts.age.old"
	if f.Mean.Value <= v.Ceiling {
		id = "charts.age.fresh"
	}
	mean := v.text(quantity.TimeDim, f.Mean.Value)
	c := drawing.AgeChart{Title: say(id, "age", mean, "store", v.Answer.Stores[v.Own].Name), Note: say("charts.age.note"), Units: v.sys, Beyond: beyond,
		Mean: drawing.Reading{SI: f.Mean.Value, Text: mean}, Ceiling: drawing.Reading{SI: v.Ceiling, Text: v.text(quantity.TimeDim, v.Ceiling)}}
	for _, b := range bins {
		c.Bins = append(c.Bins, drawing.AgeBin{From: b.From, To: b.To, Share: b.Share.Value, Low: b.Share.Low, High: b.Share.High})
	}
	return chart{name: "store-age", scene: c.Scene(), rows: c.Table(), share: []float64{2, 1, 1}}, true
}

// calendar is the year the worst days lie in.
func (v *yearsView) calendar() (chart, bool) {
	if v.Course == nil {
		return chart{}, false
	}
	year := v.Course.Year
	list := v.strips(&year)
	if len(year.Off) == 0 && len(list) == 1 {
		return chart{}, false
	}
	kept := list[:0]
	for _, s := range list { // weak hours come every day where they come: they would fill the year
		if s.Kind != drawing.Open {
			kept = append(kept, s)
		}
	}
	dry := 0.0
	for _, s := range year.Dry {
		dry += s.Length()
	}
	id := "charts.calendar.title"
	if dry == 0 {
		id = "charts.calendar.title-fine"
	}
	c := drawing.CalendarChart{Title: say(id, "n", strconv.Itoa(len(year.Off)), "dry", v.text(quantity.TimeDim, dry)), Note: say("charts.calendar.note"), Units: v.sys, Strips: kept}
	return chart{name: "store-year", scene: c.Scene(), rows: c.Table(), share: []float64{1, 1.6, 1.6, 1.6}}, true
}

// YearsFiles are those pictures as SVG, each with its figures as CSV.
func YearsFiles(j *job.Job, y *appraise.Years) ([]File, error) {
	var files []File
	for _, c := range YearsCharts(j, y) {
		var b, figures bytes.Buffer
		if err := drawing.WriteSVG(&b, c.Scene, drawing.Screen); err != nil {
			return nil, fmt.Errorf("pack: chart %s: %w", c.Name, err)
		}
		if err := csv.NewWriter(&figures).WriteAll(c.Rows); err != nil {
			return nil, fmt.Errorf("pack: chart %s: %w", c.Name, err)
		}
		files = append(files, File{"chart-" + c.Name + ".svg", b.Bytes()}, File{"chart-" + c.Name + ".csv", figures.Bytes()})
	}
	return files, nil
}
