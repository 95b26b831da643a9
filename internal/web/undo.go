package web

import (
	"bytes"

	"tideover/internal/appraise"
)

// mostSteps is how many changes can be undone; recalled is how many of them are taken from
// the versions kept of earlier days.
const (
	mostSteps = 200
	recalled  = 20
	mostBytes = 16 << 20 // of the states undone to, together
)

// trimmed drops the oldest steps of a list that is too long or too large. A state is held
// once: what one step ends with is what the next begins with.
func trimmed(list []step) []step {
	size := 0
	for i := len(list) - 1; i >= 0; i-- {
		if size += len(list[i].before); size > mostBytes || len(list)-i > mostSteps {
			return append([]step(nil), list[i+1:]...)
		}
	}
	return list
}

// step is a change that can be taken back.
type step struct {
	before, after []byte
	told          string
}

// recall readies what can be undone from the versions that were kept, the latest last.
func (d *desk) recall() {
	versions, err := d.pages.folder.Versions(d.name)
	if err != nil {
		return // nothing to undo is no reason to show nothing
	}
	after := d.src
	var steps []step
	for _, v := range versions[:min(len(versions), recalled)] {
		src, err := d.pages.folder.Version(d.name, v.ID, fileLimit)
		if err != nil {
			break
		}
		steps = append([]step{{before: src, after: after, told: say("web.told.earlier", "moment", moment(v.Changed))}}, steps...)
		after = src
	}
	d.undo = steps
}

// back takes the latest change back; again makes it once more. On top of what others did
// since, only its own paths are turned back.
func (d *desk) back() ([]problem, error) { return d.turn(&d.undo, &d.redo, false) }

func (d *desk) again() ([]problem, error) { return d.turn(&d.redo, &d.undo, true) }

func (d *desk) turn(from, to *[]step, forward bool) ([]problem, error) {
	if err := d.look(); err != nil || len(*from) == 0 {
		return nil, err
	}
	s := (*from)[len(*from)-1]
	now, want := s.after, s.before
	if forward {
		now, want = want, now
	}
	var problems []problem
	if !bytes.Equal(d.src, now) {
		merged, refused, err := d.onTop(now, want)
		if err != nil || merged == nil {
			return refused, err
		}
		now, want, problems = d.src, merged, refused
	}
	if !bytes.Equal(now, want) {
		if err := d.pages.folder.Save(d.name, now, want); err != nil {
			return nil, err
		}
	}
	*from = (*from)[:len(*from)-1]
	if forward {
		s.before, s.after = now, want
	} else {
		s.before, s.after = want, now
	}
	*to = append(*to, s)
	d.take(want, nil)
	return problems, nil
}

// onTop makes on the file as it is what turns one earlier state into another.
func (d *desk) onTop(from, to []byte) ([]byte, []problem, error) {
	a, _ := appraise.ReadDoc(d.pages.catalogue, d.name, from)
	b, _ := appraise.ReadDoc(d.pages.catalogue, d.name, to)
	if a == nil || b == nil || d.doc == nil {
		return nil, nil, &Error{say("web.unreadable")}
	}
	next, made, refused := apply(d.doc, between(a, b))
	if len(made) == 0 {
		return nil, refused, nil
	}
	return next.Bytes(), refused, nil
}
