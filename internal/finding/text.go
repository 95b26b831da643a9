package finding

import (
	"strconv"
	"strings"

	"tideover/internal/quantity"
	"tideover/internal/words"
)

// Text returns the finding's title and sentence in the reader's units. Every figure in
// them is quantity.Format's, so that the command line, the JSON, the papers and the
// drawings print the very same string.
//
// A place is filled, in this order, from: where, figure, limit, margin; Args; Names,
// where a name that begins with "@" is the id of another message; mode, the words of
// the finding's mode.
func Text(f *Finding, sys quantity.System) (title, sentence string) {
	args := f.places(sys)
	title = words.Say("finding."+f.ID+".title", args)
	close := f.Close && f.Verdict == LookAt
	best := f.Best && f.Verdict == NotJudged
	verdict := f.Verdict
	if close || best {
		verdict = Fine
	}
	id := "finding." + f.ID + "." + verdict.ID()
	if f.Case != "" {
		id += "." + f.Case
	}
	switch sentence = words.Say(id, args); {
	case close:
		sentence = words.Say("finding.too-close", words.Args{"share": f.share(), "sentence": sentence})
	case best:
		sentence = words.Say("finding.best-case", words.Args{"field": f.Names["field"], "sentence": sentence})
	}
	return title, sentence
}

// Share says in how many of the runs with inputs moved the verdict was the same; "" where
// none was made, where nothing that was moved moves the figure, or where nothing is judged.
func Share(f *Finding) string {
	if f.Tried == 0 || len(f.Moves) == 0 && !f.Close || f.Verdict == NotJudged {
		return ""
	}
	return f.share()
}

// share is the count in words.
func (f *Finding) share() string {
	args := words.Args{"held": strconv.Itoa(f.Held), "tried": strconv.Itoa(f.Tried)}
	if f.Held == f.Tried {
		return words.Say("share.all", args)
	}
	return words.Say("share.some", args)
}

// From is where the limit comes from and what that is to this place, in words; "" where
// nothing is named.
func From(f *Finding) string {
	if f.Source == "" || f.Standing == "" {
		return f.Source
	}
	return words.Say("finding.from", words.Args{"source": f.Source, "standing": words.Say("standing."+f.Standing, nil)})
}

func (f *Finding) places(sys quantity.System) words.Args {
	figure, limit := quantity.FormatApart(f.Figure, f.Limit, sys)
	args := words.Args{
		"where":  f.Where,
		"mode":   modeWords(f.Mode),
		"figure": figure,
		"limit":  limit,
		"margin": quantity.Format(f.Margin(), sys),
	}
	for place, name := range f.Names {
		if id, is := strings.CutPrefix(name, "@"); is {
			name = words.Say(id, nil)
		}
		args[place] = name
	}
	for place, q := range f.Args {
		args[place] = quantity.Format(q, sys)
	}
	return args
}

func modeWords(mode string) string {
	if mode == "" {
		mode = "none"
	}
	return words.Say("mode."+mode, nil)
}

// Titles returns the titles of findings by their keys, for naming what a remedy makes
// worse. A title uses no place but where and mode.
func Titles(keys []string) []string {
	list := make([]string, len(keys))
	for i, key := range keys {
		id, rest, _ := strings.Cut(key, "\x00")
		where, mode, _ := strings.Cut(rest, "\x00")
		list[i] = words.Say("finding."+id+".title", words.Args{"where": where, "mode": modeWords(mode)})
	}
	return list
}
