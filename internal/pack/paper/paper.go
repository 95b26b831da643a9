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

// placed is a group of items put somewhere on a page.
type placed struct {
	items       []drawing.Item
	x, y, scale float64
}

// page is one side of paper.
type page struct {
	sheet  int // index
	number int // of the sheet's own pages, from 1
	of     int
	put    []placed
}

// strip is a band across the column that is never broken.
type strip struct {
	gap    float64 // white above it; dropped at the top of a page
	height float64
	put    []placed
	keep   bool   // stays on one page with the strip below
	head   *strip // repeated above it when it opens a page
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

// setSheet lays out one sheet, smaller and smaller if it must fit one side.
func setSheet(d *Document, i int) []page {
	scale := 1.0
	if d.Sheets[i].OneSide {
		scale = 1.3 // as large as fits
	}
	for {
		s := &setter{width: d.Size.Width - left - right, tall: d.Size.Height - top - bottom, scale: scale}
		pages := fill(d, i, s)
		if !d.Sheets[i].OneSide || len(pages) == 1 || scale < 0.5 {
			return pages
		}
		scale -= 0.04
	}
}

// fill breaks the sheet's strips into pages.
func fill(d *Document, i int, s *setter) []page {
	sheet := &d.Sheets[i]
	var all []strip
	for _, b := range sheet.Blocks {
		all = append(all, b.strips(s)...)
	}
	var pages []page
	var y float64
	open := func() {
		p := page{sheet: i, number: len(pages) + 1}
		y = s.headOf(sheet, &p)
		pages = append(pages, p)
	}
	open()
	fresh := true
	for n := 0; n < len(all); {
		m, h := group(all[n:], fresh)
		if !fresh && y+h > s.tall {
			open()
			if hd := all[n].head; hd != nil {
				y = drop(&pages[len(pages)-1], *hd, y, true)
			}
			fresh = true
			m, h = group(all[n:], fresh)
		}
		for _, st := range all[n : n+m] {
			if y+st.gap+st.height > s.tall && !fresh { // a group taller than a page breaks where it must
				open()
				if st.head != nil {
					y = drop(&pages[len(pages)-1], *st.head, y, true)
				}
				fresh = true
			}
			y = drop(&pages[len(pages)-1], st, y, fresh)
			fresh = false
		}
		n += m
	}
	for j := range pages {
		pages[j].of = len(pages)
	}
	return pages
}

// group returns how many strips must stay together from the first on, and their height.
func group(list []strip, fresh bool) (n int, height float64) {
	for i, st := range list {
		if !(fresh && i == 0) {
			height += st.gap
		}
		height += st.height
		n++
		if !st.keep {
			break
		}
	}
	return n, height
}

// drop puts a strip on the page at y and returns the y below it.
func drop(p *page, st strip, y float64, fresh bool) float64 {
	if !fresh {
		y += st.gap
	}
	for _, g := range st.put {
		g.x, g.y = g.x+left, g.y+y+top
		p.put = append(p.put, g)
	}
	return y + st.height
}
