package web

import (
	"bytes"
	"html/template"
	"net/http"
	"net/url"

	"tideover/internal/drawing"
	"tideover/internal/service"
)

// picture is what stands beside the work: the schematic in one of the named settings, the
// first unless another is asked for.
func (d *desk) picture(q url.Values, here string) (drawn template.HTML, title string, settings []tab) {
	v, ok := d.view(q.Get("see"))
	if !ok {
		return "", "", nil
	}
	var b bytes.Buffer
	if err := drawing.WriteInline(&b, drawing.Schematic(d.appraisal.Assembly, v), ""); err != nil {
		return "", "", nil
	}
	for i := range d.appraisal.Assembly.Settings {
		name := d.appraisal.Assembly.Settings[i].Name
		settings = append(settings, tab{ID: name, Label: say("setting." + name), URL: addressWith(here, q, "see", name), Here: name == v.Setting})
	}
	// The writer escapes every text of the job.
	return template.HTML(b.String()), say("web.picture", "setting", say("setting."+v.Setting)), settings
}

// view is how the schematic is looked at: in a named setting, with the water worked out for
// it. It is false where there is nothing to look at.
func (d *desk) view(see string) (drawing.View, bool) {
	a := d.appraisal
	if a == nil || a.Service == nil || len(a.Assembly.Settings) == 0 {
		return drawing.View{}, false
	}
	if a.Assembly.Setting(see) == nil {
		see = a.Assembly.Settings[0].Name
	}
	v := drawing.View{Job: d.doc.Job.Name, Setting: see, Units: d.doc.Job.System(), Positions: a.Assembly.Setting(see).Positions, Bare: true}
	for i := range a.Service.Drawn {
		if a.Service.Drawn[i].Setting == see {
			v.Parts = d.water(&a.Service.Drawn[i])
		}
	}
	v.Links = d.turns(see)
	return v, true
}

// water turns what the service worked out into what a drawing shows.
func (d *desk) water(drawn *service.Drawn) map[string]drawing.Standing {
	waters := [...]drawing.Water{
		service.Standstill: drawing.StandsThere, service.TheMain: drawing.FromMain, service.TheStore: drawing.FromStore,
	}
	parts := map[string]drawing.Standing{}
	for i, w := range drawn.Parts {
		st := drawing.Standing{Water: waters[w.Origin]}
		if w.Origin != service.Standstill {
			st.Flow, st.Speed = w.Flow, w.Speed
		}
		parts[d.appraisal.Assembly.Parts[i].Tag] = st
	}
	return parts
}

// pictureView is the picture on a page of its own: large, with its key, and as a table.
type pictureView struct {
	jobView
	Key  template.HTML
	Head []string
	Body [][]string
}

// keyWidth is how wide the key is drawn [mm].
const keyWidth = 260

// pictures shows the picture on a page of its own.
func (p *Pages) pictures(w http.ResponseWriter, r *http.Request) {
	d := p.on(w, r)
	if d == nil {
		return
	}
	p.patience(r, d)
	d.mu.Lock()
	defer d.mu.Unlock()
	view, ok := d.view(r.URL.Query().Get("see"))
	if !ok {
		p.troubled(w, r, http.StatusUnprocessableEntity, say("web.picture.none"))
		return
	}
	var key bytes.Buffer
	if err := drawing.WriteInline(&key, drawing.Key(d.appraisal.Assembly, view, keyWidth), "key-"); err != nil {
		p.fail(w, r, err)
		return
	}
	var v pictureView
	v.frame, v.URL, v.Name, v.JobName = p.frame(r, ""), d.url(), d.name, d.doc.Job.Name
	q := kept(r)
	v.Sections = d.tabs("picture")
	v.Picture, v.PictureTitle, v.Settings = d.picture(q, d.url()+"/picture")
	v.Title, v.Key = v.JobName+" · "+v.PictureTitle, template.HTML(key.String())
	rows := drawing.Table(d.appraisal.Assembly, view)
	v.Head, v.Body = rows[0], rows[1:]
	show(w, r, http.StatusOK, "picture", v)
}
