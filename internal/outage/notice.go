package outage

import (
	"tideover/internal/job"
	"tideover/internal/stream"
)

// Notice is what is known of boil-water notices: the share of the futures in which a spell without
// water brings one, and how long it then lasts, any length from Least to Most as likely. [s]
type Notice struct{ Share, Least, Most float64 }

// unknownNotice is the share of the futures with notices where nobody knows whether there are any: as
// many as without, so that a range of nine futures in ten holds both ends.
const unknownNotice = 0.5

// draw is how long each notice of a future lasts; 0 where there are none.
func (n Notice) draw(seed uint64, home uint32) float64 {
	if n.Share == 0 {
		return 0
	}
	s := stream.Of(stream.Key{Seed: seed, Home: home, Process: stream.Posterior, Item: 7})
	if s.Uniform() >= n.Share {
		return 0
	}
	return n.Least + (n.Most-n.Least)*s.Uniform()
}

// Noticed is how long the notice lasts that each spell without water brings. [s]
func (f *Future) Noticed() float64 { return f.noticed }

// notices takes in what is told of boil-water notices. lasts is how long one does, told or assumed,
// and half what it may be more or less; none comes with a timetable of rationing.
func (m *Model) notices(told job.Answer, lasts, half float64) {
	n := Notice{Share: 1, Least: max(0, lasts-half), Most: lasts + half}
	switch {
	case m.Water.Timetable != nil || told == job.No:
		return
	case told != job.Yes:
		n.Share = unknownNotice
		m.Notes = append(m.Notes, Note{ID: "outage.notice-unknown", Args: map[string]float64{"low": n.Least, "high": n.Most}})
	}
	m.Notice = n
}
