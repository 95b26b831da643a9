package web

import (
	"net/http"
	"slices"
	"strings"

	"tideover/internal/job"
)

// Names of what a form of fields sends: what is in the box, and what was when the page was
// made.
const (
	boxKey = "v:"
	wasKey = "w:"
)

// edit saves the fields of a form that somebody touched.
func (p *Pages) edit(w http.ResponseWriter, r *http.Request) {
	d := p.on(w, r)
	if d == nil || !p.form(w, r) {
		return
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	if path := r.PostFormValue("drop"); path != "" { // what was typed is taken back
		delete(d.drafts, path)
		p.after(w, r, d, nil, nil)
		return
	}
	list := touched(r)
	if path := r.PostFormValue("unknown"); path != "" {
		list = append(slices.DeleteFunc(list, func(c change) bool { return c.path == path }), notKnown(path, text(r, wasKey+path)))
	}
	if item := r.PostFormValue("remove"); item != "" {
		list = slices.DeleteFunc(list, func(c change) bool { return strings.HasPrefix(c.path, item+".") })
		list = append(list, change{op: job.Remove, path: item, was: text(r, wasKey+item)})
	}
	back := d.aside()
	problems, err := d.make(list)
	back()
	d.draft(list, problems, err != nil)
	p.after(w, r, d, problems, err)
}

// touched are the changes of a form: every box that does not hold what it held.
func touched(r *http.Request) []change {
	var list []change
	for _, f := range job.Fields() { // in the order of a file
		for key := range r.PostForm {
			path, ok := strings.CutPrefix(key, boxKey)
			field, known := job.FieldFor(path)
			if !ok || !known || field.Path != f.Path {
				continue
			}
			c := change{path: path, was: text(r, wasKey+path), text: text(r, key)}
			if c.text == "" {
				c.op = job.Unset
			}
			if c.text != c.was {
				list = append(list, c)
			}
		}
	}
	slices.SortStableFunc(list, func(a, b change) int { return strings.Compare(itemOf(a.path), itemOf(b.path)) })
	return list
}

// text is a form's value with line ends as a file has them.
func text(r *http.Request, key string) string {
	return strings.TrimSpace(strings.ReplaceAll(r.PostFormValue(key), "\r\n", "\n"))
}

// notKnown is the answer "nobody knows": the word, where the field has one, else the value
// is left to be assumed.
func notKnown(path, was string) change {
	f, _ := job.FieldFor(path)
	if slices.Contains(f.Allowed, "unknown") {
		return change{op: job.Set, path: path, was: was, text: "unknown"}
	}
	return change{op: job.Unset, path: path, was: was}
}

// draft keeps what could not be saved, and forgets what was.
func (d *desk) draft(list []change, problems []problem, all bool) {
	for _, c := range list {
		delete(d.drafts, c.path)
		if all {
			d.drafts[c.path] = draft{text: c.text}
		}
	}
	for _, b := range problems {
		if b.op == job.Remove {
			continue
		}
		dr := draft{text: b.text, why: b.why, both: b.both}
		if b.both && d.doc != nil {
			dr.now, dr.why = textAt(d.doc, b.path, b.op), d.bothSides(b)
		}
		d.drafts[b.path] = dr
	}
}

// bothSides says what the file says now where somebody else changed it meanwhile.
func (d *desk) bothSides(b problem) []string {
	now := textAt(d.doc, b.path, b.op)
	return []string{say("web.both", "now", orNothing(now), "was", orNothing(b.was))}
}

func orNothing(text string) string {
	if text == "" {
		return say("web.nothing-there")
	}
	return "“" + text + "”"
}

// after answers a change: with the page again where all is well, else with what is wrong.
// Without script a browser is sent to the page, so that loading it again changes nothing.
func (p *Pages) after(w http.ResponseWriter, r *http.Request, d *desk, problems []problem, err error) {
	section := r.PostFormValue("section")
	if !slices.Contains(job.Sections(), section) {
		section = ""
	}
	var list []noted
	if err != nil {
		list = append(list, noted{Text: []string{err.Error()}})
	}
	for _, b := range problems {
		j := d.jump(b.path)
		if f, ok := job.FieldFor(b.path); !ok { // an item
			j.Label, j.URL = b.path, d.url()+"/"+section+"#g-"+b.path
		} else if section != "" && f.Section == section {
			j.URL = "#i-" + b.path
		}
		n := noted{Text: b.why, Label: j.Label, URL: j.URL}
		if b.both {
			n.Text = d.bothSides(b)
		}
		list = append(list, n)
	}
	if len(list) > 0 {
		p.showJob(w, r, d, section, http.StatusUnprocessableEntity, list)
		return
	}
	if r.Header.Get("HX-Request") != "" { // laid over the page: no second way there and back
		p.showJob(w, r, d, section, http.StatusOK, nil)
		return
	}
	to := d.url()
	if section != "" {
		to += "/" + section
	}
	if q := kept(r).Encode(); q != "" {
		to += "?" + q
	}
	if at := r.PostFormValue("at"); at != "" {
		to += "#" + at
	}
	goTo(w, r, to)
}

// item adds an item to a list.
func (p *Pages) item(w http.ResponseWriter, r *http.Request) {
	d := p.on(w, r)
	if d == nil || !p.form(w, r) {
		return
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	list, tag := r.PostFormValue("list"), tagOf(r.PostFormValue("tag"))
	var parts []string
	for _, f := range job.Fields() {
		if head, key, ok := strings.Cut(f.Path, ".*."); ok && head == list {
			value := text(r, boxKey+f.Path)
			delete(d.drafts, f.Path)
			if value != "" {
				parts = append(parts, key+": "+value)
			}
		}
	}
	c := change{op: job.Insert, path: list + "." + tag, text: strings.Join(parts, ", ")}
	problems, err := d.make([]change{c})
	delete(d.drafts, list+".*")
	if len(problems) > 0 || err != nil {
		for _, f := range job.Fields() {
			if head, _, ok := strings.Cut(f.Path, ".*."); ok && head == list {
				d.drafts[f.Path] = draft{text: text(r, boxKey+f.Path)}
			}
		}
		dr := draft{text: r.PostFormValue("tag")}
		for i := range problems {
			dr.why = append(dr.why, problems[i].why...)
		}
		d.drafts[list+".*"] = dr
	}
	p.after(w, r, d, problems, err)
}

// tagOf makes a tag of what people type: "Shower up" becomes "shower-up".
func tagOf(text string) string { return strings.Join(strings.Fields(strings.ToLower(text)), "-") }

// remedy makes the edits of a tried remedy.
func (p *Pages) remedy(w http.ResponseWriter, r *http.Request) {
	d := p.on(w, r)
	if d == nil || !p.form(w, r) {
		return
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	var list []change
	f := r.PostForm
	n := len(f["op"])
	if len(f["path"]) != n || len(f["was"]) != n || len(f["text"]) != n {
		p.troubled(w, r, http.StatusBadRequest, say("web.form"))
		return
	}
	for i := range n {
		op := slices.Index(ops[:], f["op"][i])
		if op < 0 {
			p.troubled(w, r, http.StatusBadRequest, say("web.form"))
			return
		}
		list = append(list, change{op: job.Op(op), path: f["path"][i], was: f["was"][i], text: f["text"][i]})
	}
	problems, err := d.make(list)
	p.after(w, r, d, problems, err)
}

func (p *Pages) undo(w http.ResponseWriter, r *http.Request) { p.turn(w, r, (*desk).back) }

func (p *Pages) redo(w http.ResponseWriter, r *http.Request) { p.turn(w, r, (*desk).again) }

func (p *Pages) turn(w http.ResponseWriter, r *http.Request, way func(*desk) ([]problem, error)) {
	d := p.on(w, r)
	if d == nil || !p.form(w, r) {
		return
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	problems, err := way(d)
	for i := range problems {
		if problems[i].both {
			problems[i].why = []string{say("web.both.undo", "now", orNothing(textAt(d.doc, problems[i].path, problems[i].op)))}
			problems[i].both = false
		}
	}
	p.after(w, r, d, problems, err)
}
