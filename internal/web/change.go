package web

import (
	"fmt"
	"slices"
	"strings"

	"tideover/internal/job"
)

// change is one edit as somebody wants it: the path, the text they saw there (absent: "")
// and the text they want. What they saw lets two people work on one file: where it still
// stands, or where only others changed other paths, nothing has to be asked.
type change struct {
	op        job.Op
	path      string
	was, text string
}

// standing is how a change meets the file as it is now.
type standing uint8

const (
	toDo    standing = iota // the file says what they saw
	done                    // the file says what they want already
	crossed                 // somebody changed it to something else meanwhile
)

// against compares a change with the file.
func (c change) against(doc *job.Doc) standing {
	now := textAt(doc, c.path, c.op)
	want := c.text
	switch c.op {
	case job.Unset, job.Remove:
		want = ""
	case job.Insert:
		if doc.Given(c.path) {
			return toDo // Apply refuses it: that tag is taken
		}
		return toDo
	}
	switch {
	case now == want:
		return done
	case now == c.was:
		return toDo
	}
	return crossed
}

// textAt is what the file says at a path: a field's text, or an item's fields.
func textAt(doc *job.Doc, path string, op job.Op) string {
	if op == job.Remove || op == job.Insert {
		return itemText(doc, path)
	}
	text, _ := doc.Text(path)
	return strings.TrimRight(text, "\n")
}

// itemText is an item of a list as the text that would insert it, "" when it is not there.
func itemText(doc *job.Doc, path string) string {
	var parts []string
	for _, p := range doc.Paths() {
		if key, ok := strings.CutPrefix(p, path+"."); ok {
			text, _ := doc.Text(p)
			parts = append(parts, key+": "+strings.TrimRight(text, "\n"))
		}
	}
	return strings.Join(parts, ", ")
}

func (c change) edit() job.Edit { return job.Edit{Op: c.op, Path: c.path, Text: c.text} }

// between lists the changes that turn one state of a file into another: for undoing on top
// of what others did since.
func between(from, to *job.Doc) []change {
	var list []change
	for _, item := range items(from) {
		if !to.Given(item) {
			list = append(list, change{op: job.Remove, path: item, was: itemText(from, item)})
		}
	}
	added := items(to)
	for _, item := range added {
		if !from.Given(item) {
			list = append(list, change{op: job.Insert, path: item, text: itemText(to, item)})
		}
	}
	paths := from.Paths()
	for _, p := range to.Paths() {
		if !slices.Contains(paths, p) {
			paths = append(paths, p)
		}
	}
	for _, p := range paths {
		item := itemOf(p)
		if item != "" && (!from.Given(item) || !to.Given(item)) {
			continue
		}
		was, had := from.Text(p)
		text, has := to.Text(p)
		switch {
		case had && has && was == text:
		case has:
			list = append(list, change{op: job.Set, path: p, was: strings.TrimRight(was, "\n"), text: strings.TrimRight(text, "\n")})
		default:
			list = append(list, change{op: job.Unset, path: p, was: strings.TrimRight(was, "\n")})
		}
	}
	return list
}

// items lists the items of a file's lists by path, in its order.
func items(doc *job.Doc) []string {
	var list []string
	for _, p := range doc.Paths() {
		if item := itemOf(p); item != "" && !slices.Contains(list, item) {
			list = append(list, item)
		}
	}
	return list
}

// itemOf is the item a path belongs to ("outlets.kitchen"), or "".
func itemOf(path string) string {
	f, ok := job.FieldFor(path)
	if !ok || !strings.Contains(f.Path, ".*.") {
		return ""
	}
	return path[:strings.LastIndexByte(path, '.')]
}

// told says in a few words what changes do, for the line that offers to undo them.
func (p *Pages) told(list []change) string {
	var parts []string
	for i, c := range list {
		if i == 2 && len(list) > 3 {
			parts = append(parts, say("web.told.more", "n", fmt.Sprint(len(list)-i)))
			break
		}
		parts = append(parts, p.toldOne(c))
	}
	return strings.Join(parts, "; ")
}

func (p *Pages) toldOne(c change) string {
	name := labelOf(c.path)
	switch c.op {
	case job.Unset:
		return say("web.told.unset", "field", name)
	case job.Insert:
		return say("web.told.insert", "item", c.path)
	case job.Remove:
		return say("web.told.remove", "item", c.path)
	}
	text := p.answer(c.path, strings.Join(strings.Fields(c.text), " "))
	if r := []rune(text); len(r) > 40 {
		text = string(r[:40]) + "…"
	}
	return say("web.told.set", "field", name, "text", text)
}

// answer is a value as a page says it: a choice or a catalogue row in words, as long as
// they are few.
func (p *Pages) answer(path, text string) string {
	f, _ := job.FieldFor(path)
	if f.Table != "" {
		for _, r := range p.catalogue.List(f.Table) {
			if r.Key == text && len(r.Words) <= 40 {
				return r.Words
			}
		}
	}
	if slices.Contains(f.Allowed, text) {
		return sayOr("web.option."+text, text)
	}
	return text
}

// labelOf names a path to a person: the field's label, with the item it belongs to.
func labelOf(path string) string {
	f, ok := job.FieldFor(path)
	if !ok {
		return path
	}
	if item := itemOf(path); item != "" {
		_, tag, _ := strings.Cut(item, ".")
		return tag + ", " + f.Label()
	}
	return f.Label()
}
