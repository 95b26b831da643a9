package web

import (
	"context"
	"net/http"
	"slices"
	"time"

	"tideover/internal/appraise"
	"tideover/internal/proposal"
)

// sideTime is the most that making alternatives may take.
const sideTime = 20 * time.Second

// sided is a desk's alternatives, by the state they were made from.
type sided struct {
	of   string // revision
	list []proposal.Alternative
	err  error
}

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
	other, problem := p.otherJob(with)
	d := p.on(w, r)
	if d == nil {
		return
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.appraisal == nil {
		p.troubled(w, r, http.StatusUnprocessableEntity, say("web.picture.none"))
		return
	}
	v := sideView{jobView: d.aboutJob(p.frame(r, ""), "side", say("web.side")), With: with}
	status := http.StatusOK
	if problem != "" {
		v.Problems, v.Error, status = []noted{{Text: []string{problem}}}, true, http.StatusUnprocessableEntity
	}
	v.Others = []option{{Label: say("web.side.with.none"), Chosen: with == ""}}
	if jobs, err := p.folder.Jobs(); err == nil {
		for _, j := range jobs {
			if j.Name != d.name {
				v.Others = append(v.Others, option{Value: j.Name, Label: j.Name, Chosen: j.Name == with})
			}
		}
	}
	own, err := appraise.Quick(d.input)
	if err != nil {
		p.troubled(w, r, http.StatusUnprocessableEntity, err.Error())
		return
	}
	columns := []proposal.Alternative{proposal.Present(d.input, own)}
	v.Heads, v.Takes = []string{say("web.side.as-is")}, []tab{{}}
	if other != nil {
		columns = append(columns, *other)
		v.Heads, v.Takes = append(v.Heads, with), append(v.Takes, tab{})
		v.Changes = d.changes(proposal.Compare(own, other.Appraisal))
	} else {
		d.setBeside(r.Context(), &v, &columns)
	}
	for _, l := range proposal.Table(columns, d.doc.Job.System()) {
		v.Lines = append(v.Lines, lineView{upperFirst(l.Label()), l.Texts})
	}
	show(w, r, status, "side", v)
}

// otherJob is another job of the folder, worked out in a first look; nil for none.
func (p *Pages) otherJob(name string) (other *proposal.Alternative, problem string) {
	if name == "" {
		return nil, ""
	}
	d, err := p.desk(name)
	if err != nil {
		return nil, err.Error()
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.appraisal == nil {
		return nil, say("web.side.unlaid", "job", name)
	}
	a, err := appraise.Quick(d.input)
	if err != nil {
		return nil, err.Error()
	}
	present := proposal.Present(d.input, a)
	return &present, ""
}

// alternatives makes them once for each state of the file. The desk is locked.
func (d *desk) alternatives(ctx context.Context) ([]proposal.Alternative, error) {
	if rev := revision(d.src); d.sided.of != rev {
		ctx, cancel := context.WithTimeout(ctx, sideTime)
		defer cancel()
		list, err := proposal.Propose(ctx, d.input)
		if ctx.Err() != nil {
			return nil, ctx.Err() // somebody went away: nothing is known of the job
		}
		d.sided = sided{rev, list, err}
	}
	return d.sided.list, d.sided.err
}

// setBeside adds the alternatives, each to be taken.
func (d *desk) setBeside(ctx context.Context, v *sideView, columns *[]proposal.Alternative) {
	list, err := d.alternatives(ctx)
	if err != nil {
		v.Why = err.Error()
		return
	}
	for i := range list {
		name := string(list[i].Name)
		*columns = append(*columns, list[i])
		v.Heads = append(v.Heads, say("proposal."+name))
		v.Takes = append(v.Takes, tab{ID: name, Label: say("web.side.take", "name", say("proposal."+name))})
	}
}

// changes words what changes. The desk is locked.
func (d *desk) changes(list []proposal.Change) changesView {
	var v changesView
	sys := d.doc.Job.System()
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
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.appraisal == nil || revision(d.src) != r.PostFormValue("revision") {
		p.troubled(w, r, http.StatusConflict, say("web.side.changed"))
		return
	}
	list, err := d.alternatives(r.Context())
	if err != nil {
		p.troubled(w, r, http.StatusUnprocessableEntity, err.Error())
		return
	}
	at := slices.IndexFunc(list, func(a proposal.Alternative) bool { return string(a.Name) == r.PostFormValue("take") })
	if at < 0 {
		p.troubled(w, r, http.StatusBadRequest, say("web.form"))
		return
	}
	if err := d.save(list[at].Doc.Bytes(), say("web.side.told", "name", say("proposal."+string(list[at].Name))), nil); err != nil {
		p.fail(w, r, err)
		return
	}
	goTo(w, r, d.url())
}
