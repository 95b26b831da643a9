package web

import (
	"fmt"
	"html/template"
	"maps"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"tideover/internal/catalogue"
	"tideover/internal/finding"
	"tideover/internal/job"
)

// jobView is a page of one job.
type jobView struct {
	frame
	URL, Name, JobName string
	Section, Label     string // "" on the first page
	Sections           []tab
	Verdict, Headline  string
	Undo, Redo         string // what would be taken back, made again
	Revision           string
	Stage              string // what is still to come, in words, or ""
	Wait               string // address that answers once there is more, or ""
	Problems           []noted
	Notes              []noted // what keeps the job from being worked out
	Findings           []findingView
	Weightiest         []weighty
	Fine               int    // findings not shown
	FineURL            string // shows them
	Query              string // how the page is looked at: kept by what is done on it
	Groups             []groupView
	Lists              []listView
	Rows               []rowList
	Picture            template.HTML
	PictureTitle       string
	PictureURL         string // of its own page
	LaidPicture        Laid
	Settings           []tab  // to see the picture in
	Sheet              string // sheet.go
	Doings             []tab  // pages of the job beside its sections
}

// tab leads to a page.
type tab struct {
	ID, Label, URL string
	Here           bool
	Must, Look     int
}

// weighty are assumptions that much hangs on, under what is said of them.
type weighty struct {
	Head string
	List []string
}

// weightiest are those of the job as it was last run through, on its first page.
func (d *desk) weightiest(section string) (list []weighty) {
	if section != "" || d.appraisal == nil {
		return nil
	}
	for _, part := range d.appraisal.Weightiest.Parts() {
		w := weighty{Head: part.Head}
		for i := range part.List {
			w.List = append(w.List, part.List[i].Brief(d.doc.Job.System()))
		}
		list = append(list, w)
	}
	return list
}

// noted is something to be put right, with the field it is about.
type noted struct {
	Text    []string
	Label   string
	URL     string
	Excerpt string
}

// rowList is rows of the catalogue to choose from while typing.
type rowList struct {
	ID   string
	Rows []catalogue.Listed
	Laid
}

func (d *desk) url() string { return "/jobs/" + url.PathEscape(d.name) }

// on opens the job of a request; nil when it was answered already.
func (p *Pages) on(w http.ResponseWriter, r *http.Request) *desk {
	d, err := p.desk(r.PathValue("name"))
	if err != nil {
		p.fail(w, r, err)
		return nil
	}
	return d
}

// overview is a job's first page: its verdict and every finding.
func (p *Pages) overview(w http.ResponseWriter, r *http.Request) { p.jobPage(w, r, "") }

// section is the page of one section.
func (p *Pages) section(w http.ResponseWriter, r *http.Request) {
	p.jobPage(w, r, r.PathValue("section"))
}

func (p *Pages) jobPage(w http.ResponseWriter, r *http.Request, section string) {
	d := p.on(w, r)
	if d == nil {
		return
	}
	if section != "" && !slices.Contains(job.Sections(), section) {
		p.nothing(w, r)
		return
	}
	p.patience(r, d)
	d.mu.Lock()
	defer d.mu.Unlock()
	if r.URL.Query().Get("as") == "json" {
		p.twin(w, r, d)
		return
	}
	p.showJob(w, r, d, section, http.StatusOK, nil)
}

// kept is how a page is looked at, without what it waits for: of the address, or of the form
// that was sent from there.
func kept(r *http.Request) url.Values {
	q := r.URL.Query()
	if r.Method != http.MethodGet {
		q, _ = url.ParseQuery(r.PostFormValue("query"))
	}
	for _, not := range []string{"wait", "after", "again", "as"} {
		q.Del(not)
	}
	return q
}

// addressWith is an address with one thing looked at otherwise.
func addressWith(here string, q url.Values, key, value string) string {
	q = maps.Clone(q)
	q.Set(key, value)
	return here + "?" + q.Encode()
}

