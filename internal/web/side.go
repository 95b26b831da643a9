package web

import (
	"net/http"
	"net/url"
	"slices"
	"strconv"

	"tideover/internal/appraise"
	"tideover/internal/proposal"
	"tideover/internal/quantity"
)

// sideView is a job beside its alternatives, or beside another job.
type sideView struct {
	jobView
	Why     string   // nothing can be set beside it
	Heads   []string // of the columns: the job as it is, then the others
	Takes   []tab    // what can be taken, a column each; ID "" where it is the job itself
	Lines   []lineView
	Others  []option // jobs of the folder to compare with
	With    string
	Changes changesView
}

// sideWait marks the address that waits until everything is judged.
const sideWait = "wait"

type lineView struct {
	Label string
	Texts []string
}

// changesView is what changes from one design to another.
type changesView struct {
	Worse         []changed
	Better, Moved []string
}

// changed is one finding that comes out worse.
type changed struct{ Text, Verdict string }

// side shows a job beside what else it could be.
func (p *Pages) side(w http.ResponseWriter, r *http.Request) {
	with := r.URL.Query().Get("with")
	other, state, problem := p.otherJob(with)
	d := p.on(w, r)
	if d == nil {
		return
	}
	d.mu.Lock()
	if d.appraisal == nil {
		d.mu.Unlock()
		p.troubled(w, r, http.StatusUnprocessableEntity, say("web.picture.none"))
		return
	}
	b, units := d.set(other, revision(d.src)+" "+state), d.doc.Job.System()
	d.mu.Unlock()
	patience := firstPatience
	if n := r.URL.Query().Get(sideWait); n != "" {
		patience = mostPatience
	} else if r.Header.Get("HX-Request") != "" {
		patience = 0
	}
	whole, err := b.wait(r.Context(), patience)
	if err != nil {
		return // nobody is there any more
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	v := sideView{jobView: d.aboutJob(p.frame(r, ""), "side", say("web.side")), With: with}
	status := http.StatusOK
	if problem != "" {
		v.Problems, v.Error, status = []noted{{Text: []string{problem}}}, true, http.StatusUnprocessableEntity
	}
	v.Others = p.others(d.name, with)
	if b.fault != nil {
		p.troubled(w, r, http.StatusUnprocessableEntity, b.fault.Error())
		return
	}
	v.setSide(r, b, whole)
	columns := b.show(whole)
	if other != nil {
		v.Changes = changes(proposal.Compare(columns[0].Appraisal, columns[1].Appraisal), units)
	}
	for _, l := range proposal.Table(columns, units) {
		v.Lines = append(v.Lines, lineView{upperFirst(l.Label()), l.Texts})
	}
	show(w, r, status, "side", v)
}

// setSide fills in the heads of the columns, what can be taken, and what is still to come.
func (v *sideView) setSide(r *http.Request, b *beside, whole bool) {
	v.Heads, v.Takes = []string{say("web.side.as-is")}, []tab{{}}
	for _, c := range b.columns[1:] {
		if c.Name == "" { // another job
			v.Heads, v.Takes = append(v.Heads, v.With), append(v.Takes, tab{})
			continue
		}
		name := say("proposal." + string(c.Name))
		v.Heads, v.Takes = append(v.Heads, name), append(v.Takes, tab{ID: string(c.Name), Label: say("web.side.take", "name", name)})
	}
	if b.err != nil {
		v.Why = b.err.Error()
	}
	switch {
	case !whole:
		n, _ := strconv.Atoi(r.URL.Query().Get(sideWait))
		q := url.Values{sideWait: {strconv.Itoa(n + 1)}}
		if v.With != "" {
			q.Set("with", v.With)
		}
		v.Stage, v.Wait = say("web.side.looked"), v.URL+"/side?"+q.Encode()
	case len(b.whole) == len(b.columns):
		v.Stage = say("web.side.judged")
	default:
		v.Stage = say("web.side.only-looked")
	}
}

// others are the jobs of the folder that one can be compared with.
func (p *Pages) others(own, with string) []option {
	list := []option{{Label: say("web.side.with.none"), Chosen: with == ""}}
	jobs, err := p.folder.Jobs()
	if err != nil {
		return list
	}
	for _, j := range jobs {
		if j.Name != own {
			list = append(list, option{Value: j.Name, Label: j.Name, Chosen: j.Name == with})
		}
	}
	return list
}

// otherJob is another job of the folder and the state of its file; nil for none.
func (p *Pages) otherJob(name string) (other *appraise.Input, state, problem string) {
	if name == "" {
		return nil, "", ""
	}
	d, err := p.desk(name)
	if err != nil {
		return nil, "", err.Error()
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.appraisal == nil {
		return nil, "", say("web.side.unlaid", "job", name)
	}
	in := d.input
	return &in, name + " " + revision(d.src), ""
}

// changes words what changes.
func changes(list []proposal.Change, sys quantity.System) changesView {
	var v changesView
	for i := range list {
		c := &list[i]
		switch {
		case c.Worse:
			v.Worse = append(v.Worse, changed{c.Text(sys), c.After.Verdict.ID()})
		case c.Better:
			v.Better = append(v.Better, c.Text(sys))
		default:
			v.Moved = append(v.Moved, c.Text(sys))
		}
	}
	return v
}

// takeSide makes an alternative the job; undo brings back what was.
func (p *Pages) takeSide(w http.ResponseWriter, r *http.Request) {
	d := p.on(w, r)
	if d == nil || !p.form(w, r) {
		return
	}
	rev := r.PostFormValue("revision")
	d.mu.Lock()
	if d.appraisal == nil || revision(d.src) != rev {
		d.mu.Unlock()
		p.troubled(w, r, http.StatusConflict, say("web.side.changed"))
		return
	}
	b := d.set(nil, rev+" ")
	d.mu.Unlock()
	if _, err := b.wait(r.Context(), 0); err != nil {
		return
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	if b.err != nil {
		p.troubled(w, r, http.StatusUnprocessableEntity, b.err.Error())
		return
	}
	at := slices.IndexFunc(b.columns, func(a proposal.Alternative) bool { return a.Name != "" && string(a.Name) == r.PostFormValue("take") })
	switch {
	case at < 0:
		p.troubled(w, r, http.StatusBadRequest, say("web.form"))
	case revision(d.src) != rev:
		p.troubled(w, r, http.StatusConflict, say("web.side.changed"))
	default:
		c := &b.columns[at]
		if err := d.save(c.Doc.Bytes(), say("web.side.told", "name", say("proposal."+string(c.Name))), nil); err != nil {
			p.fail(w, r, err)
			return
		}
		goTo(w, r, d.url())
	}
}
