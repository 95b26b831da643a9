package assembly

// Positions of hand-turned parts.
const (
	open  = "open"
	shut  = "shut"
	main  = "main"
	store = "store"
)

// moves is the position of parts by what they are for.
type moves map[string]string

// turned is a setting: how it differs from everything open and the by-pass shut.
type turned struct {
	name  string
	moves moves
}

// settings names the settings; the first is the normal one. Drains are shut in all.
func (b *build) settings(list ...turned) {
	for _, t := range list {
		s := Setting{Name: t.name, Positions: map[string]string{}}
		for i := range b.a.Parts {
			p := &b.a.Parts[i]
			at, moved := t.moves[p.Name]
			switch {
			case p.Kind != HandValve && p.Kind != ThreeWay && p.Kind != Drain:
			case moved:
				s.Positions[p.Tag] = at
			case p.Kind == Drain || p.Name == "part.by-pass-valve":
				s.Positions[p.Tag] = shut
			default:
				s.Positions[p.Tag] = open
			}
		}
		b.a.Settings = append(b.a.Settings, s)
	}
}

// Setting returns the setting with the given name, or nil.
func (a *Assembly) Setting(name string) *Setting {
	for i := range a.Settings {
		if a.Settings[i].Name == name {
			return &a.Settings[i]
		}
	}
	return nil
}

// Positions returns the positions a hand-turned part can stand in, as a hand meets them;
// nil for any other part.
func (p *Part) Positions() []string {
	switch p.Kind {
	case HandValve, Drain:
		return []string{open, shut}
	case ThreeWay:
		return []string{main, "between", store}
	}
	return nil
}
