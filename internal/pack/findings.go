package pack

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"tideover/internal/calc"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/pack/paper"
	"tideover/internal/quantity"
)

// findings shows every finding. What is not fine has its calculation unfolded, and so
// has the tightest fine one of each kind; the rest stand in a table, and their
// calculations in the JSON beside the PDF.
func (p *pack) findings() []paper.Block {
	b := []paper.Block{para(say("findings.how")), small(say("findings.units"))}
	unfold := p.tightest()
	var rest [][]paper.Cell
	fine := false
	for i := range p.Findings {
		f := &p.Findings[i]
		if f.Verdict == finding.Fine && !fine {
			fine = true
			b = append(b, heading("findings.fine"))
		}
		if f.Verdict == finding.Fine && !unfold[i] {
			title, _ := finding.Text(f, p.sys)
			rest = append(rest, []paper.Cell{cell(title), {Text: p.bare(f), Style: paper.Strong}, cell(p.limit(f)), cell(p.margin(f))})
			continue
		}
		b = append(b, p.told(f)...)
		b = append(b, small(p.footing(f)))
		b = append(b, p.steps(f.Calc)...)
	}
	if len(rest) > 0 {
		b = append(b, heading("findings.rest"), paper.Table{
			Cols: []paper.Col{{Share: 1}, {Width: 30}, {Width: 34}, {Width: 30}},
			Head: []string{say("findings.what"), say("findings.figure"), say("findings.limit"), say("findings.margin")},
			Rows: rest, Gap: 1, Pad: 0.6,
		})
	}
	return b
}

// tightest picks, for each kind, the fine finding with the least margin for its limit.
func (p *pack) tightest() map[int]bool {
	best := map[string]int{}
	share := func(i int) float64 {
		f := &p.Findings[i]
		m := f.Margin()
		if m.Dim == quantity.NoDim || f.Limit.SI == 0 {
			return math.Inf(1)
		}
		return m.SI / math.Abs(f.Limit.SI)
	}
	for i := range p.Findings {
		f := &p.Findings[i]
		if f.Verdict != finding.Fine || len(f.Calc) == 0 {
			continue
		}
		if j, seen := best[f.ID]; !seen || share(i) < share(j) {
			best[f.ID] = i
		}
	}
	picked := map[int]bool{}
	for _, i := range best {
		picked[i] = true
	}
	return picked
}

// bare is a fine finding's figure, or that it is fine where it has none.
func (p *pack) bare(f *finding.Finding) string {
	if f.Figure.Dim == quantity.NoDim && f.Sense == finding.NoLimit {
		return say("verdict.fine")
	}
	return p.figure(f.Figure)
}

func (p *pack) figure(q quantity.Quantity) string { return quantity.FormatSpread(q, p.sys) }

func (p *pack) limit(f *finding.Finding) string {
	switch {
	case f.Limit.Dim == quantity.NoDim && f.Limit.SI == 0 || f.Sense == finding.NoLimit:
		return ""
	case f.Sense == finding.AtLeast:
		return say("findings.at-least", "limit", quantity.Format(f.Limit, p.sys))
	}
	return say("findings.at-most", "limit", quantity.Format(f.Limit, p.sys))
}

func (p *pack) margin(f *finding.Finding) string {
	m := f.Margin()
	if m.Dim == quantity.NoDim {
		return ""
	}
	return quantity.Format(m, p.sys)
}

// footing is the line under a finding: figure, limit, margin, how firmly it stands, what
// moves it, and whose rule it is.
func (p *pack) footing(f *finding.Finding) string {
	var parts []string
	add := func(id, text string) {
		if text != "" {
			parts = append(parts, say(id, "text", text))
		}
	}
	if f.Figure.Dim != quantity.NoDim || f.Sense != finding.NoLimit {
		add("footing.figure", p.figure(f.Figure))
	}
	add("footing.limit", p.limit(f))
	add("footing.margin", p.margin(f))
	if f.Stands >= 0 && f.Verdict != finding.NotJudged {
		add("footing.stands", stands(f.Stands))
	}
	add("footing.moves", strings.Join(labels(f.Moves), ", "))
	add("footing.source", sayOr("source."+f.Source, f.Source))
	return strings.Join(parts, " · ")
}

// stands says a share without pretending to more than its sample knows.
func stands(share float64) string {
	if share >= 0.95 {
		return say("footing.nearly-all")
	}
	return fmt.Sprintf("%.0f %%", 100*share)
}

func labels(paths []string) []string {
	var list []string
	for _, path := range paths {
		text := sayOr("moves."+path, path)
		if f, ok := job.FieldFor(path); ok {
			text = lowerFirst(f.Label())
			if parts := strings.Split(path, "."); strings.Contains(f.Path, "*") {
				text = parts[1] + ": " + text
			}
		}
		if list = append(list, text); len(list) == 3 {
			break
		}
	}
	return list
}

