package job

import (
	"errors"
	"slices"
	"strings"

	"tideover/internal/words"
)

// Undo takes edits back: it holds the bytes they replaced.
type Undo struct {
	changes []change // in the order they were made
}

// change is one replacement in the raw bytes.
type change struct {
	at       int
	old, new string
}

// Bytes returns the file as it was before the edits. now has to be the file as the
// edits left it, else it is refused.
func (u Undo) Bytes(now []byte) ([]byte, error) {
	text := string(now)
	for _, c := range slices.Backward(u.changes) {
		if c.at > len(text) || !strings.HasPrefix(text[c.at:], c.new) {
			return nil, errors.New("job: undo: the file has changed since")
		}
		text = text[:c.at] + c.old + text[c.at+len(c.new):]
	}
	return []byte(text), nil
}

// Apply makes edits in order, on the bytes of the file: only what the paths need is
// replaced; comments, line ends, blanks and the byte order mark stay. After each edit
// the text is read again and has to hold the same values but for the edit's own path;
// an edit that cannot be made so is refused. An edit may not bring a fault the file
// did not have. On refusal d stands as it was and next is nil; the error is Faults
// where the file would be at fault, else a Fault that names the edit's path.
func (d *Doc) Apply(edits ...Edit) (next *Doc, undo Undo, err error) {
	next = d
	for _, e := range edits {
		e.Text = strings.TrimRight(e.Text, "\n")
		c, fault := next.change(e)
		if fault != nil {
			return nil, Undo{}, *fault
		}
		after, fault := next.after(e, c)
		if fault != nil {
			return nil, Undo{}, *fault
		}
		next, undo.changes = after, append(undo.changes, c)
	}
	if added := next.faultsBeyond(d, edits); len(added) > 0 {
		return nil, Undo{}, added
	}
	return next, undo, nil
}

// Undo takes edits back from the document they gave.
func (d *Doc) Undo(u Undo) (*Doc, error) {
	raw, err := u.Bytes(d.source.raw)
	if err != nil {
		return nil, err
	}
	doc, faults := d.options.Read(d.source.name, raw)
	if doc == nil {
		return nil, faults
	}
	return doc, nil
}

// refuse is a fault about an edit, at the place of the nearest map or field of its path.
func (d *Doc) refuse(id, path string, args words.Args) *Fault {
	at := 0
	for p := path; p != ""; p = parentOf(p) {
		if e := d.entries[p]; e != nil {
			at = e.at
			break
		}
	}
	if args == nil {
		args = words.Args{"path": path}
	}
	f := d.source.fault(id, at, path, args)
	if _, known := FieldFor(path); !known {
		f.Nearest = NearestPath(path)
		if kids := theIndex().children[starred(path)]; path != "" && len(kids) > 0 { // a group of fields
			f.Accept = words.Say("accept.fields-of", words.Args{"fields": strings.Join(fieldsUnder(path), ", ")})
		}
	}
	return f
}

// fieldsUnder are the paths one step below a group: the first ten.
func fieldsUnder(path string) (list []string) {
	for _, k := range theIndex().children[starred(path)] {
		if len(list) == 10 {
			return append(list, "…")
		}
		list = append(list, path+"."+k)
	}
	return list
}

// after reads the text with a change made, and compares.
func (d *Doc) after(e Edit, c change) (*Doc, *Fault) {
	raw := d.source.raw
	text := string(raw[:c.at]) + c.new + string(raw[c.at+len(c.old):])
	next, faults := d.options.Read(d.source.name, []byte(text))
	if next == nil {
		if id := faults[0].ID; id == "format" || id == "too-big" || id == "empty-file" {
			return nil, &faults[0]
		}
		return nil, d.refuse("edit-layout", e.Path, nil)
	}
	if !d.sameBut(next, e) {
		return nil, d.refuse("edit-layout", e.Path, nil)
	}
	return next, nil
}

// faultsBeyond returns the faults d has that before had not, and those of the paths edited.
func (d *Doc) faultsBeyond(before *Doc, edits []Edit) Faults {
	type key struct{ id, path string }
	old := map[key]bool{}
	for _, f := range before.faults {
		old[key{f.ID, f.Path}] = true
	}
	for _, e := range edits {
		for k := range old {
			if k.path == e.Path && e.Op == Set {
				delete(old, k)
			}
		}
	}
	var added Faults
	for _, f := range d.faults {
		if !old[key{f.ID, f.Path}] {
			added = append(added, f)
		}
	}
	return added
}

// fact is one thing a file says, for comparing: a field with its text, or an item.
type fact struct{ path, text string }

// facts lists what the file says in its order. Steps of a path are parted by a zero
// byte, which no key holds.
func (e *entry) facts(path, star string, list []fact) []fact {
	for _, c := range e.children {
		at, kind := c.key, c.key
		if path != "" {
			at, kind = path+"\x00"+c.key, star+"."+c.key
		}
		if lists[star] {
			kind = star + ".*"
		}
		switch {
		case c.scalar:
			list = append(list, fact{at, "=" + c.text})
		case lists[star] || !theIndex().isMap(kind):
			list = append(list, fact{at, ""})
		}
		list = c.facts(at, kind, list)
	}
	return list
}

// sameBut reports whether next says what d says, in the same order, but for the path
// of the edit, and that there it says what the edit asks.
func (d *Doc) sameBut(next *Doc, e Edit) bool {
	path := strings.ReplaceAll(e.Path, ".", "\x00")
	want, had := without(d.root.facts("", "", nil), path)
	got, has := without(next.root.facts("", "", nil), path)
	if !slices.Equal(want, got) {
		return false
	}
	switch e.Op {
	case Set:
		return len(has) == 1 && has[0] == fact{path, "=" + e.Text}
	case Insert:
		items, ok := parseItem(e.Path, e.Text)
		expect := []fact{{path, ""}}
		for _, i := range items {
			expect = append(expect, fact{path + "\x00" + i.key, "=" + i.text})
		}
		return ok && slices.Equal(has, expect)
	}
	return len(has) == 0 && len(had) > 0
}

// without parts facts into those outside a path and those at it or below.
func without(list []fact, path string) (outside, inside []fact) {
	for _, f := range list {
		if f.path == path || strings.HasPrefix(f.path, path+"\x00") {
			inside = append(inside, f)
		} else {
			outside = append(outside, f)
		}
	}
	return outside, inside
}
