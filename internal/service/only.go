package service

import (
	"slices"

	"tideover/internal/finding"
)

// Only lists what of an analysis is asked for: cases by mode, as tags of outlets that are opened alone
// and atOnce for those opened together, and whole parts. Nil asks for all.
type Only struct {
	cases map[string][]string
	parts part
}

// atOnce stands for the outlets that draw at once; no tag is like it.
const atOnce = ""

// part is a set of parts of an analysis besides the cases of its modes.
type part uint8

const (
	wearing   part = 1 << iota // what each tap gets once the pump is worn
	swinging                   // what the controller makes of a steady draw
	resting                    // what stands with nothing drawn
	refilling                  // what comes into the store
)

// none asks for nothing but cases.
const none part = 0

// bears says which parts a finding is read off, besides cases; of those that are not here nobody
// has looked, and they ask for all.
var bears = map[string]part{
	"outlet-flow": none, "outlet-pressure": none, "outlet-together": none, "outlet-peak": none,
	"npsh": none, "pump-duty": none, "velocity": none, "pump-worn": wearing, "surge-pump": resting,
	"swing": swinging, "starts": swinging, "pump-start": swinging, "pump-stop": swinging,
	"rest-pressure": resting, "rest-outlet": resting,
}

// Add adds what a finding of a result is read off. It reports whether that alone bears the finding.
func (o *Only) Add(r *Result, f *finding.Finding) bool {
	parts, known := bears[f.ID]
	m := r.Mode(f.Mode)
	if !known || f.Mode != "" && !o.addCases(m, f) {
		return false
	}
	if f.ID == "velocity" || f.ID == "surge-pump" { // the worst of all modes, the first in which the pump runs
		if r.Lift != nil {
			return false
		}
		for i := range r.Modes {
			o.add(r.Modes[i].ID, atOnce)
		}
	}
	o.parts |= parts
	return true
}

// addCases adds the cases of one mode that a finding is read off; false where that takes more.
func (o *Only) addCases(m *Mode, f *finding.Finding) bool {
	switch {
	case f.ID == "outlet-peak":
		o.add("on-main-peak", f.Where)
		o.add("on-store", f.Where) // which may serve it better
		return true
	case m == nil || !m.judged() || m.ID == "lifting":
		return false
	}
	switch f.ID {
	case "outlet-flow", "outlet-pressure":
		o.add(m.ID, f.Where)
	case "pump-worn":
		for i := range m.Alone {
			o.add(m.ID, m.Alone[i].Outlet)
		}
	default: // read off what is drawn at once
		o.add(m.ID, atOnce)
	}
	return true
}

// AddInflow adds what comes into the store, which its own findings are read off.
func (o *Only) AddInflow() { o.parts |= refilling }

func (o *Only) add(mode, tag string) {
	if o.cases == nil {
		o.cases = map[string][]string{}
	}
	if !slices.Contains(o.cases[mode], tag) {
		o.cases[mode] = append(o.cases[mode], tag)
	}
}

func (o *Only) alone(mode, outlet string) bool {
	return o == nil || slices.Contains(o.cases[mode], outlet)
}

func (o *Only) together(mode string) bool { return o.alone(mode, atOnce) }

// asks reports whether any of some parts is asked for.
func (o *Only) asks(parts part) bool { return o == nil || o.parts&parts != 0 }
