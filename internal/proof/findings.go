package proof

import (
	"strings"
	"tideover/internal/catalogue"

	"tideover/internal/finding"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// Reading is what the findings of a proof are read with.
type Reading struct {
	System  quantity.System
	Cures   map[string][]Cure // by promise; nil where none were tried
	Refused map[string]*Cure  // by promise none of whose cures stands the whole job: the cheapest of them
}

// Findings reads one finding off each promise that can arise. Must fix is kept for a safety
// promise that is broken with every valve where a card says and nothing failed.
func Findings(r *Report, read Reading) []finding.Finding {
	var list []finding.Finding
	for i := range r.Results {
		x := &r.Results[i]
		if x.NeverArises() {
			continue
		}
		f := finding.New("promise-"+x.About.ID, "", "")
		f.Verdict, f.Source, f.Standing = x.Finding(), x.About.Source, catalogue.Ours.ID()
		if c := x.Shown(); c != nil {
			f.Figure, f.Limit = c.Judgement.Figure, c.Judgement.Limit
			f.Names = map[string]string{"case": r.Space.String(c.Case)}
		}
		f.Name("told", r.told(x, f.Verdict, read))
		for k := range read.Cures[x.About.ID] {
			f.Remedies = append(f.Remedies, read.Cures[x.About.ID][k].Remedy(x.About))
		}
		list = append(list, f)
	}
	return list
}

// neverArises is the reason of a promise that no case of the assembly can break or keep.
const neverArises = "proof.reason.never-arises"

// Finding is what a promise's verdict means for the people in the home.
func (r *Result) Finding() finding.Verdict {
	switch {
	case r.Verdict == NotJudged:
		return finding.NotJudged
	case r.Verdict == BrokenPromise && r.About.Safety:
		return finding.MustFix
	case r.Verdict == BrokenPromise:
		return finding.LookAt
	case r.About.Safety && (r.Verdict == UnlessPartFails || r.OneMove != nil):
		return finding.LookAt
	}
	return finding.Fine
}

// Shown is the counterexample a person is shown: the smallest one that a card leads to,
// else the one a single wrong movement leads to, else the smallest of all.
func (r *Result) Shown() *Counterexample {
	switch {
	case r.Verdict == KeptAlways || r.Verdict == NotJudged && r.Smallest == nil:
		return nil
	case r.SmallestNamed != nil:
		return r.SmallestNamed
	case r.OneMove != nil:
		return r.OneMove
	}
	return r.Smallest
}

// told puts together what is said of one promise: the case, what it means, the verdict,
// the cheapest cure. What was covered is said once for all of them: TellCovered.
func (r *Report) told(x *Result, v finding.Verdict, read Reading) string {
	id := "promise." + x.About.ID
	if x.Verdict == NotJudged {
		return join(words.Say(id, nil), words.Say("proof.not-judged", words.Args{"reason": words.Say(x.Reason, nil)}))
	}
	parts := []string{}
	if c := x.Shown(); c != nil {
		parts = append(parts, r.Tell(x.About, c, read.System))
		if v != finding.Fine {
			parts = append(parts, words.Say(id+".so", nil))
		}
	} else {
		parts = append(parts, words.Say(id, nil))
	}
	parts = append(parts, r.tellVerdict(x))
	if c := read.Refused[x.About.ID]; c != nil {
		parts = append(parts, c.TellRefused())
	}
	return join(parts...)
}

// tellVerdict says the verdict in a sentence. A proof of the named settings alone says so.
func (r *Report) tellVerdict(x *Result) string {
	if x.Verdict == KeptAlways && r.partial() {
		return words.Say("proof.kept-so-far", nil)
	}
	return words.Say(r.verdictWords(x.Verdict)+".so", nil)
}

// TellVerdict says a verdict in a few words, and that no failure was tried where none was.
func (r *Report) TellVerdict(v Verdict) string { return words.Say(r.verdictWords(v), nil) }

// verdictWords is the id of a verdict's words.
func (r *Report) verdictWords(v Verdict) string {
	id := "proof.verdict." + v.ID()
	if r.Sound() && (v == KeptAlways || v == WhileHandsObey) {
		id += ".sound"
	}
	return id
}

// Sound reports whether the cases had nothing failed: what a failure does was not tried.
func (r *Report) Sound() bool { return len(r.Space.Mishaps) == 0 }

// partial reports whether failures or settings were left out.
func (r *Report) partial() bool { return r.Space.in.Cards || r.Sound() }

// TellCovered says which cases were covered and how many.
func (r *Report) TellCovered() string {
	id := "proof.covered.all"
	switch {
	case r.Space.in.Cards && len(r.Space.Mishaps) == 0:
		id = "proof.covered.named-sound"
	case r.Space.in.Cards:
		id = "proof.covered.named"
	case len(r.Space.Mishaps) == 0:
		id = "proof.covered.sound"
	case r.Pairs > 0:
		id = "proof.covered.pairs"
	}
	told := words.Say(id, words.Args{"cases": Grouped(r.Cases), "pairs": Grouped(r.Pairs)})
	var apart []string
	for i := range r.Results {
		if r.Results[i].Apart {
			apart = append(apart, words.Say("finding.promise-"+r.Results[i].About.ID+".title", nil))
		}
	}
	if len(apart) > 0 {
		told += " " + words.Say("proof.covered.apart", words.Args{"list": strings.Join(apart, "; ")})
	}
	return told
}

// Remedy is the cure as what is offered for its finding.
func (c *Cure) Remedy(about About) finding.Remedy {
	after := Result{About: about, Verdict: c.After}
	m := finding.Remedy{Edits: c.Edits, Said: c.Tell(), Then: words.Say("proof.verdict."+c.After.ID(), nil), Verdict: after.Finding(),
		Worse: c.Harms, Short: c.Short, Needs: c.Needs, Open: c.Open}
	for _, id := range c.Worse {
		f := finding.New("promise-"+id, "", "")
		m.Worse = append(m.Worse, f.Key())
	}
	return m
}

// TellRefused says why a cure that helps is not offered.
func (c *Cure) TellRefused() string {
	return words.Say("proof.cure.refused", words.Args{"cure": c.Tell(), "list": strings.Join(finding.Titles(c.Breaks), ", ")})
}

func join(parts ...string) string { return strings.Join(parts, " ") }

// Grouped writes a count with a comma between thousands: counts are never read back.
func Grouped(n uint64) string {
	if n < 1000 {
		return digits(int(n))
	}
	s := digits(int(n % 1000))
	return Grouped(n/1000) + "," + strings.Repeat("0", 3-len(s)) + s
}
