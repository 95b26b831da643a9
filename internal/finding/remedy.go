package finding

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// Remedy is an edit of the job that was tried: what the figure became, and which other
// findings it made worse.
type Remedy struct {
	Edits   []job.Edit
	Told    []string          // per edit: its value in words where it is a catalogue row, else ""
	Said    string            // what is to be done in words, where that says more than the edits; "" else
	Figure  quantity.Quantity // after the edit; NoDim when the finding no longer arises
	Verdict Verdict           // after the edit; never as bad as before
	Then    string            // what comes of it in words, where no figure says it; "" else
	Close   bool              // the figure then stands nearer to its limit than its half-width
	Worse   []string          // keys of findings whose verdict the edit worsens, the worst first
	Short   []string          // keys of findings about the same danger that must be fixed all the same
	Needs   []string          // what it takes beside parts: ids of messages "needs.<id>"
	Open    []string          // what it was not held to: ids of messages "open.<id>"
}

// Value is the value of edit i as a person reads it: a catalogue row by its words.
func (r *Remedy) Value(i int) string {
	if i < len(r.Told) && r.Told[i] != "" {
		return r.Told[i]
	}
	return r.Edits[i].Text
}

// Does says what is to be done: an imperative, without a stop.
func (r *Remedy) Does() string {
	if r.Said != "" {
		return r.Said
	}
	list := make([]string, len(r.Edits))
	for i := range r.Edits {
		list[i] = r.does(i)
	}
	return strings.Join(list, "; ")
}

// does says one edit: by the message of its field and value, of its field, or of any field.
func (r *Remedy) does(i int) string {
	e := &r.Edits[i]
	path, item := e.Path, ""
	if f, ok := job.FieldFor(e.Path); ok {
		path = f.Path
	}
	if list, rest, _ := strings.Cut(e.Path, "."); path != e.Path || e.Op == job.Insert || e.Op == job.Remove {
		item, _, _ = strings.Cut(rest, ".")
		if path == e.Path {
			path = list
		}
	}
	if list, _, _ := strings.Cut(e.Path, "."); list == "added" && e.Op == job.Insert {
		if said, ok := fits(e.Text, item); ok {
			return said
		}
	}
	op := [...]string{job.Set: "set", job.Unset: "unset", job.Insert: "insert", job.Remove: "remove"}[e.Op]
	args := words.Args{"text": r.Value(i), "item": item, "path": e.Path, "field": label(e.Path)}
	for _, id := range []string{"do." + path + "." + e.Text, "do." + path} {
		if e.Op == job.Set && words.Has(id) {
			return words.Say(id, args)
		}
	}
	return words.Say("remedy."+op, args)
}

// fits says a part that is put in beside another: its kind, where, and what it is set to.
func fits(text, item string) (string, bool) {
	args := words.Args{"item": strings.ToUpper(item)}
	for _, pair := range strings.Split(text, ",") {
		if key, value, ok := strings.Cut(pair, ":"); ok {
			args[strings.TrimSpace(key)] = strings.TrimSpace(value)
		}
	}
	where := "do.added.side." + args["end"]
	if !words.Has(where) {
		where = "do.added.side"
	}
	args["where"] = words.Say(where, args)
	id := "do.added." + args["kind"]
	if args["set"] != "" {
		id += ".set"
	}
	if !words.Has(id) {
		return "", false
	}
	return words.Say(id, args), true
}

func label(path string) string {
	f, ok := job.FieldFor(path)
	if !ok {
		return path
	}
	return lowered(f.Label())
}

// Tell says a remedy: what to do, what gets worse with it, what comes of it, what it takes and
// what it was not held to.
func (r *Remedy) Tell(sys quantity.System) string { return r.tell(r.Does(), sys) }

// TellWith is Tell with how the edits are made in brackets behind what is to be done.
func (r *Remedy) TellWith(how string, sys quantity.System) string {
	return r.tell(r.Does()+" ("+how+")", sys)
}

func (r *Remedy) tell(do string, sys quantity.System) string {
	parts := []string{raised(do) + "."}
	if len(r.Worse) > 0 {
		parts = append(parts, words.Say("remedy.worse", words.Args{"worse": strings.Join(Titles(r.Worse), ", ")}))
	}
	switch {
	case r.Then != "":
		parts = append(parts, words.Say("remedy.then", words.Args{"then": r.Then}))
	case r.Figure.Dim == quantity.NoDim:
		parts = append(parts, words.Say("remedy.cleared", nil))
	default:
		verdict := words.Say("verdict."+r.Verdict.ID(), nil)
		if r.Close {
			verdict = words.Say("remedy.close", nil)
		}
		parts = append(parts, words.Say("remedy.tried", words.Args{"figure": quantity.Format(r.Figure, sys), "verdict": verdict}))
	}
	if len(r.Short) > 0 {
		parts = append(parts, words.Say("remedy.short", words.Args{"list": strings.Join(Titles(r.Short), ", ")}))
	}
	for _, more := range []string{r.Takes(), r.Untried()} {
		if more != "" {
			parts = append(parts, more)
		}
	}
	return strings.Join(parts, " ")
}

// Takes says what a remedy needs beside parts; "" where it needs nothing.
func (r *Remedy) Takes() string { return listed("needs", r.Needs) }

// Untried says what a remedy was not held to; "" where it was held to all.
func (r *Remedy) Untried() string { return listed("open", r.Open) }

func listed(what string, ids []string) string {
	if len(ids) == 0 {
		return ""
	}
	list := make([]string, len(ids))
	for i, id := range ids {
		list[i] = words.Say(what+"."+id, nil)
	}
	return words.Say("remedy."+what, words.Args{"list": strings.Join(list, "; ")})
}

func raised(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}

func lowered(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToLower(r)) + s[n:]
}
