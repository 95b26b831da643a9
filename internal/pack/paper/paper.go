// Package paper sets sheets: it breaks blocks of text, tables, tick boxes and drawings
// into pages and writes them as one PDF with the face embedded.
//
// Stage: the end of the pack. It takes a Document of blocks, already in words, and gives
// bytes. It knows boxes and ink only: nothing of jobs, figures or files. Same document,
// same bytes. Lengths are millimetres, type sizes points.
//
// The pages are laid out here rather than by an HTML engine: a sheet must number its own
// pages, a heading must stay with what follows, a row of boxes to write in must not
// break, and a card must shrink until it fits one side. The PDF library gives what is
// hard to do well: subset fonts, text that can be searched, the file itself.
package paper

import (
	"errors"
	"time"

	"tideover/internal/drawing"
)

// Size is the paper.
type Size struct{ Width, Height float64 }

// The papers.
var (
	A4     = Size{210, 297}
	Letter = Size{215.9, 279.4}
)

// Margins of every page: the left one leaves room for a punch.
const (
	left, right = 20.0, 15.0
	top, bottom = 13.0, 18.0
)

// Document is a pack of sheets.
type Document struct {
	Size    Size
	Title   string    // metadata title
	Subject string    // metadata subject
	Lang    string    // BCP 47
	Made    time.Time // creation date in the metadata
	Maker   string    // tool and version
	Left    string    // stands at the foot of every page, left: job, date, tool version
	Sheets  []Sheet
	Mark    func(page, of, n, all int) string // page of the sheet and page of the pack, in words
	Lacks   func(letters []rune) string       // what to say on a page with letters the face has not
}

// Sheet answers one question of one person and can be taken out and used alone.
type Sheet struct {
	ID      string // stands at the head: "3 System"
	Title   string // the question
	Who     string // the person
	Right   string // stands at the head, right: job name
	OneSide bool   // as large as fits one page
	Blocks  []Block
}

// Block is anything that can be broken into strips of one width.
type Block interface {
	strips(s *setter) []strip
}

// placed is a group of items put somewhere on a page, cut off outside a box.
type placed struct {
	items       []drawing.Item
	x, y, scale float64
	photo       *photo     // instead of items
	clip        [4]float64 // in the items' own millimetres; all nought: nothing is cut off
}

// page is one side of paper.
type page struct {
	sheet  int // index
	number int // of the sheet's own pages, from 1
	of     int
	wide   bool // turned on its side
	put    []placed
	filled float64 // share of its column in use, head and all
}

// strip is a band across the column that is never broken.
type strip struct {
	gap    float64 // white above it; dropped at the top of a page
	height float64
	put    []placed
	keep   bool   // stays on one page with the strip below
	head   *strip // repeated above it when it opens a page
	wide   bool   // stands on a page turned on its side
	cols   int    // stands in one of so many columns; below 2: across the page
	step   float64
}

// ErrNoSheets is returned for a document without sheets.
var ErrNoSheets = errors.New("paper: a document needs at least one sheet")

// Write lays the document out and returns the PDF.
func Write(d *Document) ([]byte, error) {
	if len(d.Sheets) == 0 {
		return nil, ErrNoSheets
	}
	var pages []page
	var marks []int // first page of each sheet
	for i := range d.Sheets {
		marks = append(marks, len(pages))
		pages = append(pages, setSheet(d, i)...)
	}
	for i := range pages {
		foot(d, &pages[i], i+1, len(pages))
	}
	return write(d, pages, marks)
}

// setSheet lays out one sheet: one that must fit one side smaller and smaller from large
// on, any other a little smaller where that saves a page of a few lines.
func setSheet(d *Document, i int) []page {
	if d.Sheets[i].OneSide {
		return oneSide(d, i)
	}
	pages := fill(d, i, 1)
	if !short(pages) {
		return pages
	}
	for scale := 0.98; scale >= smallest; scale -= 0.02 {
		if tighter := fill(d, i, scale); len(tighter) < len(pages) {
			return tighter
		}
	}
	return pages
}

