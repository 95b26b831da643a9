package proposal

import (
	"cmp"
	"context"
	"errors"
	"slices"

	"tideover/internal/appraise"
	"tideover/internal/assembly"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/mend"
	"tideover/internal/quantity"
	"tideover/internal/takeoff"
	"tideover/internal/words"
	"tideover/internal/workers"
)

// Name is what an alternative aims at. Its words are "proposal.<Name>".
type Name string

// The alternatives, from the least.
const (
	Least    Name = "least"
	Balanced Name = "balanced"
	Assured  Name = "assured"
)

// Names returns the alternatives from the least.
func Names() []Name { return []Name{Least, Balanced, Assured} }

// Alternative is one complete design.
type Alternative struct {
	Name      Name
	Doc       *job.Doc // the customer's file with the edits in it
	Edits     []job.Edit
	Appraisal *appraise.Appraisal
	For       quantity.Time // interruption the store is sized for
	Buying    *takeoff.List
	Pieces    int  // to buy, pipe counted by its stock lengths
	Over      bool // costs more than may be spent, by the priced lines alone
	Mass      quantity.Mass
	Area      quantity.Area     // that the stores stand on
	Must      []finding.Finding // what could not be put right
}

// Served is how many outlets get half of what they need or more, each alone, in a mode
// ("on-main", "on-store", "power-out"); ok is false where the design has no such mode.
func (a *Alternative) Served(mode string) (n, of int, ok bool) {
	if a.Appraisal.Service == nil {
		return 0, 0, false
	}
	for i := range a.Appraisal.Service.Modes {
		m := &a.Appraisal.Service.Modes[i]
		if m.ID != mode {
			continue
		}
		for _, d := range m.Alone {
			of++
			if d.Certified && float64(d.Flow) >= half*float64(d.Need) {
				n++
			}
		}
		return n, of, of > 0
	}
	return 0, 0, false
}

// half is the share of its need from which on an outlet counts as served.
const half = 0.5

// Count is how many findings have a verdict.
func (a *Alternative) Count(v finding.Verdict) int {
	n := 0
	for i := range a.Appraisal.Findings {
		if a.Appraisal.Findings[i].Verdict == v {
			n++
		}
	}
	return n
}

// ErrNoFile is returned for a job that is not a file: there is nothing to edit.
var ErrNoFile = errors.New("proposal: a job file is needed")

// Propose makes the alternatives. Two that come out the same are one. The error is a
// *Conflict where the limits fight, a fault of the input, or the context's.
func Propose(ctx context.Context, in appraise.Input) ([]Alternative, error) {
	if in.Doc == nil {
		return nil, ErrNoFile
	}
	s, err := newSearch(in)
	if err != nil {
		return nil, err
	}
	tries := s.tries()
	made := make([]*Alternative, len(tries))
	if err := workers.Each(ctx, len(tries), nil, func(i int) { made[i] = s.make(ctx, tries[i]) }); err != nil {
		return nil, err
	}
	var list []Alternative
	for _, name := range Names() {
		best := s.pick(name, made)
		if best != nil && !slices.ContainsFunc(list, func(a Alternative) bool { return same(&a, best) }) {
			list = append(list, *best)
		}
	}
	if len(list) == 0 {
		return nil, s.none()
	}
	return list, nil
}

// same reports whether two alternatives are one design.
func same(a, b *Alternative) bool { return string(a.Doc.Bytes()) == string(b.Doc.Bytes()) }

// make makes one try; nil where it cannot be laid out.
func (s *search) make(ctx context.Context, t try) *Alternative {
	doc, _, err := s.in.Doc.Apply(t.edits...)
	if err != nil {
		return nil
	}
	m, err := mend.Mend(ctx, s.in.Catalogue, doc, s.ladder)
	if err != nil || m.Appraisal.Assembly.Joined && !s.joins {
		return nil
	}
	a := &Alternative{Name: t.name, Doc: m.Doc, Edits: append(slices.Clone(t.edits), m.Edits...), Appraisal: m.Appraisal, For: t.lasts}
	for _, f := range m.Must {
		a.Must = append(a.Must, *f)
	}
	a.count(s.in)
	return a
}

