package proof

import (
	"context"
	"slices"
	"strconv"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/job"
	"tideover/internal/words"
)

// Cure is one change that was tried and helps: the promise was proved again with it.
type Cure struct {
	Kind  string     // message "cure.<Kind>", with {where} and {value}
	Edits []job.Edit // of the job
	Where string     // tag of the part it goes beside or replaces
	Value string     // what an edit sets, in words: a catalogue row, a figure, the tag of what is put in

	Parts  int     // pieces to buy that the home had not
	Rank   int     // what those pieces cost, dearest kind counted most; 0 for a setting
	Before Verdict // of the promise
	After  Verdict
	Worse  []string // ids of promises whose verdict it worsens
	Harms  []string // keys of findings of the other analyses that it worsens; appraise fills them in
	Short  []string // keys of findings about the same danger that must be fixed all the same; likewise
	Breaks []string // keys of findings it puts in need of fixing: it is refused; likewise
	Needs  []string // what it takes beside parts: ids of messages "needs.<id>"; likewise
	Open   []string // what it was not held to: ids of messages "open.<id>"; likewise
}

// Rebuild lays out a job that has been edited; appraise gives it.
type Rebuild func(edits []job.Edit) (*job.Job, *assembly.Assembly, error)

// Bench is what trying cures needs beside the proof's own input.
type Bench struct {
	Rows    *catalogue.Catalogue
	Figures circuit.Inputs
	Rebuild Rebuild
	Enough  int // stop after so many that help; 0: try all

	// Holds holds a cure that helps to the whole job and fills in what that says of it; nil: the
	// promises are all. Its error ends the search.
	Holds func(c *Cure) error
}

// Cures tries changes for a promise that is not kept, the cheapest first, proves each
// again and returns those that help and stand the whole job, fewest pieces first; where none
// does, the first that was refused.
func Cures(ctx context.Context, in Input, base *Report, id string, b Bench) (list []Cure, refused *Cure, err error) {
	result := base.Of(id)
	if result == nil || result.Verdict == KeptAlways || result.Verdict == NotJudged {
		return nil, nil, nil
	}
	tries := candidates(&in, result, b)
	for i := range tries {
		if b.Enough > 0 && len(list) >= b.Enough {
			break
		}
		helps, err := try(ctx, in, base, result, &tries[i], b)
		if err != nil {
			return list, nil, err
		}
		if !helps {
			continue
		}
		tries[i].reword(b.Rows)
		if b.Holds != nil {
			if err := b.Holds(&tries[i]); err != nil {
				return list, nil, err
			}
		}
		switch {
		case len(tries[i].Breaks) == 0:
			list = append(list, tries[i])
		case refused == nil:
			refused = &tries[i]
		}
	}
	if len(list) > 0 {
		refused = nil
	}
	slices.SortStableFunc(list, func(x, y Cure) int {
		if x.Parts != y.Parts {
			return x.Parts - y.Parts
		}
		return x.Rank - y.Rank
	})
	return list, refused, nil
}

// reword says what the edit sets as a merchant or a fitter calls it.
func (c *Cure) reword(rows *catalogue.Catalogue) {
	if len(c.Edits) != 1 || c.Edits[0].Op != job.Set {
		return
	}
	e := c.Edits[0]
	f, _ := job.FieldFor(e.Path)
	said, ok := rows.Words(f.Table, e.Text)
	switch id := "arrangement." + e.Text; {
	case e.Path == "choices.arrangement" && words.Has(id):
		c.Value = words.Say(id, nil)
	case f.Table != "" && ok:
		c.Value = said
	}
}

// Of returns the result of the promise with the id, or nil.
func (r *Report) Of(id string) *Result {
	for i := range r.Results {
		if r.Results[i].About.ID == id {
			return &r.Results[i]
		}
	}
	return nil
}

