package web

import (
	"crypto/sha256"
	"encoding/hex"
	"strings"

	"tideover/internal/appraise"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// findingView is one finding as a page shows it.
type findingView struct {
	ID, Verdict, Word string
	Title, Sentence   string
	Number, Unit      string
	Half              string
	Limit             string // in words, with its side
	Was               string // what it said before the latest change, when that was something else
	Stands            string
	Close             bool // fine, with little room
	Stale             bool // said of the state before, and being judged again
	Moves             []jump
	Remedies          []remedyView
	Trying            bool   // remedies are still being tried
	URL               string // of its calculation
	Case              string // address of the case that shows it, or ""
}

// jump leads to a field.
type jump struct{ Label, URL string }

// remedyView is a tried edit that one tap makes.
type remedyView struct {
	Text  string
	Leave bool // it waits for somebody's leave or work: it is not made by one press
	Waits bool // it is being held to years: it is not offered before
	Edits []changeView
}

type changeView struct{ Op, Path, Was, Text string }

var ops = [...]string{job.Set: "set", job.Unset: "unset", job.Insert: "insert", job.Remove: "remove"}

// findingsOf shows those of a section, or of all where section is "".
func (d *desk) findingsOf(section string, fine bool) (list []findingView, fineCount int) {
	if d.appraisal == nil {
		return nil, 0
	}
	var told []*finding.Finding
	for i := range d.findings {
		f := &d.findings[i]
		if section != "" && f.Area != section {
			continue
		}
		if f.Verdict == finding.Fine {
			fineCount++
			if !fine {
				continue
			}
		}
		told = append(told, f)
	}
	for _, g := range finding.Alike(told) {
		v := d.viewOf(g.Finding)
		v.Title, _ = g.Text(d.doc.Job.System())
		list = append(list, v)
	}
	return list, fineCount
}

// findingID is a finding's key as it can stand in an address.
func findingID(f *finding.Finding) string {
	sum := sha256.Sum256([]byte(f.Key()))
	return hex.EncodeToString(sum[:5])
}

func (d *desk) viewOf(f *finding.Finding) findingView {
	sys := d.doc.Job.System()
	v := findingView{ID: findingID(f), Verdict: f.Verdict.ID(), Word: say("verdict." + f.Verdict.ID())}
	v.Title, v.Sentence = finding.Text(f, sys)
	v.Stale = d.stale[f.Key()]
	v.URL = d.url() + "/finding?key=" + v.ID
	if text := f.Names["case"]; text != "" {
		v.Case = d.turnURL(text)
	}
	if f.Figure.Dim != quantity.NoDim {
		v.Number, v.Unit = quantity.Shown(f.Figure, sys)
		if _, half, spread := strings.Cut(quantity.FormatSpread(f.Figure, sys), "±"); spread {
			v.Half = "±" + half
		}
		if f.Sense != finding.NoLimit && f.Limit.Dim != quantity.NoDim {
			id := "web.at-least"
			if f.Sense == finding.AtMost {
				id = "web.at-most"
			}
			figure, limit := quantity.FormatApart(f.Figure, f.Limit, sys)
			v.Limit = say(id, "limit", limit)
			if figure != quantity.Format(f.Figure, sys) { // in more digits, to tell it from its limit
				v.Number, v.Half = strings.TrimSuffix(figure, " "+v.Unit), ""
			}
		}
	}
	v.Was = d.was(f, sys)
	if share := finding.Share(f); share != "" {
		switch {
		case !f.Close:
			v.Stands = say("web.stands", "share", share)
		case f.Verdict == finding.Fine:
			v.Stands, v.Close = say("web.stands.close", "share", share), true
		}
	}
	for _, path := range f.Moves[:min(3, len(f.Moves))] {
		v.Moves = append(v.Moves, d.jump(path))
	}
	v.Trying = d.stage == glance && f.Verdict != finding.Fine && len(f.Cures) > 0
	for i := range f.Remedies {
		v.Remedies = append(v.Remedies, d.remedyView(f, &f.Remedies[i], sys))
	}
	return v
}

// was says what the finding said before the latest change.
func (d *desk) was(f *finding.Finding, sys quantity.System) string {
	old, had := d.before[f.Key()]
	// Told to the same digits: a figure whose spread is not worked out yet has more.
	now := f.Figure
	now.Half = max(now.Half, old.figure.Half)
	old.figure.Half = now.Half
	switch {
	case d.before == nil:
		return ""
	case !had:
		if f.Verdict == finding.Fine || d.stage != glance && strings.HasPrefix(f.ID, "promise") {
			return ""
		}
		return say("web.was.new")
	case old.verdict != f.Verdict:
		return say("web.was.verdict", "figure", quantity.Format(old.figure, sys), "verdict", say("verdict."+old.verdict.ID()))
	case quantity.Format(old.figure, sys) != quantity.Format(now, sys):
		return say("web.was", "figure", quantity.Format(old.figure, sys))
	}
	return ""
}

// jump leads to the field of a path, on the page of its section.
func (d *desk) jump(path string) jump {
	f, ok := job.FieldFor(path)
	if !ok {
		return jump{Label: sayOr("moves."+path, path)}
	}
	if strings.Contains(path, "*") { // of every item of a list: there is no one box
		return jump{f.Label(), d.url() + "/" + f.Section}
	}
	return jump{labelOf(path), d.url() + "/" + f.Section + "#i-" + path}
}

func (d *desk) remedyView(f *finding.Finding, r *finding.Remedy, sys quantity.System) remedyView {
	v := remedyView{Leave: appraise.Leave(r)}
	if v.Waits = d.appraisal.Awaits(f, r); v.Waits {
		known := *r
		known.Open = nil
		r = &known
	}
	v.Text = r.Tell(sys)
	for _, e := range r.Edits {
		v.Edits = append(v.Edits, changeView{ops[e.Op], e.Path, textAt(d.doc, e.Path, e.Op), e.Text})
	}
	return v
}