// remedy is a cure that was tried, in words.
func (p *pack) remedy(r *finding.Remedy) string {
	var parts []string
	for _, e := range r.Edits {
		id := [...]string{job.Set: "set", job.Unset: "unset", job.Insert: "insert", job.Remove: "remove"}[e.Op]
		label := e.Path
		if f, ok := job.FieldFor(e.Path); ok {
			label = lowerFirst(f.Label())
		}
		parts = append(parts, say("remedy."+id, "field", label, "path", e.Path, "text", e.Text))
	}
	figure := ""
	if r.Figure.Dim != quantity.NoDim {
		figure = quantity.Format(r.Figure, p.sys)
	}
	id := "remedy.tried"
	if figure == "" {
		id = "remedy.cleared"
	}
	text := say(id, "edits", strings.Join(parts, ", "), "figure", figure, "verdict", say("verdict."+r.Verdict.ID()))
	if len(r.Worse) > 0 {
		text += " " + say("remedy.worse", "worse", strings.Join(finding.Titles(r.Worse), ", "))
	}
	return text
}

// steps unfolds a calculation: each equation with its numbers, each run of walk rows as
// a table that closes to its last digit.
func (p *pack) steps(list []calc.Step) []paper.Block {
	var b []paper.Block
	var walk [][]paper.Cell
	flush := func() {
		if len(walk) > 0 {
			b = append(b, paper.Table{
				Cols: []paper.Col{{Width: 26}, {Share: 1}, {Width: 24, Right: true}, {Width: 24, Right: true}, {Width: 24, Right: true}},
				Head: []string{say("walk.part"), say("walk.what"), say("walk.before"), say("walk.change"), say("walk.after")},
				Rows: walk, Gap: 1.5, Pad: 0.2,
			})
			walk = nil
		}
	}
	for i, st := range list {
		if st.Key == "" {
			walk = append(walk, walkRow(st))
			continue
		}
		flush()
		again := i > 0 && list[i-1].Key == st.Key
		more := i+1 < len(list) && list[i+1].Key == st.Key
		b = append(b, p.equation(st, again, more)...)
	}
	flush()
	return b
}

// places is how many decimals a head is printed with in a walk: a millimetre.
const places = 3

// walkRow prints one leg. The change is the difference of the two printed heads, so that
// the column adds up as it stands.
func walkRow(st calc.Step) []paper.Cell {
	before, after := finding.Millimetres(st.Before), finding.Millimetres(st.After)
	text := ""
	if st.Note != "" {
		text = sayOr(st.Note, st.Note)
	}
	style := paper.Small
	return []paper.Cell{
		{Text: st.Part, Style: paper.SmallStrong}, {Text: text, Style: style},
		{Text: quantity.Fixed(before, places), Style: style},
		{Text: signed(after - before), Style: style},
		{Text: quantity.Fixed(after, places), Style: style},
	}
}

func signed(v float64) string {
	text := quantity.Fixed(v, places)
	if v > 0 {
		return "+" + text
	}
	return text
}

// equation prints one step: title and formula, the numbers put in, the result in SI and
// in the reader's units, the source. Steps of one equation in a row share its formula.
func (p *pack) equation(st calc.Step, again, more bool) []paper.Block {
	e := calc.Lookup(st.Key)
	if e == nil {
		return []paper.Block{small(say("calc.missing", "key", st.Key))}
	}
	var put []string
	for i, a := range e.Args {
		if i < len(st.Args) {
			put = append(put, a.Name+" = "+si(st.Args[i], a.Unit))
		}
	}
	result := e.Result.Name + " = " + si(st.Result, e.Result.Unit)
	if e.Result.Dim != quantity.NoDim {
		if text := p.fig(e.Result.Dim, st.Result); text != si(st.Result, e.Result.Unit) {
			result += " = " + text
		}
	}
	var b []paper.Block
	if !again {
		b = append(b, paper.Text{Style: paper.SmallStrong, Text: e.Title, Gap: 2, Indent: 5, Keep: true},
			paper.Text{Style: paper.Body, Text: e.Formula, Indent: 5, Keep: true})
	}
	b = append(b, paper.Text{Style: paper.Small, Text: say("calc.put-in", "numbers", strings.Join(put, ";  "), "result", result), Indent: 5, Keep: !more})
	if !more {
		b = append(b, paper.Text{Style: paper.Small, Text: say("calc.source", "source", e.Source), Indent: 5})
	}
	return b
}

// si prints a number in its SI unit with enough figures to do the sum again: seven, and a
// power of ten where it is very small or large.
func si(v float64, unit string) string {
	if unit == "–" || unit == "1" {
		unit = ""
	}
	text := number(v)
	if unit == "" {
		return text
	}
	return text + " " + unit
}

func number(v float64) string {
	m := math.Abs(v)
	switch {
	case math.IsNaN(v) || math.IsInf(v, 0):
		return quantity.Format(quantity.Quantity{SI: v}, quantity.Metric)
	case v == 0:
		return "0"
	case m >= 1e9 || m < 1e-6:
		mantissa, exp, _ := strings.Cut(fmt.Sprintf("%.6e", v), "e")
		n, _ := strconv.Atoi(exp)
		return minus(trimZeros(mantissa) + "·10^" + fmt.Sprint(n))
	}
	places := max(0, 6-int(math.Floor(math.Log10(m))))
	return trimZeros(quantity.Fixed(v, places))
}

func trimZeros(s string) string {
	if !strings.Contains(s, ".") {
		return s
	}
	return strings.TrimRight(strings.TrimRight(s, "0"), ".")
}

// minus puts the sign print uses for the hyphen.
func minus(s string) string { return strings.ReplaceAll(s, "-", "−") }

func (p *pack) findingsJSON() ([]byte, error) {
	b, err := p.JSON()
	if err != nil {
		return nil, err
	}
	return append(b, '\n'), nil
}
