package assembly

import "tideover/internal/catalogue"

// warm gives each run behind a heater the rating its pipe has with hot water in it. A pipe
// row holds both; the run of an assembly has the one that counts where it lies, so that
// promise, hammer limit and pressure test cannot take the other.
func (b *build) warm() {
	hot := b.a.hots
	for i := range b.a.Parts {
		row, is := b.a.Parts[i].Row.(catalogue.Pipe)
		if is && hot[i] && row.Hot > 0 {
			row.Rating = row.Hot
			b.a.Parts[i].Row = row
		}
	}
}

// hot reports for each part whether what it carries has passed a heater: it is reached from
// a heater's outlet without going back through it.
func (a *Assembly) hot() []bool {
	met := map[End]End{}
	for _, j := range a.Joins {
		met[j.A], met[j.B] = j.B, j.A
	}
	hot := make([]bool, len(a.Parts))
	for h := range a.Parts {
		if a.Parts[h].Kind != Heater {
			continue
		}
		next := []End{{h, heaterOut}}
		for len(next) > 0 {
			from := next[len(next)-1]
			next = next[:len(next)-1]
			to, joined := met[from]
			if !joined || hot[to.Part] || a.Parts[to.Part].Kind == Heater {
				continue
			}
			hot[to.Part] = true
			for port := range a.Parts[to.Part].Ports {
				if port != to.Port {
					next = append(next, End{to.Part, port})
				}
			}
		}
	}
	return hot
}

// heaterOut is the heater's port that hot water leaves by.
const heaterOut = 1
