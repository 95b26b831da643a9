package drawing

import (
	"fmt"
	"strings"
	"testing"

	"tideover/internal/quantity"
	"tideover/internal/words"

	"pgregory.net/rapid"
)

// view is any chart: a picture, its table, its words.
type view interface {
	Scene() *Scene
	Table() [][]string
	Desc() string
}

func litres(perMin float64) float64 { return perMin / 60000 }

// samplePump is a pump whose curves are simple enough to read off by eye.
func samplePump() *PumpChart {
	c := &PumpChart{Title: "P1 has enough", Note: "On the store.", FullName: "P1 at full speed", CircuitName: "what the pipework asks for",
		DutyName: "works here: 20 L/min at 30 m", StartName: "starts below 2.4 bar", StopName: "holds 2.8 bar", Duty: Point{litres(20), 30}}
	for q := 0.0; q <= 40; q += 5 {
		c.Full = append(c.Full, Point{litres(q), 45 - q*q/100})
		c.Circuit = append(c.Circuit, Point{litres(q), 5 + q*q/16})
		c.Start, c.Stop = append(c.Start, Point{litres(q), 26}), append(c.Stop, Point{litres(q), 30})
	}
	return c
}

func sampleWay(name string, height, drop float64, parts int) Way {
	w := Way{Outlet: name, Says: name + ": 1.2 bar left, 1 bar asked for", Height: height, Runs: true, Need: Reading{height + 10.2, "1 bar"}}
	h := 32.6
	w.Steps = append(w.Steps, WayStep{Part: "MAIN", What: "the main at rest", After: h, Stands: "32.6 m head"})
	for i := range parts {
		after := h - drop*float64(1+i%3)
		w.Steps = append(w.Steps, WayStep{Part: fmt.Sprintf("R%d", i+1), What: "pipe", Before: h, After: after, Height: height * float64(i+1) / float64(parts),
			Gradual: i%2 == 0, Takes: fmt.Sprintf("−%.2f m head", h-after), Texts: [3]string{"a", "b", "c"}})
		h = after
	}
	w.Left = Reading{h, "1.2 bar"}
	return w
}

func sampleWays() *WayChart {
	return &WayChart{Title: "Most goes in R1", Note: "On the main.", Ways: []Way{sampleWay("shower-up", 14, 0.8, 9), sampleWay("kitchen", 9, 0.5, 7), sampleWay("garden", 8, 0.3, 8)}}
}

func sampleOutlets() *OutletChart {
	r := func(v float64) *Reading { return &Reading{litres(v), fmt.Sprintf("%.1f L/min", v)} }
	return &OutletChart{Title: "2 of 3 taps get less than they need", Note: "On the main.", Bars: []OutletBar{
		{Outlet: "kitchen", Alone: r(12), Need: *r(9)},
		{Outlet: "shower-up", Alone: r(10.4), Together: r(2.7), Need: *r(9), Short: "look at"},
		{Outlet: "garden", Together: r(0), Need: *r(24), Short: "must fix"},
	}}
}

func sampleFill() *FillChart {
	return &FillChart{Title: "Full after 4 h", Note: "From empty.", X: "hours from the start", Hours: 24, Full: Reading{2.8, "2800 L"},
		Lines: []FillLine{{Name: "usual", Points: []Point{{0, 0}, {4 * 3600, 2.8}}}, {Name: "use", Thin: true, Points: []Point{{0, 2.8}, {4 * 86400, 0}}}},
		Spans: []FillSpan{{From: 17.5 * 3600, To: 20.5 * 3600, Name: "supper: nothing"}}, Marks: []FillMark{{"lowest", Point{6 * 3600, 1.2}}}}
}

