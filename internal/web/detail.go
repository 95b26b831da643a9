package web

import (
	"net/http"
	"strings"

	"tideover/internal/appraise"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/shelf"
)

// detailView is one finding with its calculation.
type detailView struct {
	jobView
	Finding findingView
	Source  string
	Lines   []string
}

// finding shows how one finding was worked out.
func (p *Pages) finding(w http.ResponseWriter, r *http.Request) {
	d := p.on(w, r)
	if d == nil {
		return
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	f := d.find(r.URL.Query().Get("key"))
	if f == nil {
		p.troubled(w, r, http.StatusNotFound, say("web.finding.gone"))
		return
	}
	v := detailView{Finding: d.viewOf(f), Source: finding.From(f), Lines: finding.Unfold(f.Calc, d.doc.Job.System())}
	v.frame, v.URL, v.Name, v.JobName = p.frame(r, v.Finding.Title), d.url(), d.name, d.doc.Job.Name
	v.Sections = d.tabs(f.Area)
	show(w, r, http.StatusOK, "finding", v)
}

func (d *desk) find(id string) *finding.Finding {
	if d.appraisal == nil {
		return nil
	}
	for i := range d.findings {
		if f := &d.findings[i]; findingID(f) == id {
			return f
		}
	}
	return nil
}

// earlierView is the versions of a job.
type earlierView struct {
	jobView
	Now      string
	Versions []versionView
	Shown    string // id of the one whose text is shown
	Text     string
}

type versionView struct {
	shelf.Version
	Told string // what was changed in it then
}

// earlier lists the versions of a job, and shows one.
func (p *Pages) earlier(w http.ResponseWriter, r *http.Request) {
	d := p.on(w, r)
	if d == nil {
		return
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	versions, err := p.folder.Versions(d.name)
	if err != nil {
		p.fail(w, r, err)
		return
	}
	v := earlierView{Now: moment(d.changed)}
	v.frame, v.URL, v.Name, v.JobName, v.Revision = p.frame(r, say("web.earlier")), d.url(), d.name, d.name, revision(d.src)
	v.Sections = d.tabs("earlier")
	if d.doc != nil {
		v.JobName = d.doc.Job.Name
	}
	after := d.doc
	for i, version := range versions {
		line := versionView{Version: version}
		if i < toldVersions {
			line.Told, after = d.since(version, after)
		}
		v.Versions = append(v.Versions, line)
	}
	if id := r.URL.Query().Get("id"); id != "" {
		src, err := p.folder.Version(d.name, id, fileLimit)
		if err != nil {
			p.fail(w, r, err)
			return
		}
		v.Shown, v.Text = id, strings.ToValidUTF8(string(src), "�")
	}
	show(w, r, http.StatusOK, "earlier", v)
}

// toldVersions is how many versions are read to tell what was changed in them.
const toldVersions = 30

// since tells what was changed in a version by the state after it, and reads the version.
func (d *desk) since(v shelf.Version, after *job.Doc) (told string, doc *job.Doc) {
	src, err := d.pages.folder.Version(d.name, v.ID, fileLimit)
	if err != nil {
		return "", nil
	}
	doc, _ = appraise.ReadDoc(d.pages.catalogue, d.name, src)
	if doc == nil || after == nil {
		return "", doc
	}
	return d.pages.told(between(doc, after)), doc
}

// restore makes an earlier version the present one; the present one is kept as a version.
func (p *Pages) restore(w http.ResponseWriter, r *http.Request) {
	d := p.on(w, r)
	if d == nil || !p.form(w, r) {
		return
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	src, err := p.folder.Version(d.name, r.PostFormValue("id"), fileLimit)
	if err != nil {
		p.fail(w, r, err)
		return
	}
	if revision(d.src) != r.PostFormValue("revision") {
		p.troubled(w, r, http.StatusConflict, say("web.restore.changed"))
		return
	}
	if err := d.save(src, say("web.told.restored"), nil); err != nil {
		p.fail(w, r, err)
		return
	}
	goTo(w, r, d.url())
}
