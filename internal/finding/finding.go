// Package finding holds the one type every judgement has: a figure, its limit, what it
// means and what to do, with the calculation that can be done again by hand.
//
// Stage: the vocabulary of results. Analyses make findings; the CLI, the page and the
// pack show them. A finding carries ids and arguments, never sentences.
package finding

import (
	"sort"

	"tideover/internal/calc"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// Verdict is one of four; the zero value is NotJudged, which never counts as fine.
type Verdict uint8

// The verdicts.
const (
	NotJudged Verdict = iota
	Fine
	LookAt
	MustFix
)

// ID returns the message id of the verdict's word, and its stable name in JSON.
func (v Verdict) ID() string {
	return [...]string{"not-judged", "fine", "look-at", "must-fix"}[v]
}

// Sense says on which side of the limit a figure ought to be.
type Sense uint8

// The senses.
const (
	NoLimit Sense = iota
	AtLeast       // fine when figure ≥ limit
	AtMost        // fine when figure ≤ limit
)

// Finding is one judged figure.
//
// Its sentences are the messages "finding.<ID>.<verdict>" (consequence first, then the
// figure, then what to do) with the places {where}, {figure}, {limit}, {margin} and
// those of Args and Names; "finding.<ID>.title" is a few words.
type Finding struct {
	ID      string // "outlet-flow"; stable, documented
	Area    string // section of the job it belongs to: "survey", "store", "pump-and-pipe", "valves", "power"
	Where   string // tag of a part or outlet, or ""
	Mode    string // id of the normal case it was judged in ("on-main", "on-store"…), or ""
	Verdict Verdict
	Case    string // which of several sentences a verdict has: "finding.<ID>.<verdict>.<Case>"; "" the plain one
	Rank    int    // consequence for people: 0 worst; orders findings of one verdict

	Figure quantity.Quantity // with Half filled in by the spread run
	Limit  quantity.Quantity // Dim NoDim when there is none
	Sense  Sense

	// In Held of Tried runs with inputs moved inside their spread the verdict was the same:
	// a share of the range tried, not a probability. Tried is 0 where nothing was run again.
	Held, Tried int
	Close       bool // fine as worked out, and too close to call: see TooClose
	Best        bool // fine in the best case, and not judged: see RestsOn

	Args  map[string]quantity.Quantity // further figures the sentence names
	Names map[string]string            // tags, sizes and other names the sentence puts in as they are

	Source   string // standard, clause or paper behind the limit
	Standing string // what that is to this place: "rule", "recommendation", "borrowed", "default", "told"; "" where it is no rule at all
	Calc     []calc.Step
	Moves    []string // job paths that move the figure, the strongest first
	// Cures are edits worth trying, in order; appraise tries them and keeps what helps.
	Cures    [][]job.Edit
	Remedies []Remedy
	Untried  int // of Cures, because one that holds was enough

	Bare bool // only place, figure and verdict are wanted: Args and Names are not kept
}

// Key identifies a finding across runs of the same job.
func (f *Finding) Key() string { return f.ID + "\x00" + f.Where + "\x00" + f.Mode }

// Order sorts findings worst first: must fix, look at, not judged, fine; then by rank,
// id, place and mode, so that the order never depends on anything else.
func Order(list []Finding) {
	weight := [...]int{NotJudged: 2, Fine: 3, LookAt: 1, MustFix: 0}
	sort.SliceStable(list, func(i, j int) bool {
		a, b := &list[i], &list[j]
		if w, v := weight[a.Verdict], weight[b.Verdict]; w != v {
			return w < v
		}
		if a.Rank != b.Rank {
			return a.Rank < b.Rank
		}
		return a.Key() < b.Key()
	})
}

// Foremost is how many findings of an ordered list matter most: those that must be fixed, and of
// what else is not fine as many as bring them up to most.
func Foremost(list []Finding, most int) int {
	n := 0
	for n < len(list) && (list[n].Verdict == MustFix || n < most && list[n].Verdict != Fine) {
		n++
	}
	return n
}

// Overall is the verdict of a whole job: the worst that was found, where something not
// judged keeps a job from being fine.
func Overall(list []Finding) Verdict {
	worst := Fine
	for i := range list {
		switch v := list[i].Verdict; {
		case v == MustFix:
			return MustFix
		case v == LookAt:
			worst = LookAt
		case v == NotJudged && worst == Fine:
			worst = NotJudged
		}
	}
	return worst
}