func sampleSize() *SizeChart {
	c := &SizeChart{Title: "2 × tank rides out 60 of a hundred", Note: "320 years.", Enough: 0.9, FreshTo: 2.5, Fresh: "5 d"}
	for k := range 6 {
		share := 0.4 + 0.1*float64(k)
		c.Points = append(c.Points, SizePoint{Name: fmt.Sprintf("tank-%d", k), Usable: 1 + float64(k)/2, Share: share, Low: share - 0.03, High: share + 0.03,
			Unlucky: share - 0.2, Lucky: min(1, share+0.2), Age: Reading{float64(k) * 86400, fmt.Sprint(k, " d")}, Own: k == 2})
	}
	return c
}

func sampleTrace() *TraceChart {
	return &TraceChart{Title: "dry for 8 h", Note: "The worst.", Days: 7, First: 2, Full: Reading{2.8, "2800 L"},
		Line: []Point{{0, 2.8}, {86400, 2.8}, {3 * 86400, 0}, {3.33 * 86400, 0}, {3.5 * 86400, 2.8}, {7 * 86400, 2.8}}, Under: sampleStrips(1)}
}

// sampleStrips has a spell of eight hours every so many days.
func sampleStrips(every int) []Strip {
	list := []Strip{{Name: "main off", Kind: Striped}, {Name: "main weak", Kind: Open}, {Name: "no power", Kind: Thin}, {Name: "store dry", Kind: Filled}}
	for i := range list {
		for d := 0; d < 365; d += every * (i + 1) {
			list[i].Times = append(list[i].Times, Stretch{float64(d) * 86400, float64(d)*86400 + 8*3600})
		}
	}
	return list
}

func sampleCalendar() *CalendarChart {
	return &CalendarChart{Title: "63 times", Note: "One of many.", Strips: sampleStrips(3)}
}

func sampleAge() *AgeChart {
	c := &AgeChart{Title: "3 d old", Note: "All the water.", Beyond: 0.01, Ceiling: Reading{5 * 86400, "5 d"}, Mean: Reading{3 * 86400, "3 d"}}
	for k := range 10 {
		c.Bins = append(c.Bins, AgeBin{float64(k) * 86400, float64(k+1) * 86400, 0.099, 0.08, 0.12})
	}
	return c
}

// faultOf says what is wrong with a chart's picture, "" if nothing is: texts that touch,
// that leave the sheet, coordinates that are none.
func faultOf(s *Scene) string {
	var b strings.Builder
	if err := WriteSVG(&b, s, Screen); err != nil {
		return err.Error()
	}
	var texts []*Item
	s.Walk(func(it *Item) {
		if it.Kind == Text && it.Text != "" {
			texts = append(texts, it)
		}
	})
	for i, a := range texts {
		if a.Box[0] < -0.01 || a.Box[1] < -0.01 || a.Box[2] > s.Width+0.01 || a.Box[3] > s.Height+0.01 {
			return fmt.Sprintf("%q at %.1f leaves the sheet of %.0f by %.0f", a.Text, a.Box, s.Width, s.Height)
		}
		for _, c := range texts[i+1:] {
			if overlap(a.Box, c.Box, 0.3) {
				return fmt.Sprintf("%q at %.1f touches %q at %.1f", a.Text, a.Box, c.Text, c.Box)
			}
		}
	}
	return ""
}

func TestChartsAreClear(t *testing.T) {
	for name, c := range map[string]view{"pump": samplePump(), "way": sampleWays(), "outlets": sampleOutlets(), "fill": sampleFill(),
		"size": sampleSize(), "trace": sampleTrace(), "calendar": sampleCalendar(), "age": sampleAge()} {
		s := c.Scene()
		if f := faultOf(s); f != "" {
			t.Errorf("%s: %s", name, f)
		}
		got := render(t, s, Screen)
		wellFormed(t, got)
		if got != render(t, c.Scene(), Screen) {
			t.Errorf("%s: two drawings, two files", name)
		}
		if strings.Contains(got+c.Desc(), "‹") {
			t.Errorf("%s: a message is missing", name)
		}
		rows := c.Table()
		for _, row := range rows {
			if len(row) != len(rows[0]) {
				t.Errorf("%s: a row of %d cells under a head of %d", name, len(row), len(rows[0]))
			}
		}
	}
}

