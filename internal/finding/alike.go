package finding

import (
	"slices"
	"strings"

	"tideover/internal/quantity"
	"tideover/internal/words"
)

// Group is a finding and those that are told in its line: of its kind, not judged either, and
// for want of the same thing. Their figures would be taken for verdicts.
type Group struct {
	*Finding
	Others []*Finding
}

// Alike puts findings that are not judged for one cause together, in the place of the first of
// them; every other finding is a group of its own. The command line, the page and the papers
// tell findings by it.
func Alike(list []*Finding) []Group {
	var groups []Group
	at := map[[2]string]int{}
	for _, f := range list {
		key := [2]string{f.ID, f.Names["field"]}
		k, is := at[key]
		switch {
		case f.Verdict != NotJudged:
			groups = append(groups, Group{Finding: f})
		case is:
			groups[k].Others = append(groups[k].Others, f)
		default:
			at[key] = len(groups)
			groups = append(groups, Group{Finding: f})
		}
	}
	return groups
}

// Text is the title of a group, which names every place in it, and the sentence of its first.
func (g *Group) Text(sys quantity.System) (title, sentence string) {
	title, sentence = Text(g.Finding, sys)
	var others []string
	for _, f := range g.Others {
		if f.Where != "" && f.Where != g.Where && !slices.Contains(others, f.Where) {
			others = append(others, f.Where)
		}
	}
	if len(others) > 0 {
		title = words.Say("finding.alike", words.Args{"title": title, "others": strings.Join(others, ", ")})
	}
	return title, sentence
}

// Each are the findings of a list, as they are grouped.
func Each(list []Finding) []*Finding {
	all := make([]*Finding, len(list))
	for i := range list {
		all[i] = &list[i]
	}
	return all
}