// short reports whether a page holds the last few lines of the one before: the last page,
// or the last before the sheet is turned on its side.
func short(pages []page) bool {
	for i := 1; i < len(pages); i++ {
		ends := i+1 == len(pages) || pages[i+1].wide != pages[i].wide
		if ends && pages[i-1].wide == pages[i].wide && pages[i].filled <= tail {
			return true
		}
	}
	return false
}

// A last page filled less than tail is a few lines; letters may shrink to smallest to
// spare it.
const (
	tail     = 0.4
	smallest = 0.84
)

func oneSide(d *Document, i int) []page {
	for scale := 1.3; ; scale -= 0.04 {
		if pages := fill(d, i, scale); len(pages) == 1 || scale < 0.5 {
			return pages
		}
	}
}

// turned returns the paper as a page lies: on its side when wide.
func (s Size) turned(wide bool) Size {
	if wide {
		return Size{s.Height, s.Width}
	}
	return s
}

// setterFor knows the column of a page.
func setterFor(size Size, scale float64) *setter {
	on := size.turned(true)
	return &setter{
		width: size.Width - left - right, tall: size.Height - top - bottom, scale: scale,
		side: &setter{width: on.Width - left - right, tall: on.Height - top - bottom, scale: scale},
	}
}

// filler breaks one sheet's strips into pages.
type filler struct {
	sheet *Sheet
	index int
	s     *setter
	pages []page
	y     float64 // on the last page, below what stands there
	fresh bool    // nothing but the head stands there
}

func fill(d *Document, i int, scale float64) []page {
	f := &filler{sheet: &d.Sheets[i], index: i, s: setterFor(d.Size, scale)}
	var all []strip
	for _, b := range f.sheet.Blocks {
		all = append(all, b.strips(f.s)...)
	}
	f.open(len(all) > 0 && all[0].wide)
	for n := 0; n < len(all); {
		if all[n].cols > 1 {
			if all[n].wide != f.last().wide {
				f.turn(strip{wide: all[n].wide})
			}
			m := run(all[n:])
			f.columns(all[n : n+m])
			n += m
			continue
		}
		m, h := group(all[n:], f.fresh)
		if next := n + m; all[next-1].keep && next < len(all) && all[next].cols > 1 {
			h += all[next].gap + leastColumn // what heads columns stands on their page
		}
		if all[n].wide != f.last().wide || !f.fresh && f.y+h > f.room() {
			f.turn(all[n])
		}
		for _, st := range all[n : n+m] {
			if f.y+st.gap+st.height > f.room() && !f.fresh { // a group taller than a page breaks where it must
				f.turn(st)
			}
			f.drop(st)
		}
		n += m
	}
	for j := range f.pages {
		f.pages[j].of = len(f.pages)
	}
	f.close()
	return f.pages
}

func (f *filler) last() *page { return &f.pages[len(f.pages)-1] }

// room is how tall the last page's column is.
func (f *filler) room() float64 { return f.s.on(f.last().wide).tall }

// close notes how far the last page is filled.
func (f *filler) close() { f.last().filled = f.y / f.room() }

// open begins a page.
func (f *filler) open(wide bool) {
	if len(f.pages) > 0 {
		f.close()
	}
	f.pages = append(f.pages, page{sheet: f.index, number: len(f.pages) + 1, wide: wide})
	f.y = f.s.on(wide).headOf(f.sheet, f.last())
	f.fresh = true
}

// turn begins a page for a strip, its table's head on top.
func (f *filler) turn(st strip) {
	f.open(st.wide)
	if st.head != nil {
		f.drop(*st.head)
		f.fresh = true
	}
}

// drop puts a strip on the last page.
func (f *filler) drop(st strip) {
	if !f.fresh {
		f.y += st.gap
	}
	for _, g := range st.put {
		g.x, g.y = g.x+left, g.y+f.y+top
		f.last().put = append(f.last().put, g)
	}
	f.y += st.height
	f.fresh = false
}

// group returns how many strips must stay together from the first on, and their height.
func group(list []strip, fresh bool) (n int, height float64) {
	for i, st := range list {
		if !(fresh && i == 0) {
			height += st.gap
		}
		height += st.height
		n++
		if !st.keep || i+1 < len(list) && list[i+1].cols != st.cols {
			break
		}
	}
	return n, height
}