// TestPumpTable: the table reads the curves at the flows of the scale, and at the duty.
func TestPumpTable(t *testing.T) {
	rows := samplePump().Table()
	if got := strings.Join(rows[1], "; "); got != "0 L/min; 5 m head; 45 m head; 30 m head; 26 m head" {
		t.Errorf("at no flow: %s", got)
	}
	last := rows[len(rows)-1]
	if want := words.Say("chart.pump.at-duty", words.Args{"flow": "20 L/min"}); last[0] != want || last[1] != "30 m head" || last[2] != "41 m head" {
		t.Errorf("at the duty: %v", last)
	}
}

// TestPumpPicture reads the picture back: the duty's mark stands where both scales put it.
func TestPumpPicture(t *testing.T) {
	c := samplePump()
	p := c.plot(20)
	x, y := p.at(c.Duty)
	if wantX, wantY := p.box[0]+(p.box[2]-p.box[0])/2, p.box[3]-(p.box[3]-p.box[1])*30/150; !near(x, wantX) || !near(y, wantY) {
		t.Errorf("20 L/min of 40 and 30 m of 150 stand at %.2f %.2f, want %.2f %.2f", x, y, wantX, wantY)
	}
}

func near(a, b float64) bool { return a-b < 1e-6 && b-a < 1e-6 }

// TestMissingIsHatched: an outlet that has what it needs shows no hatching of what is
// missing; one that falls short does, between its bar and its need.
func TestMissingIsHatched(t *testing.T) {
	count := func(alone, need float64) (n int) {
		c := OutletChart{Bars: []OutletBar{{Outlet: "a", Alone: &Reading{SI: litres(alone)}, Need: Reading{SI: litres(need)}}}}
		c.Scene().Walk(func(it *Item) {
			if it.Class == "chart hatch" {
				n++
			}
		})
		return n
	}
	if n := count(9, 9); n != 0 {
		t.Errorf("an outlet that has what it needs: %d strokes of hatching", n)
	}
	if n := count(5, 9); n == 0 {
		t.Error("an outlet that falls short shows nothing missing")
	}
}

func TestRoundStep(t *testing.T) {
	for _, c := range []struct {
		x     float64
		hours bool
		want  float64
	}{{0.9, false, 1}, {1, false, 1}, {1.2, false, 2}, {3, false, 5}, {7, false, 10}, {0.03, false, 0.05}, {3, true, 3}, {4, true, 6}, {100, true, 100}} {
		if got := roundStep(c.x, c.hours); !near(got, c.want) {
			t.Errorf("roundStep(%v, %v) = %v, want %v", c.x, c.hours, got, c.want)
		}
	}
}

// TestHatch: strokes at 45° that stay inside, on one lattice, as long together as the
// area over their distance.
func TestHatch(t *testing.T) {
	pts := []float64{3, 4, 43, 4, 43, 24, 3, 24}
	total := 0.0
	for _, it := range hatched("chart hatch", pts, 2) {
		x0, y0, x1, y1 := it.Pts[0], it.Pts[1], it.Pts[2], it.Pts[3]
		if !near(x1-x0, y0-y1) || x0 < 3-1e-9 || x1 > 43+1e-9 || y1 < 4-1e-9 || y0 > 24+1e-9 {
			t.Fatalf("a stroke from %v %v to %v %v", x0, y0, x1, y1)
		}
		total += x1 - x0 // the stroke's length over √2; strokes stand 2/√2 apart
	}
	if want := 40.0 * 20 / 2; total < 0.95*want || total > 1.05*want {
		t.Errorf("strokes of %v in all, want about %v", total, want)
	}
}