// try makes one change and proves the promise again; an error is the context's. A change
// that cannot be made helps nobody.
func try(ctx context.Context, in Input, base *Report, result *Result, c *Cure, b Bench) (bool, error) {
	next, ok := c.make(in, b)
	if !ok {
		return false, nil
	}
	next.Promises = pick(in.promises(), func(p Promise) bool { return p.About().ID == result.About.ID })
	now, err := proveOne(ctx, next, result)
	if now == nil {
		return false, err
	}
	c.Before, c.After = result.Verdict, now.Verdict
	c.Parts, c.Rank = cost(in.Assembly, next.Assembly)
	next.Promises = pick(in.promises(), func(p Promise) bool { return p.About().Safety && p.About().ID != result.About.ID })
	if len(next.Promises) == 0 {
		return true, nil
	}
	next.Cards = true // what a change worsens shows where a card leads
	rest, err := Prove(ctx, next, nil)
	if err != nil {
		return false, ctx.Err()
	}
	for i := range rest.Results {
		now := &rest.Results[i]
		if old := base.Of(now.About.ID); old != nil && now.Verdict < old.Verdict {
			c.Worse = append(c.Worse, now.About.ID)
		}
	}
	return true, nil
}

// proveOne proves the one promise of in; nil when it is no better kept than before. The
// settings a card names come first: what is not better there is not better anywhere.
func proveOne(ctx context.Context, in Input, old *Result) (*Result, error) {
	var now *Result
	for _, cards := range [2]bool{true, in.Cards} {
		in.Cards = cards
		after, err := Prove(ctx, in, nil)
		if err != nil {
			return nil, ctx.Err()
		}
		if now = &after.Results[0]; !better(old, now) {
			return nil, nil
		}
	}
	return now, nil
}

// promises are those of the input, or all.
func (in *Input) promises() []Promise {
	if in.Promises != nil {
		return in.Promises
	}
	return Promises()
}

func pick(list []Promise, keep func(Promise) bool) []Promise {
	var out []Promise
	for _, p := range list {
		if keep(p) {
			out = append(out, p)
		}
	}
	return out
}

// better reports whether a promise is better kept: by its verdict, or with the same
// verdict by fewer failures or fewer cases that break it.
func better(old, now *Result) bool {
	if now.Verdict != old.Verdict {
		return now.Verdict > old.Verdict
	}
	if len(now.Breakers) != len(old.Breakers) {
		return len(now.Breakers) < len(old.Breakers)
	}
	return now.Verdict == BrokenPromise && now.Named[0].Broken < old.Named[0].Broken && now.Named[0].Broken == 0
}

// make lays out the home with the change.
func (c *Cure) make(in Input, b Bench) (Input, bool) {
	next := in
	j, a, err := b.Rebuild(c.Edits)
	if err != nil {
		return next, false
	}
	next.Job, next.Assembly = j, a
	ci, err := circuit.NewWithMishaps(next.Assembly, b.Figures)
	if err != nil {
		return next, false
	}
	next.Circuit = ci
	return next, true
}

// priced orders what pieces cost where no price list says: a rough rank by kind.
var priced = map[assembly.Kind]int{
	assembly.Tee: 1, assembly.Drain: 1, assembly.HandValve: 2, assembly.Isolator: 2, assembly.Strainer: 2, assembly.Regulator: 3, assembly.FloatValve: 2, assembly.Switch: 3,
	assembly.NonReturn: 3, assembly.Spool: 3, assembly.ThreeWay: 4, assembly.Vessel: 5, assembly.Pump: 20, assembly.Store: 30,
}

// cost counts the pieces of the new assembly that the old had not, and ranks them.
func cost(old, now *assembly.Assembly) (parts, rank int) {
	had := map[string]int{}
	for i := range old.Parts {
		had[pieceOf(&old.Parts[i])]++
	}
	for i := range now.Parts {
		p := &now.Parts[i]
		if had[pieceOf(p)] > 0 {
			had[pieceOf(p)]--
			continue
		}
		if p.Kept || p.Kind == assembly.Run {
			continue
		}
		parts++
		rank += priced[p.Kind] + deviceRank(p)
	}
	return parts, rank
}

func pieceOf(p *assembly.Part) string {
	key := string(p.Kind) + " " + p.Size.String()
	if p.Row != nil {
		key += " " + p.Row.Ref().Key
	}
	return key
}

// deviceRank is how much dearer a double check or a reduced-pressure assembly is.
func deviceRank(p *assembly.Part) int {
	row, ok := p.Row.(catalogue.NonReturn)
	switch {
	case !ok:
		return 0
	case row.Kind == "double":
		return 4
	case row.Kind == "reduced-pressure":
		return 20
	}
	return 0
}

// digits writes a whole number.
func digits(n int) string { return strconv.Itoa(n) }