// showJob shows a section with what is wrong first. The desk is locked.
func (p *Pages) showJob(w http.ResponseWriter, r *http.Request, d *desk, section string, status int, problems []noted) {
	v := jobView{frame: p.frame(r, ""), URL: d.url(), Name: d.name, Section: section, Revision: revision(d.src), Problems: problems}
	v.Here = d.url()
	if section != "" {
		v.Here += "/" + section
		v.Label = say("section." + section)
	}
	v.JobName = d.name
	if d.doc != nil {
		if d.doc.Job.Name != "" {
			v.JobName = d.doc.Job.Name
		}
		if section != "" {
			v.Groups, v.Lists = d.fieldsOf(section)
			v.Rows = p.rowLists(v.Groups, v.Lists)
		}
	}
	v.Title = strings.TrimSpace(v.JobName + " · " + v.Label)
	if section == "" {
		v.Title = v.JobName
	}
	v.Error = len(problems) > 0
	if n := len(d.undo); n > 0 {
		v.Undo = d.undo[n-1].told
	}
	if n := len(d.redo); n > 0 {
		v.Redo = d.redo[n-1].told
	}
	v.Notes = d.notes()
	q := kept(r)
	v.Query = q.Encode()
	v.Sections = d.tabs(section)
	v.Doings = d.doings("")
	all := q.Get("fine") == "1"
	v.Findings, v.Fine = d.findingsOf(section, all)
	if all {
		v.Fine = 0
	}
	v.Weightiest = d.weightiest(section)
	v.FineURL = addressWith(v.Here, q, "fine", "1")
	if d.appraisal != nil {
		v.Verdict, v.Headline = d.headline()
		v.Picture, v.PictureTitle, v.Settings = d.picture(q, v.Here)
		v.PictureURL = d.url() + "/picture"
		if see := q.Get("see"); see != "" {
			v.PictureURL = addressWith(v.PictureURL, url.Values{}, "see", see)
		}
		v.Stage, v.Wait = d.waiting(v.Here, r)
	}
	d.lay(r, &v)
	show(w, r, status, "job", v)
}

// headline is the verdict of the whole job in one sentence.
func (d *desk) headline() (verdict, text string) {
	n := map[finding.Verdict]int{}
	for i := range d.findings {
		n[d.findings[i].Verdict]++
	}
	id := finding.Overall(d.findings).ID()
	if d.stage == glance {
		text = say("web.so-far") + " "
	}
	return id, text + say("web.headline."+id, "must", fmt.Sprint(n[finding.MustFix]), "look", fmt.Sprint(n[finding.LookAt]),
		"unjudged", fmt.Sprint(n[finding.NotJudged]), "fine", fmt.Sprint(n[finding.Fine]))
}

// tabs are the sections that have a field or a finding, with what is to be done in them.
func (d *desk) tabs(here string) []tab {
	has := map[string]*tab{}
	for _, f := range job.Fields() {
		has[f.Section] = &tab{}
	}
	if d.appraisal != nil {
		for i := range d.findings {
			f := &d.findings[i]
			if has[f.Area] == nil {
				has[f.Area] = &tab{}
			}
			switch f.Verdict {
			case finding.MustFix:
				has[f.Area].Must++
			case finding.LookAt:
				has[f.Area].Look++
			}
		}
	}
	list := []tab{{ID: "", Label: say("web.overview"), URL: d.url(), Here: here == ""}}
	for _, s := range job.Sections() {
		if t := has[s]; t != nil {
			t.ID, t.Label, t.URL, t.Here = s, say("section."+s), d.url()+"/"+s, s == here
			list = append(list, *t)
		}
	}
	return list
}

// rowLists are the lists of rows that fields choose from while typing, each once.
func (p *Pages) rowLists(groups []groupView, lists []listView) []rowList {
	var out []rowList
	add := func(fields []fieldView) {
		for _, f := range fields {
			if f.Rows != "" && !slices.ContainsFunc(out, func(l rowList) bool { return l.ID == f.Rows }) {
				out = append(out, rowList{ID: f.Rows, Rows: p.catalogue.List(strings.TrimPrefix(f.Rows, "rows-"))})
			}
		}
	}
	for _, g := range groups {
		add(g.Fields)
	}
	for _, l := range lists {
		for _, g := range l.Items {
			add(g.Fields)
			add(g.Rest)
		}
		add(l.Fields)
	}
	return out
}

// twin is the job as data: what "tideover check --json" prints.
func (p *Pages) twin(w http.ResponseWriter, r *http.Request, d *desk) {
	if d.appraisal == nil {
		p.troubled(w, r, http.StatusUnprocessableEntity, say("web.unreadable"))
		return
	}
	b, err := d.appraisal.JSON()
	if err != nil {
		p.fail(w, r, err)
		return
	}
	w.Header().Set("Content-Type", "application/json")
	packed(w, r, http.StatusOK, b)
}

// With hands a template one thing together with the page it stands on.
type With struct {
	Job     *jobView
	Group   groupView
	List    listView
	Finding findingView
}

// OfGroup is a group on this page.
func (v jobView) OfGroup(g groupView) With { return With{Job: &v, Group: g} }

// OfList is a list on this page.
func (v jobView) OfList(l listView) With { return With{Job: &v, List: l} }

// OfFinding is a finding on this page.
func (v jobView) OfFinding(f findingView) With { return With{Job: &v, Finding: f} }
