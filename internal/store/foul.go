package store

import (
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// drunk are the kinds of outlet that people drink, cook, wash or brush their teeth at.
var drunk = map[string]bool{"kitchen": true, "basin": true, "shower": true, "bath": true, "bidet": true, "dishwasher": true, "electric-shower": true}

// glass judges whether water that nobody may drink gets to a tap people drink or wash at: a
// must fix, and elsewhere still to be marked at every tap. Water of the main alone raises
// nothing.
func glass(list []finding.Finding, c Context) []finding.Finding {
	if c.Job.Choices.Fluid() != job.Foul {
		return list
	}
	taps, others := foulTaps(c.Assembly)
	f := finding.New("not-drinking-water", storeTag(c.Assembly), "")
	f.Name("why", "@foul."+foulBy(&c.Job.Choices))
	f.Name("taps", strings.Join(append(taps, others...), ", "))
	f.Name("drunk", strings.Join(taps, ", "))
	f.Verdict, f.Source = finding.LookAt, "en-1717"
	if len(taps) > 0 {
		f.Verdict = finding.MustFix
		f.Cures = [][]job.Edit{{set("choices.arrangement", "kitchen-on-main")}}
	}
	return append(list, f)
}

// foulBy says what makes the stored water category 5.
func foulBy(c *job.Choices) string {
	if c.Also != "" && c.Also != "none" {
		return c.Also
	}
	return "told"
}

// foulTaps are the outlets that stored water gets to: those people drink or wash at, and others.
func foulTaps(a *assembly.Assembly) (taps, others []string) {
	sides := a.Sides()
	for _, i := range a.Of(assembly.Outlet) {
		row, _ := a.Parts[i].Row.(catalogue.Outlet)
		switch {
		case !sides.Store[i]:
		case drunk[row.Kind]:
			taps = append(taps, a.Parts[i].Tag)
		default:
			others = append(others, a.Parts[i].Tag)
		}
	}
	return taps, others
}

// outlets judges what hangs at each outlet: it can be sucked into the home's pipes, to its own
// taps, and from there to the street. An end under water is no matter for a device alone: it
// has to come out of the water.
func outlets(list []finding.Finding, c Context) []finding.Finding {
	for i := range c.Job.Outlets {
		o := &c.Job.Outlets[i]
		category := o.Fluid()
		if category == "" {
			continue
		}
		list = append(list, hanging(o, category, c))
	}
	return list
}

// hanging judges one outlet.
func hanging(o *job.Outlet, category string, c Context) finding.Finding {
	f := finding.New("outlet-backflow", o.Tag, "")
	have, device := "none", "@backflow.none"
	if row, there := deviceAt(c.Assembly, o.Tag); there {
		have, device = row.Kind, row.Words
	}
	thing := o.Hangs
	if o.Submerged() {
		thing = "under-water"
	}
	f.Name("thing", "@hangs."+thing)
	f.Name("category", "@"+c.Profile.WaterGrade(category))
	f.Name("device", device)
	rule := c.Profile.Rule("device-category-" + category)
	if !rule.Set {
		f.Blank("device-category-" + category)
		return f
	}
	f.Source, f.Standing = rule.Cited()
	f.Name("wanted", "@device."+rule.Text)
	f.Verdict = finding.Fine
	if deviceRank[have] >= deviceRank[rule.Text] {
		return f
	}
	f.Verdict = finding.LookAt
	if category == job.Foul {
		f.Verdict, f.Case = finding.MustFix, "foul"
	}
	if o.Submerged() {
		f.Case = "under-water"
		path := "outlets." + o.Tag
		edits := []job.Edit{set(path+".mouth", "air"), set(path+".hangs", "hose")}
		if key := fits(c, o, "double"); key != "" {
			f.Cures = append(f.Cures, append(edits, set(path+".device", key)))
		}
		return f
	}
	if key := fits(c, o, rule.Text); key != "" {
		f.Cures = append(f.Cures, []job.Edit{set("outlets."+o.Tag+".device", key)})
	}
	return f
}

// deviceAt is the device in line before an outlet.
func deviceAt(a *assembly.Assembly, tag string) (catalogue.NonReturn, bool) {
	i := a.Index(tag)
	if i < 0 {
		return catalogue.NonReturn{}, false
	}
	before, joined := a.Meets(assembly.End{Part: i, Port: 0})
	if !joined || a.Parts[before.Part].Purpose != assembly.AsOutletCheck {
		return catalogue.NonReturn{}, false
	}
	row, is := a.Parts[before.Part].Row.(catalogue.NonReturn)
	return row, is
}

// fits is the row of a kind of device for the thread of an outlet, of the home's own trade
// sizes where both are there; "" where there is none.
func fits(c Context, o *job.Outlet, kind string) string {
	i := c.Assembly.Index(o.Tag)
	if i < 0 || c.Rows == nil {
		return ""
	}
	mark, best := c.Assembly.Parts[i].Size.Mark, ""
	for _, key := range c.Rows.Keys("non-returns") {
		row := c.Rows.NonReturns[key]
		if row.Kind != kind || row.Size.Mark != mark {
			continue
		}
		if byThread := strings.HasSuffix(key, "-"+mark); best == "" || byThread == (c.Job.System() == quantity.US) {
			best = key
		}
	}
	return best
}
