package service

import (
	"slices"

	"tideover/internal/finding"
)

// Only lists cases of an analysis, by mode: tags of outlets that are opened alone, and atOnce for
// those opened together. Nil lists all.
type Only map[string][]string

// atOnce stands for the outlets that draw at once; no tag is like it.
const atOnce = ""

// Add adds the case that a finding of a result is read off. It reports whether that case alone
// bears the finding: what an outlet gets while the main or the store serves.
func (o Only) Add(r *Result, f *finding.Finding) bool {
	m := r.Mode(f.Mode)
	if m == nil || !m.judged() {
		return false
	}
	switch f.ID {
	case "outlet-flow", "outlet-pressure":
		o[f.Mode] = append(o[f.Mode], f.Where)
	case "outlet-together":
		o[f.Mode] = append(o[f.Mode], atOnce)
	default:
		return false
	}
	return true
}

func (o Only) alone(mode, outlet string) bool {
	return o == nil || slices.Contains(o[mode], outlet)
}

func (o Only) together(mode string) bool { return o.alone(mode, atOnce) }
