package web

import (
	"errors"
	"fmt"

	"tideover/internal/assembly"
)

// notes are what keeps the job from being worked out: faults of the file, parts that
// cannot be joined, a price list that cannot be read.
func (d *desk) notes() []noted {
	var list []noted
	for _, f := range d.faults {
		n := noted{Text: reasons(f)}
		switch {
		case f.Path != "" && d.doc != nil:
			j := d.jump(f.Path)
			n.Label, n.URL = j.Label, j.URL
		case f.Excerpt != "":
			n.Excerpt = fmt.Sprintf("%d: %s", f.Line, f.Excerpt)
		}
		list = append(list, n)
	}
	var laid assembly.Faults
	switch {
	case errors.As(d.failed, &laid):
		for _, f := range laid {
			j := d.jump(f.Path)
			list = append(list, noted{Text: []string{sayArgs(f.ID, f.Args)}, Label: j.Label, URL: j.URL})
		}
	case d.failed != nil:
		list = append(list, noted{Text: []string{d.failed.Error()}})
	}
	if d.priceless != nil {
		j := d.jump("prices")
		list = append(list, noted{Text: []string{d.priceless.Error()}, Label: j.Label, URL: j.URL})
	}
	return list
}
