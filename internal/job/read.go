package job

import (
	"reflect"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"tideover/internal/quantity"
	"tideover/internal/words"
)

// Options are what a reading may be told beside the file.
type Options struct {
	// Rows, when given, has every catalogue key checked where it stands.
	Rows Rows
	// Rule, when given, supplies what the local rules of the job's profile say for fields
	// that name a rule: the text as a job file would write it, and its source.
	Rule func(profile, key string) (text, source string, ok bool)
}

// Read reads a job file with no catalogue at hand. See Options.Read.
func Read(name string, src []byte) (*Doc, Faults) { return Options{}.Read(name, src) }

// Read reads the bytes of a job file; name is what faults call it.
//
// A fault of form (not YAML, or YAML the format has no use for) ends the reading: the
// Doc is nil and the one fault is told. Faults of meaning are told all at once, in the
// order of the file, beside a Doc that can still be edited; its Job holds what could be
// read and must not be computed with. Without faults every field of the Job is given
// or assumed.
func (o Options) Read(name string, src []byte) (*Doc, Faults) {
	r := &reader{source: newSource(name, src), options: o, job: &Job{}, entries: map[string]*entry{}}
	root, f := r.source.tree()
	if f != nil {
		return nil, Faults{*f}
	}
	if f := r.refuseFormat(root); f != nil {
		return nil, Faults{*f}
	}
	r.walk(root, "")
	r.readUnits()
	for _, e := range r.leaves {
		r.readLeaf(e)
	}
	r.require(root)
	r.assumeAll()
	r.crossCheck()
	doc := &Doc{Job: r.job, source: r.source, options: o, root: root, entries: r.entries, leaves: r.leaves}
	doc.faults = r.told()
	r.source.near = nil
	return doc, doc.faults
}

// reader is one reading.
type reader struct {
	source  *source
	options Options
	job     *Job
	sys     quantity.System
	entries map[string]*entry // by path, the first of each
	leaves  []*entry          // fields that were given, in the order of the file
	meant   []string          // paths a faulty key or map stands for: not missing as well
	faults  Faults
	more    bool // there are faults beyond maxFaults
}

// told is the faults in the order of the file, and that there are more.
func (r *reader) told() Faults {
	list := r.faults.sorted()
	if r.more {
		last := list[len(list)-1]
		last.ID, last.Args, last.Path, last.Accept, last.Nearest = "too-many", words.Args{"limit": itoa(maxFaults)}, "", "", ""
		list = append(list, last)
	}
	return list
}

// refuseFormat ends the reading of a file of another format: nothing else said of it
// would be true.
func (r *reader) refuseFormat(root *entry) *Fault {
	for _, c := range root.children {
		if c.key != "format" || !c.scalar {
			continue
		}
		field, _ := FieldFor("format")
		if _, err := field.value(c.text, r.sys); err != nil {
			f := r.source.fault(err.ID, c.value, c.path, err.Args)
			f.Accept = err.Accept
			return f
		}
	}
	return nil
}

// maxFaults is how many faults are told of one file; nobody mends more in one go.
const maxFaults = 100

// add records a fault of meaning at an offset.
func (r *reader) add(at int, path string, e *valueError) {
	if len(r.faults) == maxFaults {
		r.more = true
		return
	}
	f := r.source.fault(e.ID, at, path, e.Args)
	f.Accept, f.Nearest = e.Accept, e.Nearest
	r.faults = append(r.faults, *f)
}

// walk checks every key below e, whose starred path is star.
func (r *reader) walk(e *entry, star string) {
	for _, c := range e.children {
		path := c.key
		if star != "" {
			path = star + "." + c.key
		}
		if lists[star] {
			path = star + ".*"
		}
		if err := r.checkKey(e, c, star, path); err != nil {
			r.add(c.at, c.path, err)
			continue
		}
		r.entries[c.path] = c
		if _, isLeaf := theIndex().byPath[path]; isLeaf {
			r.leaves = append(r.leaves, c)
			continue
		}
		if c.scalar {
			r.add(c.value, c.path, wrong("not-a-map", nil))
			r.meant = append(r.meant, c.path)
			continue
		}
		if lists[star] {
			r.job.addItem(star, c.key)
		}
		r.walk(c, path)
	}
}

// tagForm is what a tag of an outlet, an existing part or a photo looks like.
var tagForm = regexp.MustCompile(`^[a-z][a-z0-9]*(-[a-z0-9]+)*$`)

const maxTag = 40

