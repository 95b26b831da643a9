package appraise

import (
	"slices"
	"strconv"
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/procedure"
	"tideover/internal/quantity"
)

// untestable names the non-return valves that no drain shows at work, or that nothing shuts
// off: those of a list of parts, for the arrangements give each its drain. What is missing is
// put in as the remedy: a valve and a drain before it, from the street.
func untestable(j *job.Job, a *assembly.Assembly) []finding.Finding {
	if a.Arrangement != assembly.Free && len(j.Added) == 0 {
		return nil
	}
	var list []finding.Finding
	for _, t := range a.BackTests() {
		if t.Can() && len(t.Sharing) == 0 {
			continue
		}
		f := finding.New("check-untested", a.Parts[t.Check].Tag, "")
		f.Verdict = finding.LookAt
		p := putter{a: a}
		switch {
		case len(t.Presses) > 0:
			f.Name("why", "@check-untested.presses")
			p.put("hand-valve", "V", t.Check)
			p.put("drain", "D", t.Check)
		case t.Drain < 0:
			f.Name("why", "@check-untested.no-drain")
			p.put("drain", "D", t.Check)
		default:
			f.Name("why", "@check-untested.shared")
			var tags []string
			for _, i := range t.Sharing {
				tags = append(tags, a.Parts[i].Tag)
			}
			f.Name("others", strings.Join(tags, ", "))
			p.put("hand-valve", "V", t.Check)
			p.put("drain", "D", t.Check)
		}
		f.Cures = [][]job.Edit{p.edits}
		list = append(list, f)
	}
	return list
}

// putter gathers the edits that put parts in before a valve, one after the other.
type putter struct {
	a     *assembly.Assembly
	edits []job.Edit
	given []string
}

// put puts a part in at the inlet of another, under the next tag that no part has.
func (p *putter) put(kind, letter string, at int) {
	tag := ""
	for n := 1; tag == "" || p.a.Index(strings.ToUpper(tag)) >= 0 || p.a.Index(tag) >= 0 || slices.Contains(p.given, tag); n++ {
		tag = strings.ToLower(letter) + strconv.Itoa(n)
	}
	p.given = append(p.given, tag)
	p.edits = append(p.edits, job.Edit{Op: job.Insert, Path: "added." + tag,
		Text: "kind: " + kind + ", beside: " + p.a.Parts[at].Tag + ", end: " + p.a.Parts[at].Ports[0].Name})
}

// frosted judges frost on the pipework: where it comes, how cold a night gets, and what holds
// water even when somebody has done what the card says; bare leaves out the last. [°C]
func frosted(j *job.Job, a *assembly.Assembly, bare bool) []finding.Finding {
	if j.Taken("place.frost") != "yes" {
		return nil
	}
	f := finding.New("frost-pipes", "", "")
	if cold := j.Place.Cold; cold.From == "" && cold.Basis == quantity.Assumed {
		f.Blank("place.cold-night")
		return []finding.Finding{f}
	}
	f.Figure = quantity.Of(j.Place.Cold.V)
	f.Limit, f.Sense, f.Verdict = quantity.Quantity{Dim: quantity.TemperatureDim, SI: 0, Basis: quantity.Stated}, finding.AtLeast, finding.Fine
	if float64(j.Place.Cold.V) >= 0 {
		return []finding.Finding{f}
	}
	f.Verdict = finding.LookAt
	if bare {
		return []finding.Finding{f}
	}
	f.Name("full", "@frost-pipes.none")
	if full := procedure.For(a).Frost().Full; len(full) > 0 {
		tags := make([]string, len(full))
		for k, i := range full {
			tags[k] = a.Parts[i].Tag
		}
		f.Name("full", strings.Join(tags, ", "))
	}
	return []finding.Finding{f}
}
