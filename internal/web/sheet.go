package web

import (
	"crypto/rand"
	"net/http"
	"reflect"
	"strconv"
)

// What a script lays over the page after an edit is nearly all there already. Each answer
// names the sheet it makes of the page, and each block of it its version; a script says with
// its next request which sheet it has, and blocks that are the same on it are sent empty,
// with their version, to be left alone.

// sheetHeader is where a script says which sheet lies before it.
const sheetHeader = "Tideover-Sheet"

// mostSheets is how many sheets of a job are remembered: one for each tab that is worked in.
const mostSheets = 12

// sheet is a page as it was sent.
type sheet struct {
	name   string
	forms  string           // what every form on it carries
	blocks map[string]block // by the id of the element
}

// block is a part of a page: what it was made of, and a version that is its own.
type block struct {
	made    any
	version string
}

// Laid says how a block is sent.
type Laid struct {
	Version string
	Same    bool // as the browser has it: empty
}

// lay names the page and marks the blocks that the browser has on the sheet before it. The
// block that a form was sent from is always sent: its boxes hold what was typed. The desk is
// locked.
func (d *desk) lay(r *http.Request, v *jobView) {
	forms := v.URL + " " + v.Section + " " + v.Query
	now := sheet{name: rand.Text(), forms: forms, blocks: map[string]block{}}
	before := r.Header.Get(sheetHeader) // "" from who asks for a whole page
	has := d.sheet(func(s *sheet) bool { return s.forms == forms && s.name == before })
	latest := d.sheet(func(s *sheet) bool { return s.forms == forms })
	at := ""
	if r.Method != http.MethodGet {
		at = r.PostFormValue("at")
	}
	lay := func(id string, made any) Laid {
		b := latest.blocks[id]
		if b.version == "" || !reflect.DeepEqual(b.made, made) {
			d.versions++
			b = block{made, now.name[:6] + strconv.Itoa(d.versions)}
		}
		now.blocks[id] = b
		return Laid{b.version, id != at && has.blocks[id].version == b.version}
	}
	for i := range v.Groups {
		v.Groups[i].Laid = lay(v.Groups[i].ID, v.Groups[i])
	}
	for i := range v.Lists {
		l := &v.Lists[i]
		for k := range l.Items {
			l.Items[k].Laid = lay(l.Items[k].ID, l.Items[k])
		}
		form := *l
		form.Items = nil
		l.Laid = lay("a-"+l.List, form)
	}
	for i := range v.Rows {
		v.Rows[i].Laid = lay(v.Rows[i].ID, v.Rows[i])
	}
	if v.Picture != "" {
		v.LaidPicture = lay("beside", []any{v.Picture, v.PictureTitle, v.PictureURL, v.Settings})
	}
	v.Sheet = now.name
	d.sheets = append(d.sheets, now)
	if len(d.sheets) > mostSheets {
		d.sheets = d.sheets[1:]
	}
}

// sheet is the latest that is wanted; an empty one where there is none.
func (d *desk) sheet(wanted func(*sheet) bool) *sheet {
	for i := len(d.sheets) - 1; i >= 0; i-- {
		if s := &d.sheets[i]; wanted(s) {
			return s
		}
	}
	return &sheet{}
}
