package service

import (
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// mainAlone names the outlets that have no way to the store while others have: what a home
// split between the two does without whenever the main is out, and what of it is thin at
// the main's worst hours.
func (f *reader) mainAlone() {
	alone := f.noStore()
	if len(alone) == 0 {
		return
	}
	x := f.start("main-alone", "", "on-main")
	var tags []string
	for _, i := range f.Assembly.Of(assembly.Outlet) {
		if tag := f.Assembly.Parts[i].Tag; alone[tag] {
			tags = append(tags, tag)
		}
	}
	weak := "@main-alone.well"
	if m := f.r.Mode("on-main-peak"); m != nil {
		for k := range m.Alone {
			if d := &m.Alone[k]; d.Certified && float64(d.Flow) < f.usable()*float64(d.Need) {
				weak = "@main-alone.thin"
			}
		}
	}
	x.Verdict = finding.LookAt
	x.Name("outlets", strings.Join(tags, ", "))
	x.Name("weak", weak)
	x.Cures = [][]job.Edit{{edit("choices.arrangement", "through-store")}}
	f.add(x)
}

// noStore is the outlets that stored water cannot get to, in a home with a store.
func (f *reader) noStore() map[string]bool {
	if len(f.Assembly.Of(assembly.Store)) == 0 {
		return nil
	}
	sides := f.Assembly.Sides()
	tags := map[string]bool{}
	for _, i := range f.Assembly.Of(assembly.Outlet) {
		if sides.Main[i] && !sides.Store[i] {
			tags[f.Assembly.Parts[i].Tag] = true
		}
	}
	return tags
}

// trips judges whether the cut-out at the inlet of a pump on the main lets it run while
// taps draw: where it does not, the pump stops, the main recovers, and it starts again.
func (f *reader) trips() {
	cut := f.Assembly.CutOut()
	if cut == nil {
		return
	}
	for i := range f.r.Modes {
		m := &f.r.Modes[i]
		if !m.Pumped || m.Same != "" {
			continue
		}
		x := f.start("cut-out-trips", cut.Tag, m.ID)
		x.Verdict = finding.Fine
		if m.Trip != nil {
			x.Against(pressure(m.Trip.Felt), stated(quantity.PressureDim, float64(cut.Off)), finding.AtLeast, finding.LookAt)
			x.Name("open", m.Trip.Open)
		}
		f.add(x)
	}
}
