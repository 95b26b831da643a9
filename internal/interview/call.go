package interview

import (
	"context"
	"errors"
	"maps"
)

// Outlook is what a first telephone call comes to: it can be done, it hangs on an answer that
// nobody has yet, or it cannot be done.
type Outlook struct {
	Draft *Draft    // a job that comes out; nil where none does
	Open  *Open     // what it hangs on; nil where it is settled
	No    *Conflict // why not; nil where a job comes out
}

// Open is a question nobody could answer on which it hangs whether the job can be done.
type Open struct {
	Question    string
	Works, Fail []string // its options: with which a job comes out, and with which none does
}

// Outlook tries the answers of a call. Where they fight only because the cautious side of an
// unknown answer was taken, every answer to that question is tried: an unseen heater is no
// reason to say no on the telephone, nor to say yes. The error is a *Fault or the context's.
func (v *Interview) Outlook(ctx context.Context, a Answers) (*Outlook, error) {
	d, err := v.Build(ctx, a)
	var c *Conflict
	if !errors.As(err, &c) {
		return &Outlook{Draft: d}, err
	}
	for _, id := range c.Fight {
		q, known := v.Find(id)
		if !known || a[id] != Unknown {
			continue
		}
		o, err := v.either(ctx, a, q)
		if err != nil || o.Draft != nil {
			return o, err
		}
	}
	return &Outlook{No: c}, nil
}

// either tries every option of a question in place of what nobody knows.
func (v *Interview) either(ctx context.Context, a Answers, q Question) (*Outlook, error) {
	o := &Outlook{Open: &Open{Question: q.ID}}
	for _, option := range q.Options {
		with := maps.Clone(a)
		with[q.ID] = option
		d, err := v.Build(ctx, with)
		var c *Conflict
		switch {
		case err == nil:
			o.Open.Works = append(o.Open.Works, option)
			if o.Draft == nil {
				o.Draft = d
			}
		case errors.As(err, &c):
			o.Open.Fail = append(o.Open.Fail, option)
		default:
			return nil, err
		}
	}
	return o, nil
}
