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

// findings shows every finding: what is not fine with its calculation unfolded, what is
// fine as one table; its calculations stand in the JSON beside the PDF.
func (p *pack) findings() []paper.Block {
	b := []paper.Block{small(say("findings.how") + " " + say("findings.units"))}
	if told := p.TellShares(true); told != "" {
		b = append(b, small(told))
	}
	if p.Proof != nil && len(p.Proof.Results) > 0 {
		b = append(b, small(p.Proof.TellCovered()))
	}
	var open []paper.Block
	t := paper.Table{
		Cols: []paper.Col{{Share: 1}, {Width: 20}, {Width: 19}},
		Head: []string{say("findings.what"), say("findings.figure"), say("findings.limit")},
		Pad:  0.25, Close: true,
	}
	for _, f := range finding.Alike(finding.Each(p.Findings)) {
		if f.Verdict == finding.Fine {
			title, _ := f.Text(p.sys)
			if f.Close {
				title += " · " + say("findings.close", "share", finding.Share(f.Finding))
			}
			t.Rows = append(t.Rows, []paper.Cell{{Text: title, Style: paper.Tiny}, {Text: p.bare(f.Finding), Style: paper.TinyStrong},
				{Text: p.limit(f.Finding), Style: paper.Tiny}})
			continue
		}
		open = append(open, p.unfolded(&f)...)
	}
	if len(open) > 0 {
		b = append(b, paper.Columns{N: 2, Blocks: open, Gap: 3})
	}
	if len(t.Rows) > 0 {
		b = append(b, heading("findings.fine"), paper.Columns{N: 2, Blocks: []paper.Block{t}, Gap: 1.5})
	}
	return append(append(b, p.unfoldSums()...), p.assumptions()...)
}

// assumptions is the appendix of what the figures rest on that nobody measured: what hangs on
// each, what moves most first.
func (p *pack) assumptions() []paper.Block {
	if len(p.Rests) == 0 {
		return nil
	}
	var list []paper.Block
	var still []string
	for i := range p.Rests {
		r := &p.Rests[i]
		title, moves := r.Text(p.sys)
		if r.Still() {
			still = append(still, title)
			continue
		}
		list = append(list, paper.Text{Style: paper.TinyStrong, Text: title, Gap: 1, Keep: true},
			paper.Text{Style: paper.Tiny, Text: moves + " " + r.Errs() + " " + r.Settled(), Gap: 0.3})
	}
	if len(still) > 0 {
		list = append(list, paper.Text{Style: paper.Tiny, Text: say("assume.more", "list", strings.Join(still, "; ")), Gap: 1})
	}
	return []paper.Block{heading("assume.title"), small(say("assume.head")), paper.Columns{N: 2, Blocks: list, Gap: 3}}
}

// unfolded is one finding in full with its calculation, in small letters; those not judged for
// its cause are in its title.
func (p *pack) unfolded(f *finding.Group) []paper.Block {
	title, sentence := f.Text(p.sys)
	style := paper.Strong
	if f.Verdict == finding.MustFix {
		style = paper.Must
	}
	b := []paper.Block{
		paper.Text{Style: style, Text: say("finding.head", "verdict", say("verdict."+f.Verdict.ID()), "title", title), Gap: 3, Keep: true},
		small(sentence),
	}
	for i := range f.Remedies[:min(2, len(f.Remedies))] {
		b = append(b, paper.Text{Style: paper.Small, Text: p.remedy(&f.Remedies[i]), Gap: 0.6, Indent: 3})
	}
	b = append(b, paper.Text{Style: paper.Tiny, Text: p.footing(f.Finding), Gap: 0.6})
	return append(b, p.steps(f.Calc)...)
}

// bare is a fine finding's figure, or that it is fine where it has none.
func (p *pack) bare(f *finding.Finding) string {
	if f.Figure.Dim == quantity.NoDim && f.Sense == finding.NoLimit {
		return say("verdict.fine")
	}
	return p.held(f)
}

// held is a finding's figure with its spread, in as many digits as tell it from its limit.
func (p *pack) held(f *finding.Finding) string {
	if figure, _ := quantity.FormatApart(f.Figure, f.Limit, p.sys); f.Sense != finding.NoLimit && figure != quantity.Format(f.Figure, p.sys) {
		return figure
	}
	return p.figure(f.Figure)
}

func (p *pack) figure(q quantity.Quantity) string { return quantity.FormatSpread(q, p.sys) }

func (p *pack) limit(f *finding.Finding) string {
	_, limit := quantity.FormatApart(f.Figure, f.Limit, p.sys)
	switch {
	case f.Limit.Dim == quantity.NoDim && f.Limit.SI == 0 || f.Sense == finding.NoLimit:
		return ""
	case f.Sense == finding.AtLeast:
		return say("findings.at-least", "limit", limit)
	}
	return say("findings.at-most", "limit", limit)
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
		add("footing.figure", p.held(f))
	}
	add("footing.limit", p.limit(f))
	add("footing.margin", p.margin(f))
	if !f.Close { // else its sentence says it
		add("footing.stands", finding.Share(f))
	}
	add("footing.moves", strings.Join(labels(f.Moves), ", "))
	add("footing.source", finding.From(f))
	return strings.Join(parts, " · ")
}

func labels(paths []string) []string {
	var list []string
	for _, path := range paths {
		text := sayOr("moves."+path, path)
		if f, ok := job.FieldFor(path); ok {
			text = lowerFirst(f.Label())
			if parts := strings.Split(path, "."); strings.Contains(f.Path, "*") && path != f.Path {
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
func (p *pack) remedy(r *finding.Remedy) string { return r.Tell(p.sys) }

// steps unfolds a calculation: each equation with its numbers, each run of walk rows as
// a table that closes to its last digit.
func (p *pack) steps(list []calc.Step) []paper.Block {
	var b []paper.Block
	var walk [][]paper.Cell
	flush := func() {
		if len(walk) > 0 {
			b = append(b, paper.Table{
				Cols: []paper.Col{{Width: 13}, {Share: 1}, {Width: 11, Right: true}, {Width: 11, Right: true}, {Width: 11, Right: true}},
				Head: []string{say("walk.part"), say("walk.what"), say("walk.before"), say("walk.change"), say("walk.after")},
				Rows: walk, Gap: 1, Pad: 0.1, Close: true, Plain: true,
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
	text, _, _ = strings.Cut(text, ":")
	style := paper.Tiny
	return []paper.Cell{
		{Text: st.Part, Style: paper.TinyStrong}, {Text: text, Style: style},
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
// in the reader's units, the source. A formula stands once on a sheet.
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
	known := p.said[st.Key]
	if !again {
		b = append(b, paper.Text{Style: paper.TinyStrong, Text: e.Title, Gap: 1.2, Indent: 3, Keep: true})
		if !known {
			b = append(b, paper.Text{Style: paper.Small, Text: e.Formula, Indent: 3, Keep: true})
		}
	}
	b = append(b, paper.Text{Style: paper.Tiny, Text: say("calc.put-in", "numbers", strings.Join(put, ";  "), "result", result), Indent: 3, Keep: !more && !known})
	if !more && !known {
		b = append(b, paper.Text{Style: paper.Tiny, Text: say("calc.source", "source", e.Source), Indent: 3})
	}
	if !more && p.said != nil {
		p.said[st.Key] = true
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
