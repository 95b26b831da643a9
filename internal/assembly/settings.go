package assembly

import "tideover/internal/job"

// Positions of hand-turned parts.
const (
	open    = "open"
	shut    = "shut"
	main    = "main"
	between = "between"
	store   = "store"
	fitted  = "in" // of a spool
	out     = "out"
)

// moves is the position of parts by what they are for.
type moves map[Purpose]string

// turned is a setting: how it differs from everything open and the by-pass shut.
type turned struct {
	name  string
	moves moves
}

// settings names the settings; the first is the normal one. Drains are shut in all but the
// drain-down before a frost.
func (b *build) settings(list ...turned) {
	b.tagHeld()
	b.additions()
	b.guards()
	if b.like != nil && b.a.joinedAs(b.like) {
		b.a.Settings = b.like.Settings
		return
	}
	var hand []*Part // the parts somebody turns
	for i := range b.a.Parts {
		if p := &b.a.Parts[i]; p.Positions() != nil {
			hand = append(hand, p)
		}
	}
	for _, t := range list {
		s := Setting{Name: t.name, Positions: make(map[string]string, len(hand))}
		for _, p := range hand {
			at, moved := t.moves[p.Purpose]
			switch {
			case moved:
				s.Positions[p.Tag] = at
			case p.Kind == Spool:
				s.Positions[p.Tag] = out
			case p.Purpose == AsAddedValve: // shut for a repair alone
				s.Positions[p.Tag] = open
			case p.Kind == Drain || p.Role == BypassBy:
				s.Positions[p.Tag] = shut
			case p.Kind == ThreeWay:
				s.Positions[p.Tag] = main
			default:
				s.Positions[p.Tag] = open
			}
		}
		b.a.Settings = append(b.a.Settings, s)
	}
	if empty := b.a.emptying(); b.frost() && b.a.opened(&empty) {
		b.a.Settings = append(b.a.Settings, empty)
	}
	b.oneOut()
}

// frost reports whether frost reaches the pipework, or nobody knows that it does not.
func (b *build) frost() bool { return b.job.Place.Frost != job.No }

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
		return []string{main, between, store}
	case Spool:
		return []string{out, fitted}
	}
	return nil
}