// TestCutOff: a curve is cut off at the sides by straight lines.
func TestCutOff(t *testing.T) {
	got := within([]Point{{-1, 0}, {1, 2}, {3, 6}}, 0, 2)
	if want := []Point{{0, 1}, {1, 2}, {2, 4}}; fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("within = %v, want %v", got, want)
	}
	if got := within([]Point{{5, 0}, {-5, 10}}, 0, 2); fmt.Sprint(got) != fmt.Sprint([]Point{{2, 3}, {0, 5}}) {
		t.Errorf("a falling curve: %v", got)
	}
}

var anySystem = rapid.SampledFrom(quantity.Systems())

func anyText(most int) *rapid.Generator[string] {
	return rapid.StringOfN(rapid.SampledFrom([]rune("abc WM−3.5 %(ä€)")), 0, most, -1)
}

func anyCurve(t *rapid.T, x, y float64) []Point {
	n := rapid.IntRange(0, 12).Draw(t, "points")
	var list []Point
	for i := range n {
		list = append(list, Point{x * float64(i) / 11, y * rapid.Float64Range(-0.2, 1).Draw(t, "y")})
	}
	return list
}

func anyReading(t *rapid.T, most float64) Reading {
	return Reading{rapid.Float64Range(0, most).Draw(t, "si"), anyText(30).Draw(t, "text")}
}

func anyChart(t *rapid.T) view {
	title, note, sys := anyText(200).Draw(t, "title"), anyText(300).Draw(t, "note"), anySystem.Draw(t, "units")
	maybe := func(most float64) *Reading {
		if rapid.Bool().Draw(t, "there") {
			r := anyReading(t, most)
			return &r
		}
		return nil
	}
	switch rapid.IntRange(0, 7).Draw(t, "kind") {
	case 0:
		x, y := rapid.Float64Range(1e-6, 1).Draw(t, "flow"), rapid.Float64Range(0.1, 300).Draw(t, "head")
		name := anyText(60)
		return &PumpChart{Title: title, Note: note, Units: sys, Full: anyCurve(t, x, y), Slowed: anyCurve(t, x, y), Circuit: anyCurve(t, x, y),
			Start: anyCurve(t, x, y), Stop: anyCurve(t, x, y), Duty: Point{x / 2, y / 2}, FullName: name.Draw(t, "n"), SlowedName: name.Draw(t, "n"),
			CircuitName: name.Draw(t, "n"), StartName: name.Draw(t, "n"), StopName: name.Draw(t, "n"), DutyName: name.Draw(t, "n")}
	case 1:
		c := &OutletChart{Title: title, Note: note, Units: sys}
		most := rapid.Float64Range(1e-6, 0.1).Draw(t, "most")
		for range rapid.IntRange(0, 18).Draw(t, "outlets") {
			c.Bars = append(c.Bars, OutletBar{Outlet: anyText(200).Draw(t, "tag"), Alone: maybe(most), Together: maybe(most), Need: anyReading(t, most), Short: anyText(9).Draw(t, "short")})
		}
		return c
	case 2:
		c := &FillChart{Title: title, Note: note, Units: sys, X: "hours", Hours: rapid.Float64Range(0.1, 200).Draw(t, "hours"), Full: anyReading(t, 50)}
		for range rapid.IntRange(0, 5).Draw(t, "lines") {
			c.Lines = append(c.Lines, FillLine{Name: anyText(40).Draw(t, "name"), Points: anyCurve(t, 86400, 50), Thin: rapid.Bool().Draw(t, "thin"), At: rapid.Float64Range(0, 1).Draw(t, "at")})
		}
		for range rapid.IntRange(0, 3).Draw(t, "spans") {
			from := rapid.Float64Range(0, 86400).Draw(t, "from")
			c.Spans = append(c.Spans, FillSpan{From: from, To: from + 7200, Name: anyText(30).Draw(t, "name")})
		}
		return c
	}
	if kind := rapid.IntRange(0, 4).Draw(t, "years"); kind < 4 {
		return anyYears(t, kind, title, note, sys)
	}
	c := &WayChart{Title: title, Note: note, Units: sys}
	for range rapid.IntRange(0, 8).Draw(t, "ways") {
		w := sampleWay(anyText(30).Draw(t, "tag"), rapid.Float64Range(-5, 60).Draw(t, "height"), rapid.Float64Range(0, 3).Draw(t, "drop"), rapid.IntRange(1, 40).Draw(t, "parts"))
		if w.Says = anyText(90).Draw(t, "says"); rapid.IntRange(0, 3).Draw(t, "dry") == 0 {
			w.Runs, w.Steps = false, w.Steps[:1]
		}
		c.Ways = append(c.Ways, w)
	}
	return c
}

