package web

import (
	"net/http"
	"net/url"

	"tideover/internal/job"
	"tideover/internal/proposal"
)

// swapView is a part being swapped: which, for what, and what that changes.
type swapView struct {
	jobView
	Parts   []swapPart
	Part    *swapPart
	Rows    []option
	Row     string
	RowName string
	Shown   bool // what the row changes is shown
	Changes changesView
	From    string
	Paid    string
}

// swapPart is a part that can be swapped.
type swapPart struct{ Tag, Path, What, Now, URL string }

// swapping shows what can be swapped, for what, and what that changes. It changes nothing.
func (p *Pages) swapping(w http.ResponseWriter, r *http.Request) {
	d := p.on(w, r)
	if d == nil {
		return
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	q := r.URL.Query()
	p.showSwap(w, r, d, q.Get("part"), q.Get("row"), nil)
}

// showSwap shows a swap, with what is wrong with it first. The desk is locked.
func (p *Pages) showSwap(w http.ResponseWriter, r *http.Request, d *desk, part, row string, problems []noted) {
	if d.appraisal == nil {
		p.troubled(w, r, http.StatusUnprocessableEntity, say("web.picture.none"))
		return
	}
	v := swapView{jobView: d.aboutJob(p.frame(r, ""), "swap", say("web.swap")), Row: row, From: r.PostFormValue("from"), Paid: r.PostFormValue("paid")}
	v.Parts = d.swapParts()
	for i := range v.Parts {
		if v.Parts[i].Tag == part {
			v.Part = &v.Parts[i]
		}
	}
	if part != "" && v.Part == nil {
		problems = append(problems, noted{Text: []string{say("web.swap.no-part")}})
	}
	if v.Part != nil {
		v.Rows = p.rowsFor(v.Part.Path, row)
		if row != "" {
			problems = append(problems, d.tryRow(&v)...)
		}
	}
	status := http.StatusOK
	if v.Problems = problems; len(problems) > 0 {
		v.Error, status = true, http.StatusUnprocessableEntity
	}
	show(w, r, status, "swap", v)
}

// tryRow works out what a row changes, or says why it cannot stand there.
func (d *desk) tryRow(v *swapView) []noted {
	s, err := proposal.Swap(d.input, v.Part.Tag, v.Row)
	if err != nil {
		return []noted{{Text: reasons(err)}}
	}
	v.Shown, v.Changes, v.RowName = true, changes(s.Changes, d.doc.Job.System()), v.Row
	for _, o := range v.Rows {
		if o.Value == v.Row {
			v.RowName = o.Label
		}
	}
	return nil
}

// swapParts lists the parts a catalogue row can be chosen for.
func (d *desk) swapParts() []swapPart {
	var list []swapPart
	a := d.appraisal.Assembly
	for _, place := range proposal.Places(a) {
		if f, ok := job.FieldFor(place.Path); !ok || f.Table == "" {
			continue
		}
		part := &a.Parts[a.Index(place.Tag)]
		now, _ := d.doc.Text(place.Path)
		if part.Row != nil {
			now = part.Row.Ref().Words
		}
		list = append(list, swapPart{place.Tag, place.Path, partName(part), now, d.url() + "/swap?" + url.Values{"part": {place.Tag}}.Encode()})
	}
	return list
}

// rowsFor are the rows of the catalogue that a field takes.
func (p *Pages) rowsFor(path, chosen string) []option {
	f, _ := job.FieldFor(path)
	var list []option
	for _, r := range p.catalogue.List(f.Table) {
		list = append(list, option{r.Key, upperFirst(r.Words), r.Key == chosen})
	}
	return list
}

// takeSwap puts a row in a part's place, and records it as bought where it was.
func (p *Pages) takeSwap(w http.ResponseWriter, r *http.Request) {
	d := p.on(w, r)
	if d == nil || !p.form(w, r) {
		return
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	part, row := r.PostFormValue("part"), r.PostFormValue("row")
	if d.appraisal == nil || revision(d.src) != r.PostFormValue("revision") {
		p.troubled(w, r, http.StatusConflict, say("web.side.changed"))
		return
	}
	s, err := proposal.Swap(d.input, part, row)
	if err != nil {
		p.showSwap(w, r, d, part, row, nil) // says why by itself
		return
	}
	doc := s.Doc
	if r.PostFormValue("bought") != "" {
		if doc, err = s.Bought(part, row, text(r, "from"), text(r, "paid")); err != nil {
			p.showSwap(w, r, d, part, row, []noted{{Text: reasons(err)}})
			return
		}
	}
	if err := d.save(doc.Bytes(), p.told(between(d.doc, doc)), nil); err != nil {
		p.fail(w, r, err)
		return
	}
	goTo(w, r, d.url())
}
