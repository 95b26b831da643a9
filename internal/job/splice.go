package job

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"tideover/internal/words"
)

// splice is a replacement in the copy that is read: from, to, and what comes there,
// with LF line ends.
type splice struct {
	from, to int
	text     string
}

// change works out the bytes an edit replaces.
func (d *Doc) change(e Edit) (change, *Fault) {
	if !utf8.ValidString(e.Text) || refuseText(e.Text) != nil {
		return change{}, d.refuse("edit-value", e.Path, words.Args{"text": strings.Map(visible, e.Text)})
	}
	var s splice
	var fault *Fault
	switch e.Op {
	case Set:
		s, fault = d.set(e.Path, e.Text)
	case Unset:
		s, fault = d.unset(e.Path)
	case Insert:
		s, fault = d.insert(e.Path, e.Text)
	case Remove:
		s, fault = d.remove(e.Path)
	default:
		panic(fmt.Sprintf("job: edit operation %d: there are only four", e.Op))
	}
	if fault != nil {
		return change{}, fault
	}
	return d.source.change(s), nil
}

// change carries a splice over to the raw bytes, in their line ends.
func (s *source) change(p splice) change {
	from, to := s.rawAt(p.from), s.rawAt(p.to)
	text := p.text
	if s.crlf {
		text = strings.ReplaceAll(text, "\n", "\r\n")
	}
	return change{at: from, old: string(s.raw[from:to]), new: text}
}

func (d *Doc) set(path, text string) (splice, *Fault) {
	if _, ok := FieldFor(path); !ok || strings.Contains(path, "*") {
		return splice{}, d.refuse("edit-no-field", path, nil)
	}
	e := d.entries[path]
	switch {
	case e == nil:
		return d.add(path, text)
	case e.empty && e.text == "":
		return splice{e.value, e.value, " " + scalar(text, e.inFlow())}, nil
	case !e.scalar && !e.empty:
		return splice{}, d.refuse("edit-layout", path, nil)
	}
	end, ok := d.source.scalarEnd(e)
	if !ok {
		return splice{}, d.refuse("edit-layout", path, nil)
	}
	return splice{e.value, end, scalar(text, e.inFlow())}, nil
}

func (d *Doc) unset(path string) (splice, *Fault) {
	if _, ok := FieldFor(path); !ok || strings.Contains(path, "*") {
		return splice{}, d.refuse("edit-no-field", path, nil)
	}
	return d.takeOut(path)
}

func (d *Doc) remove(path string) (splice, *Fault) {
	if !isItem(path) {
		return splice{}, d.refuse("edit-no-list", path, nil)
	}
	return d.takeOut(path)
}

func (d *Doc) insert(path, text string) (splice, *Fault) {
	if !isItem(path) {
		return splice{}, d.refuse("edit-no-list", path, nil)
	}
	if d.entries[path] != nil {
		return splice{}, d.refuse("edit-present", path, nil)
	}
	if _, ok := parseItem(path, text); !ok {
		return splice{}, d.refuse("edit-item", path, words.Args{"text": text})
	}
	return d.add(path, text)
}

// isItem reports whether path is an item of a list: "outlets.shower-up".
func isItem(path string) bool {
	list, tag, ok := strings.Cut(path, ".")
	return ok && lists[list] && tagForm.MatchString(tag) && len(tag) <= maxTag
}

// takeOut removes a key with its value, and the maps that would be left empty by it.
func (d *Doc) takeOut(path string) (splice, *Fault) {
	e := d.entries[path]
	if e == nil {
		return splice{}, d.refuse("edit-absent", path, nil)
	}
	for p := e.parent; p.parent != nil && len(p.children) == 1 && !lists[parentOf(p.path)]; p = e.parent {
		e = p
	}
	end, ok := d.source.extent(e)
	if !ok {
		return splice{}, d.refuse("edit-layout", path, nil)
	}
	if e.inFlow() {
		return d.takeOutOfFlow(e, end), nil
	}
	from := d.source.lines[d.source.lineOf(e.at)]
	if strings.TrimLeft(d.source.text[from:e.at], " ") != "" {
		return splice{}, d.refuse("edit-layout", path, nil)
	}
	return splice{from, d.source.lineEnd(d.source.lineOf(max(end-1, e.at))), ""}, nil
}

// takeOutOfFlow removes "key: value" from braces with the comma that parted it.
func (d *Doc) takeOutOfFlow(e *entry, end int) splice {
	kids := e.parent.children
	i := slices.Index(kids, e)
	switch {
	case i+1 < len(kids):
		return splice{e.at, kids[i+1].at, ""}
	case i > 0:
		if before, ok := d.source.extent(kids[i-1]); ok {
			return splice{before, end, ""}
		}
	}
	return splice{e.at, end, ""}
}

// pair is one field of an item to insert.
type pair struct{ key, text string }

var pairForm = regexp.MustCompile(`(?:^|,)\s*([a-z-]+):(?:\s+|$)`)

// parseItem reads "kind: shower, height: 6 m" as fields of the item's list, in the
// order of the field table. A comma parts fields only before a key of the list.
func parseItem(path, text string) ([]pair, bool) {
	list, _, _ := strings.Cut(path, ".")
	keys := theIndex().children[list+".*"]
	var cuts [][]int
	for _, m := range pairForm.FindAllStringSubmatchIndex(text, -1) {
		if slices.Contains(keys, text[m[2]:m[3]]) {
			cuts = append(cuts, m)
		}
	}
	if len(cuts) == 0 || cuts[0][0] != 0 {
		return nil, strings.TrimSpace(text) == ""
	}
	found := map[string]string{}
	for i, m := range cuts {
		end := len(text)
		if i+1 < len(cuts) {
			end = cuts[i+1][0]
		}
		if _, twice := found[text[m[2]:m[3]]]; twice {
			return nil, false
		}
		found[text[m[2]:m[3]]] = strings.TrimSpace(text[m[1]:end])
	}
	var pairs []pair
	for _, k := range keys {
		if v, ok := found[k]; ok {
			pairs = append(pairs, pair{k, v})
		}
	}
	return pairs, true
}
