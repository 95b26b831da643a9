package proposal

import (
	"fmt"
	"strconv"
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/finding"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// Line is one row of the side-by-side table: what it tells (words "proposal.row.<ID>") and
// a text for each alternative, in the reader's units.
type Line struct {
	ID    string
	Texts []string
}

// Label is what the line tells, in words.
func (l Line) Label() string { return words.Say("proposal.row."+l.ID, nil) }

// Table sets alternatives side by side.
func Table(list []Alternative, sys quantity.System) []Line {
	var t []Line
	for _, row := range rows {
		l := Line{ID: row.id}
		some := false
		for i := range list {
			text := row.tell(&list[i], sys)
			some = some || text != ""
			l.Texts = append(l.Texts, text)
		}
		if some {
			t = append(t, l)
		}
	}
	return t
}

// rows are the lines in their order; one that is empty for all is left out.
var rows = []struct {
	id   string
	tell func(a *Alternative, sys quantity.System) string
}{
	{"arrangement", func(a *Alternative, _ quantity.System) string {
		return words.Say("arrangement."+a.Appraisal.Assembly.Arrangement, nil)
	}},
	{"store", func(a *Alternative, _ quantity.System) string {
		return a.parts(assembly.Store)
	}},
	{"pump", func(a *Alternative, _ quantity.System) string { return a.parts(assembly.Pump) }},
	{"for", func(a *Alternative, sys quantity.System) string {
		if a.For == 0 { // nobody sized it for one
			return ""
		}
		return show(quantity.TimeDim, float64(a.For), sys)
	}},
	{"carry", func(a *Alternative, sys quantity.System) string {
		if a.Appraisal.Store == nil {
			return ""
		}
		return show(quantity.TimeDim, float64(a.Appraisal.Store.Carry), sys)
	}},
	{"usable", func(a *Alternative, sys quantity.System) string {
		if a.Appraisal.Store == nil {
			return ""
		}
		return show(quantity.VolumeDim, float64(a.Appraisal.Store.Usable), sys)
	}},
	{"fresh", func(a *Alternative, sys quantity.System) string {
		if a.Appraisal.Store == nil {
			return ""
		}
		return show(quantity.TimeDim, float64(a.Appraisal.Store.Turnover), sys)
	}},
	{"on-main", func(a *Alternative, _ quantity.System) string { return a.taps("on-main") }},
	{"on-store", func(a *Alternative, _ quantity.System) string { return a.taps("on-store") }},
	{"power-out", func(a *Alternative, _ quantity.System) string {
		if t := a.taps("power-out"); t != "" {
			return t
		}
		return words.Say("proposal.taps-none", nil)
	}},
	{"mass", func(a *Alternative, sys quantity.System) string {
		return show(quantity.MassDim, float64(a.Mass), sys)
	}},
	{"floor", func(a *Alternative, sys quantity.System) string {
		return show(quantity.AreaDim, float64(a.Area), sys)
	}},
	{"pieces", func(a *Alternative, _ quantity.System) string { return strconv.Itoa(a.Pieces) }},
	{"price", func(a *Alternative, _ quantity.System) string { return a.price() }},
	{"look", func(a *Alternative, _ quantity.System) string { return strconv.Itoa(a.Count(finding.LookAt)) }},
	{"unproved", func(a *Alternative, sys quantity.System) string { return a.titles(finding.NotJudged, sys) }},
	{"must", func(a *Alternative, sys quantity.System) string {
		var list []string
		for i := range a.Must {
			title, _ := finding.Text(&a.Must[i], sys)
			list = append(list, title)
		}
		return strings.Join(list, "; ")
	}},
}

func show(dim quantity.Dim, si float64, sys quantity.System) string {
	return quantity.Format(quantity.Quantity{Dim: dim, SI: si, Basis: quantity.Derived}, sys)
}

// taps says how many are served in a mode.
func (a *Alternative) taps(mode string) string {
	n, of, ok := a.Served(mode)
	if !ok {
		return ""
	}
	return words.Say("proposal.taps", words.Args{"n": strconv.Itoa(n), "of": strconv.Itoa(of)})
}

// parts names the parts of a kind as the catalogue does.
func (a *Alternative) parts(k assembly.Kind) string {
	var list []string
	for _, i := range a.Appraisal.Assembly.Of(k) {
		p := &a.Appraisal.Assembly.Parts[i]
		name := p.Row.Ref().Words
		if p.Count > 1 {
			name = fmt.Sprintf("%d × %s", p.Count, name)
		}
		list = append(list, name)
	}
	return strings.Join(list, "; ")
}

// price is the total of what is priced, and how many lines are not; "" without prices.
func (a *Alternative) price() string {
	b := a.Buying
	if b.Total == 0 {
		return ""
	}
	args := words.Args{"total": fmt.Sprintf("%.2f %s", float64(b.Total), b.Currency), "n": strconv.Itoa(b.Unpriced)}
	id := "proposal.price"
	switch {
	case a.Over:
		id = "proposal.price.over"
	case b.Unpriced > 0:
		id = "proposal.price.some"
	}
	return words.Say(id, args)
}

// titles are the titles of the findings of a verdict, each once.
func (a *Alternative) titles(v finding.Verdict, sys quantity.System) string {
	var list []string
	seen := map[string]bool{}
	for i := range a.Appraisal.Findings {
		if f := &a.Appraisal.Findings[i]; f.Verdict == v {
			if title, _ := finding.Text(f, sys); !seen[title] {
				seen[title] = true
				list = append(list, title)
			}
		}
	}
	return strings.Join(list, "; ")
}
