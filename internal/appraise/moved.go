package appraise

import (
	"strconv"
	"strings"

	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// TellShares says what the counts of the findings mean and what was not moved for them; full
// names every spread that was assumed as well. It is "" where nothing was run again.
func (a *Appraisal) TellShares(full bool) string {
	if len(a.Moved) == 0 {
		return ""
	}
	lines := []string{words.Say("share.means", nil)}
	var taken []string
	assumed := false
	for i := range a.Moved {
		switch l := &a.Moved[i]; {
		case takenAt(l.Path) != nil:
			assumed = true
		case l.Taken:
			taken = append(taken, a.tellLeaf(l))
		}
	}
	if assumed {
		taken = append(taken, words.Say("assume.few.drawn", nil))
	}
	if full && len(taken) > 0 {
		lines = append(lines, words.Say("share.moved", words.Args{"list": strings.Join(taken, "; ")}))
	}
	if len(a.Unmoved) > 0 {
		var list []string
		for _, path := range a.Unmoved {
			list = append(list, labelOf(path))
		}
		lines = append(lines, words.Say("share.unmoved", words.Args{"list": strings.Join(list, "; ")}))
	}
	return strings.Join(lines, " ")
}

// tellLeaf names what a leaf moves, and how far.
func (a *Appraisal) tellLeaf(l *job.Leaf) string {
	m := l.Moves[0]
	q, known := a.Job.Quantity(m.Path)
	percent := quantity.Format(quantity.Quantity{Dim: quantity.RatioDim, SI: m.Up}, a.Job.System())
	switch {
	case l.Path == job.HabitPath:
		return words.Say("share.moved.habit", words.Args{"share": percent})
	case !known:
		return words.Say("share.moved.factor", words.Args{"what": labelOf(l.Path), "share": percent})
	case strings.Contains(l.Path, "*"):
		return words.Say("share.moved.group", words.Args{"what": labelOf(l.Path), "n": strconv.Itoa(len(l.Moves))})
	}
	end := func(by float64) string {
		q.SI, q.Half = q.SI+by, (m.Down+m.Up)/10 // one digit finer than the range
		text := quantity.Format(q, a.Job.System())
		q.SI -= by
		return text
	}
	return words.Say("share.moved.one", words.Args{"what": labelOf(l.Path), "low": end(-m.Down), "high": end(m.Up)})
}

// labelOf names an input in a few words, as they stand inside a sentence.
func labelOf(path string) string {
	f, ok := job.FieldFor(path)
	if !ok {
		return words.Say("moves."+path, nil)
	}
	return f.Label()
}