// checkKey judges the key of c below e.
func (r *reader) checkKey(e, c *entry, star, path string) *valueError {
	known := !strings.Contains(c.key, ".")
	if lists[star] {
		if !tagForm.MatchString(c.key) || len(c.key) > maxTag {
			return &valueError{ID: "tag-form", Args: words.Args{"tag": c.key, "list": star}, Accept: words.Say("accept.tag", nil)}
		}
	} else if _, leaf := theIndex().byPath[path]; !known || !leaf && !theIndex().isMap(path) {
		return r.unknownKey(c, star)
	}
	if first, twice := r.entries[c.path]; twice {
		line, _ := r.source.place(first.at)
		return wrong("duplicate-key", words.Args{"key": c.key, "line": itoa(line)})
	}
	return nil
}

// unknownKey names the nearest key allowed in this place, or the place where the key belongs.
func (r *reader) unknownKey(c *entry, star string) *valueError {
	keys := theIndex().children[star]
	if _, ok := FieldFor(c.key); ok && strings.Contains(c.key, ".") {
		r.meant = append(r.meant, c.key)
		return wrong("dotted-key", words.Args{"key": c.key})
	}
	err := wrong("unknown-key", words.Args{"key": c.key, "place": star})
	if star == "" {
		err = wrong("unknown-key-top", words.Args{"key": c.key})
	}
	err.Accept = words.Say("accept.keys", words.Args{"list": strings.Join(keys, ", ")})
	if err.Nearest = nearest(c.key, keys); err.Nearest == "" {
		err.Nearest = elsewhere(c.key)
		r.meant = append(r.meant, err.Nearest)
	} else if star == "" {
		r.meant = append(r.meant, err.Nearest)
	} else {
		r.meant = append(r.meant, parentOf(c.path)+"."+err.Nearest)
	}
	return err
}

// elsewhere returns the one path whose last key is key, or "" when there are none or several.
func elsewhere(key string) string {
	found := ""
	for _, f := range theIndex().fields {
		if f.Key() != key {
			continue
		}
		if found != "" {
			return ""
		}
		found = f.Path
	}
	return found
}

// readUnits settles the units before anything is read in them.
func (r *reader) readUnits() {
	if e := r.entries["units"]; e != nil {
		if sys, err := quantity.ParseSystem(e.text); err == nil {
			r.sys = sys
		}
	}
}

// readLeaf reads one given field into the job.
func (r *reader) readLeaf(e *entry) {
	f, _ := FieldFor(e.path)
	switch {
	case f.Shape == Reserved:
		r.add(e.at, e.path, wrong("reserved", words.Args{"path": e.path}))
		return
	case e.empty:
		r.add(e.at, e.path, &valueError{ID: "empty-value", Args: words.Args{"path": e.path}, Accept: f.accepts(r.sys)})
		return
	case !e.scalar:
		r.add(e.children0(), e.path, &valueError{ID: "not-a-value", Args: words.Args{"path": e.path}, Accept: f.accepts(r.sys)})
		return
	}
	v, err := any(nil), refuseText(e.text)
	if err == nil {
		v, err = f.value(e.text, r.sys)
	}
	if err == nil {
		err = r.checkRow(f, e, v)
	}
	if err != nil {
		if err.Accept == "" {
			err.Accept = f.accepts(r.sys)
		}
		r.add(r.within(e, err.At), e.path, err)
		return
	}
	from := ""
	if q, ok := v.(quantity.Quantity); ok && q.Basis == quantity.Assumed {
		from = FromFile
	}
	r.put(e.path, v, from)
}

// children0 is where the value of a map begins.
func (e *entry) children0() int {
	if !e.flow && len(e.children) > 0 {
		return e.children[0].at
	}
	return e.value
}

// within is the offset of a character of a value. Quoted and folded values keep their
// beginning: their characters are not those of the file.
func (r *reader) within(e *entry, at int) int {
	line := r.source.lineOf(e.value)
	rest := r.source.text[e.value : r.source.lines[line]+len(r.source.line(line))]
	if at == 0 || !strings.HasPrefix(rest, e.text) {
		return e.value
	}
	line, column := r.source.place(e.value)
	return r.source.offset(line, column+min(at, utf8.RuneCountInString(e.text)-1))
}

// checkRow asks the catalogue, where one is at hand.
func (r *reader) checkRow(f Field, e *entry, v any) *valueError {
	key := e.text
	if s, ok := v.(quantity.Size); ok {
		key = s.String()
	}
	if r.options.Rows == nil || f.Table == "" || slices.Contains(f.Allowed, key) {
		return nil
	}
	ok, near := r.options.Rows(f.Table, key)
	if ok {
		return nil
	}
	return &valueError{ID: "no-row", Args: words.Args{"value": key, "table": f.Table}, Accept: f.acceptRow(), Nearest: near}
}

// put stores a value at a path of the job.
func (r *reader) put(path string, v any, from string) {
	l := plan()[starred(path)]
	place := l.at(r.job, r.job.item(path))
	if q, ok := v.(quantity.Quantity); ok {
		setQuantity(place, q, from)
		return
	}
	place.Set(reflect.ValueOf(v).Convert(place.Type())) // a word of an Answer field becomes an Answer
}