// Present is a job as it stands, for setting it beside alternatives or other jobs.
func Present(in appraise.Input, appraisal *appraise.Appraisal) Alternative {
	a := Alternative{Doc: in.Doc, Appraisal: appraisal}
	for i := range appraisal.Findings {
		if appraisal.Findings[i].Verdict == finding.MustFix {
			a.Must = append(a.Must, appraisal.Findings[i])
		}
	}
	a.count(in)
	return a
}

// count fills in what is bought, what it weighs and where it stands.
func (a *Alternative) count(in appraise.Input) {
	a.Buying = takeoff.Make(a.Appraisal.Assembly, in.Catalogue, in.Prices, in.Currency)
	for i := range a.Buying.Lines {
		if l := &a.Buying.Lines[i]; !l.Kept {
			a.Pieces += l.Count
		}
	}
	budget := float64(a.Doc.Job.Access.Budget.V)
	a.Over = budget > 0 && float64(a.Buying.Total) > budget
	a.weigh()
}

// pick returns the best try of a name, or nil.
func (s *search) pick(name Name, made []*Alternative) *Alternative {
	var best *Alternative
	for _, a := range made {
		if a == nil || a.Name != name {
			continue
		}
		if best == nil || s.order(name, a, best) < 0 {
			best = a
		}
	}
	return best
}

// order sorts two tries of a name, the better first. Nothing to fix and the budget kept
// come first for all; then the least asks for the lower price, the balanced for the fewer
// things to look at, the most assured for the most taps with the power out.
func (s *search) order(name Name, a, b *Alternative) int {
	first := cmp.Or(cmp.Compare(len(a.Must), len(b.Must)), cmp.Compare(bit(a.Over), bit(b.Over)))
	looks := cmp.Compare(a.weightOfLooks(), b.weightOfLooks())
	cost := s.cost(a, b)
	switch name {
	case Least:
		return cmp.Or(first, cost, looks)
	case Balanced:
		return cmp.Or(first, looks, cost)
	}
	na, _, _ := a.Served("power-out")
	nb, _, _ := b.Served("power-out")
	return cmp.Or(first, cmp.Compare(nb, na), looks, cost)
}

func bit(b bool) int {
	if b {
		return 1
	}
	return 0
}

// cost compares what two tries cost: by price where the same lines have one, else by how
// many pieces are bought.
func (s *search) cost(a, b *Alternative) int {
	pieces := cmp.Compare(a.Pieces, b.Pieces)
	if len(s.in.Prices) == 0 || a.Buying.Unpriced != b.Buying.Unpriced {
		return pieces
	}
	return cmp.Or(cmp.Compare(a.Buying.Total, b.Buying.Total), pieces)
}

// weightOfLooks adds up what is to look at, what hurts more counting more.
func (a *Alternative) weightOfLooks() int {
	sum := 0
	for i := range a.Appraisal.Findings {
		if f := &a.Appraisal.Findings[i]; f.Verdict == finding.LookAt {
			sum += 10 - min(f.Rank, 9)
		}
	}
	return sum
}

// Conflict is a set of limits that no design keeps together.
type Conflict struct {
	Fight []string // job paths, the one to change first in front
	ID    string   // of the sentence that says so
	Args  words.Args
}

// Error says which limits fight.
func (c *Conflict) Error() string { return words.Say(c.ID, c.Args) }

// none is the conflict when nothing at all could be made.
func (s *search) none() error {
	return &Conflict{Fight: []string{"supply.by-pass"}, ID: "proposal.conflict.none", Args: words.Args{"arrangements": joined(assembly.Arrangements())}}
}