func anyStrips(t *rapid.T, to float64) []Strip {
	var list []Strip
	for range rapid.IntRange(0, 4).Draw(t, "strips") {
		s := Strip{Name: anyText(40).Draw(t, "name"), Kind: StripKind(rapid.IntRange(0, 3).Draw(t, "how"))}
		for at := 0.0; at < to; at += rapid.Float64Range(to/50, to).Draw(t, "gap") {
			s.Times = append(s.Times, Stretch{at, at + rapid.Float64Range(1, to/50).Draw(t, "lasts")})
		}
		list = append(list, s)
	}
	return list
}

// anyYears is one of the charts of years lived through.
func anyYears(t *rapid.T, kind int, title, note string, sys quantity.System) view {
	share := rapid.Float64Range(0, 1)
	switch kind {
	case 0:
		c := &SizeChart{Title: title, Note: note, Units: sys, Enough: share.Draw(t, "enough"), FreshTo: rapid.SampledFrom([]float64{0, 0.5, 3, 1e9}).Draw(t, "fresh"), Fresh: anyText(12).Draw(t, "age")}
		at := 0.0
		for range rapid.IntRange(0, 12).Draw(t, "sizes") {
			at += rapid.Float64Range(0.01, 4).Draw(t, "more")
			v := share.Draw(t, "share")
			c.Points = append(c.Points, SizePoint{Name: anyText(30).Draw(t, "name"), Usable: at, Share: v, Low: v / 2, High: (1 + v) / 2, Unlucky: v / 3, Lucky: 1, Own: len(c.Points) == 1})
		}
		return c
	case 1:
		days := rapid.IntRange(1, 21).Draw(t, "days")
		return &TraceChart{Title: title, Note: note, Units: sys, Days: days, First: rapid.IntRange(0, 6).Draw(t, "first"), Line: anyCurve(t, float64(days)*86400, 5), Full: anyReading(t, 50), Under: anyStrips(t, float64(days)*86400)}
	case 2:
		return &CalendarChart{Title: title, Note: note, Units: sys, Strips: anyStrips(t, 365*86400)}
	}
	c := &AgeChart{Title: title, Note: note, Units: sys, Beyond: share.Draw(t, "beyond"), Ceiling: anyReading(t, 9e5), Mean: anyReading(t, 9e5)}
	wide := rapid.Float64Range(60, 1e6).Draw(t, "wide")
	for k := range rapid.IntRange(1, 24).Draw(t, "bins") {
		b := AgeBin{From: wide * float64(k), To: wide * float64(k+1), Share: share.Draw(t, "share")}
		b.Low, b.High = b.Share*share.Draw(t, "low"), b.Share+(1-b.Share)*share.Draw(t, "high")
		c.Bins = append(c.Bins, b)
	}
	return c
}

// TestAnyChartIsClear: whatever is drawn, no two texts touch and none leaves the sheet.
func TestAnyChartIsClear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := anyChart(t)
		if f := faultOf(c.Scene()); f != "" {
			t.Fatal(f)
		}
		c.Table()
		c.Desc()
	})
}

func BenchmarkCharts(b *testing.B) {
	list := []view{samplePump(), sampleWays(), sampleOutlets(), sampleFill()}
	b.ReportAllocs()
	for b.Loop() {
		for _, c := range list {
			_ = render(b, c.Scene(), Screen)
		}
	}
}
