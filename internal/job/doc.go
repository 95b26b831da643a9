package job

import (
	"slices"
	"strconv"
	"strings"

	"tideover/internal/quantity"
	"tideover/internal/words"
)

// Doc is a job file that was read: the job, the bytes it came from, and where each
// value stands in them. It is never changed; Apply gives a new one.
type Doc struct {
	Job *Job

	source  *source
	options Options
	root    *entry
	entries map[string]*entry
	leaves  []*entry
	faults  Faults
}

// Name is what the file is called in faults.
func (d *Doc) Name() string { return d.source.name }

// Bytes returns the file as it is. The caller must not change them.
func (d *Doc) Bytes() []byte { return d.source.raw }

// Faults returns what is wrong with the file, in its order.
func (d *Doc) Faults() Faults { return d.faults }

// Given reports whether a path, of a field, an item or a map, is in the file.
func (d *Doc) Given(path string) bool { return d.entries[path] != nil }

// Paths returns the fields that are in the file, in its order.
func (d *Doc) Paths() []string {
	paths := make([]string, len(d.leaves))
	for i, e := range d.leaves {
		paths[i] = e.path
	}
	return paths
}

// Text returns a field's value as written, quotes and folds taken off.
func (d *Doc) Text(path string) (string, bool) {
	e := d.entries[path]
	if e == nil || !e.scalar {
		return "", false
	}
	return e.text, true
}

// Place returns the line and column, both from 1, of a field's value, or of the key
// of an item or a map. The column counts characters.
func (d *Doc) Place(path string) (line, column int, ok bool) {
	e := d.entries[path]
	if e == nil {
		return 0, 0, false
	}
	at := e.at
	if e.scalar {
		at = e.value
	}
	line, column = d.source.place(at)
	return line, column, true
}

// Quote returns a fault that says nothing yet but where a path stands: file, line, column
// and the line itself. ok is false where the file does not write the path.
func (d *Doc) Quote(path string) (f Fault, ok bool) {
	line, column, ok := d.Place(path)
	if !ok {
		return Fault{}, false
	}
	return Fault{Path: path, File: d.Name(), Line: line, Column: column, Excerpt: d.source.line(line - 1)}, true
}

// accepts says what a field takes, with examples in the reader's units.
func (f Field) accepts(sys quantity.System) string {
	switch f.Shape {
	case Quantity:
		return words.Say("accept.quantity", words.Args{"examples": quantity.Accepts(f.Dim, sys)})
	case Choice:
		return words.Say("accept.choice", words.Args{"list": strings.Join(f.Allowed, ", ")})
	case Row:
		return f.acceptRow()
	case Count:
		if f.Low == f.High {
			return words.Say("accept.choice", words.Args{"list": itoa(int(f.Low))})
		}
		return words.Say("accept.between", words.Args{"low": itoa(int(f.Low)), "high": itoa(int(f.High))})
	case Reserved:
		return ""
	}
	return words.Say("accept."+f.Shape.String(), nil)
}

// item is the index of the list item a path goes through, or −1.
func (j *Job) item(path string) int {
	head, rest, deep := strings.Cut(path, ".")
	if !deep || !lists[head] {
		return -1
	}
	tag, _, _ := strings.Cut(rest, ".")
	switch head {
	case "outlets":
		return slices.IndexFunc(j.Outlets, func(o Outlet) bool { return o.Tag == tag })
	case "uses":
		return slices.IndexFunc(j.Uses, func(u Use) bool { return u.Tag == tag })
	case "existing":
		return slices.IndexFunc(j.Existing, func(x Existing) bool { return x.Tag == tag })
	case "parts":
		return slices.IndexFunc(j.Parts, func(p FreePart) bool { return p.Tag == tag })
	case "joins":
		return slices.IndexFunc(j.Joins, func(x FreeJoin) bool { return x.Tag == tag })
	case "added":
		return slices.IndexFunc(j.Added, func(x Added) bool { return x.Tag == tag })
	case "bought":
		return slices.IndexFunc(j.Bought, func(x Bought) bool { return x.Tag == tag })
	}
	return slices.IndexFunc(j.Photos, func(p Photo) bool { return p.Tag == tag })
}

// cutStar parts "outlets.*.height" into its list and the rest.
func cutStar(star string) (list, tail string, ok bool) { return strings.Cut(star, ".*.") }

func itoa(n int) string { return strconv.Itoa(n) }
