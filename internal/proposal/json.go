package proposal

import (
	"bytes"
	"encoding/json"
	"strings"

	"tideover/internal/finding"
	"tideover/internal/job"
)

// Document is a proposal as JSON.
type Document struct {
	Job  *job.Job
	List []Alternative
}

type head struct {
	Format int    `json:"format"`
	Name   string `json:"name"`
	Date   string `json:"date"`
	Units  string `json:"units"`
}

func headOf(j *job.Job) head { return head{1, j.Name, j.Date, j.Units} }

type jsonEdit struct {
	Path string `json:"path"`
	Text string `json:"text"` // "" takes it out
}

func editsOf(list []job.Edit) []jsonEdit {
	out := []jsonEdit{}
	for _, e := range list {
		out = append(out, jsonEdit{e.Path, e.Text})
	}
	return out
}

// JSON returns the alternatives as indented JSON; docs/json.md describes it.
func (d Document) JSON() ([]byte, error) {
	type row struct {
		ID    string `json:"id"`
		Label string `json:"label"`
		Text  string `json:"text"`
	}
	type alternative struct {
		Name     string          `json:"name"`
		For      float64         `json:"sized-for-s"`
		Edits    []jsonEdit      `json:"edits"`
		Rows     []row           `json:"rows"`
		Pieces   int             `json:"pieces"`
		Total    float64         `json:"total"` // of the priced lines
		Unpriced int             `json:"unpriced"`
		Currency string          `json:"currency"`
		Over     bool            `json:"over-budget"`
		Verdict  string          `json:"verdict"`
		Must     json.RawMessage `json:"must-fix"`
	}
	doc := struct {
		head
		Alternatives []alternative `json:"alternatives"`
	}{head: headOf(d.Job)}
	sys := d.Job.System()
	for i := range d.List {
		a := &d.List[i]
		must, err := finding.JSON(a.Must, sys)
		if err != nil {
			return nil, err
		}
		out := alternative{Name: string(a.Name), For: float64(a.For), Edits: editsOf(a.Edits), Pieces: a.Pieces, Total: float64(a.Buying.Total),
			Unpriced: a.Buying.Unpriced, Currency: a.Buying.Currency, Over: a.Over, Verdict: a.Appraisal.Verdict.ID(), Must: must}
		for _, l := range Table(d.List, sys) {
			out.Rows = append(out.Rows, row{l.ID, l.Label(), l.Texts[i]})
		}
		doc.Alternatives = append(doc.Alternatives, out)
	}
	return indented(doc)
}

// SwapDocument is a swap as JSON.
type SwapDocument struct {
	Job     *job.Job
	Swapped *Swapped
	Row     string
}

// JSON returns the swap as indented JSON; docs/json.md describes it.
func (d SwapDocument) JSON() ([]byte, error) {
	type change struct {
		Key    string `json:"key"`
		Way    string `json:"way"` // "worse", "better", "moved"
		Before string `json:"before"`
		After  string `json:"after"`
		Text   string `json:"text"`
	}
	sys := d.Job.System()
	doc := struct {
		head
		Path    string   `json:"path"`
		Row     string   `json:"row"`
		Verdict string   `json:"verdict"`
		Changes []change `json:"changes"`
	}{head: headOf(d.Job), Path: d.Swapped.Path, Row: d.Row, Verdict: d.Swapped.After.Verdict.ID(), Changes: []change{}}
	for i := range d.Swapped.Changes {
		c := &d.Swapped.Changes[i]
		out := change{Way: "moved", Before: "fine", After: "fine", Text: c.Text(sys)}
		if c.Before != nil {
			out.Key, out.Before = strings.ReplaceAll(c.Before.Key(), "\x00", "/"), c.Before.Verdict.ID()
		}
		if c.After != nil {
			out.Key, out.After = strings.ReplaceAll(c.After.Key(), "\x00", "/"), c.After.Verdict.ID()
		}
		switch {
		case c.Worse:
			out.Way = "worse"
		case c.Better:
			out.Way = "better"
		}
		doc.Changes = append(doc.Changes, out)
	}
	return indented(doc)
}

func indented(doc any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	err := e.Encode(doc)
	return bytes.TrimRight(b.Bytes(), "\n"), err
}
