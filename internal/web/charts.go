package web

import (
	"html/template"
	"net/http"

	"tideover/internal/pack"
)

// chartsView is every chart of a job, each with its twin as a table.
type chartsView struct {
	jobView
	Charts []chartView
}

type chartView struct {
	ID, Title, Desc string
	Drawn           template.HTML
	Head            []string
	Body            [][]string
	Notes           []string
}

// charts shows the charts the pack prints.
func (p *Pages) charts(w http.ResponseWriter, r *http.Request) {
	d := p.on(w, r)
	if d == nil {
		return
	}
	p.patience(r, d)
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.appraisal == nil {
		p.troubled(w, r, http.StatusUnprocessableEntity, say("web.picture.none"))
		return
	}
	list, err := pack.Charts(d.appraisal)
	if err != nil {
		p.fail(w, r, err)
		return
	}
	v := chartsView{jobView: d.aboutJob(p.frame(r, ""), "charts", say("web.charts"))}
	v.Stage, v.Wait = d.waiting(d.url()+"/charts", r)
	for i := range list {
		v.Charts = append(v.Charts, chartOf(&list[i]))
	}
	show(w, r, http.StatusOK, "charts", v)
}

func chartOf(c *pack.Chart) chartView {
	return chartView{ID: c.Name, Title: c.Scene.Title, Desc: c.Scene.Desc, Drawn: inline(c.Scene, c.Name+"-"), Head: c.Rows[0], Body: c.Rows[1:], Notes: c.Notes}
}

// aboutJob is what every page beside a job's sections has. The desk is locked.
func (d *desk) aboutJob(f frame, here, title string) jobView {
	v := jobView{frame: f, URL: d.url(), Name: d.name, JobName: d.name, Revision: revision(d.src)}
	if d.doc != nil && d.doc.Job.Name != "" {
		v.JobName = d.doc.Job.Name
	}
	v.Title = v.JobName + " · " + title
	v.Sections, v.Doings = d.tabs(here), d.doings(here)
	return v
}

// doings are the pages of a job beside its sections.
func (d *desk) doings(here string) []tab {
	list := []tab{{ID: "turn", Label: say("web.turn")}, {ID: "charts", Label: say("web.charts")}, {ID: "years", Label: say("web.years")},
		{ID: "side", Label: say("web.side")}, {ID: "swap", Label: say("web.swap")}, {ID: "pack", Label: say("web.pack")}}
	for i := range list {
		list[i].URL, list[i].Here = d.url()+"/"+list[i].ID, list[i].ID == here
	}
	return list
}
