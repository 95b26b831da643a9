package web

import (
	"bytes"
	"html/template"
	"net/url"

	"tideover/internal/drawing"
	"tideover/internal/service"
)

// picture is what stands beside the work: the schematic in one of the named settings, the
// first that the water was worked out for unless another is asked for.
func (d *desk) picture(q url.Values, here string) (drawn template.HTML, title string, settings []tab) {
	a, see := d.appraisal, q.Get("see")
	if a.Service == nil || len(a.Assembly.Settings) == 0 {
		return "", "", nil
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
	var b bytes.Buffer
	if err := drawing.WriteInline(&b, drawing.Schematic(a.Assembly, v), ""); err != nil {
		return "", "", nil
	}
	for i := range a.Assembly.Settings {
		s := &a.Assembly.Settings[i]
		settings = append(settings, tab{ID: s.Name, Label: say("setting." + s.Name), URL: addressWith(here, q, "see", s.Name), Here: s.Name == see})
	}
	// The writer escapes every text of the job.
	return template.HTML(b.String()), say("web.picture", "setting", say("setting."+see)), settings
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
