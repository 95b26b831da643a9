package paper

import "tideover/internal/drawing"

// Mark is a sign drawn before a cell's text.
type Mark uint8

// The marks. Basis: a full square is measured, a half one stated, a hollow one assumed.
const (
	NoMark Mark = iota
	Full
	Half
	Hollow
	Tick // an empty box to tick
)

// Cell is one cell of a table.
type Cell struct {
	Text  string
	Style Style
	Mark  Mark
	Write bool // an empty cell to write in, framed
}

// Col is one column: a fixed width, or a share of what is left.
type Col struct {
	Width float64 // mm; 0: by share
	Share float64
	Right bool // numbers
}

// Table is rows under a head that is repeated on every page.
type Table struct {
	Cols  []Col
	Head  []string
	Rows  [][]Cell
	Gap   float64
	Pad   float64 // white above and below a row; 0: 1.1 mm
	Plain bool    // no rules between rows
	Close bool    // columns stand closer
	Whole bool    // all rows on one page, if one can hold them
}

// gutter is the white between columns.
func (b Table) gutter() float64 {
	if b.Close {
		return 1.6
	}
	return 3
}

// chunk is how many lines of a row stay together: a longer row goes on below.
const chunk = 24

func (b Table) strips(s *setter) []strip {
	x, w := b.columns(s)
	var head *strip
	if len(b.Head) > 0 {
		h := b.headStrip(s, x, w)
		head = &h
	}
	var list []strip
	for _, row := range b.Rows {
		list = append(list, b.row(s, row, x, w, head)...)
	}
	if head != nil && len(list) > 0 {
		first := *head
		first.gap, first.keep = b.Gap*s.scale, true
		list = append([]strip{first}, list...)
	} else if len(list) > 0 {
		list[0].gap = b.Gap * s.scale
	}
	for i := 0; b.Whole && i+1 < len(list); i++ {
		list[i].keep = true
	}
	return list
}

// columns returns the left edge and the width of each column.
func (b Table) columns(s *setter) (x, w []float64) {
	fixed, shares := b.gutter()*float64(len(b.Cols)-1), 0.0
	for _, c := range b.Cols {
		fixed += c.Width
		if c.Width == 0 {
			shares += max(c.Share, 1e-9)
		}
	}
	at := 0.0
	for _, c := range b.Cols {
		cw := c.Width
		if cw == 0 {
			cw = max(1, (s.width-fixed)*max(c.Share, 1e-9)/shares)
		}
		x, w = append(x, at), append(w, cw)
		at += cw + b.gutter()
	}
	return x, w
}

func (b Table) headStrip(s *setter, x, w []float64) strip {
	em, line, c := s.size(SmallStrong)
	tall := 0
	cells := make([][]string, len(b.Head))
	for i, h := range b.Head {
		cells[i] = c.wrap(h, em, w[i])
		tall = max(tall, len(cells[i]))
	}
	var items []drawing.Item
	for i, lines := range cells {
		y := float64(tall-len(lines)) * line
		text, _ := s.lines(lines, SmallStrong, b.edge(i, x, w), y, b.anchor(i))
		items = append(items, text...)
	}
	h := float64(tall)*line + 1
	items = append(items, rule(0, h, s.width, h, "page-rule-strong"))
	return strip{height: h + 0.6, put: at(items...)}
}

func (b Table) anchor(i int) drawing.Anchor {
	if b.Cols[i].Right {
		return drawing.End
	}
	return drawing.Start
}

func (b Table) edge(i int, x, w []float64) float64 {
	if b.Cols[i].Right {
		return x[i] + w[i]
	}
	return x[i]
}

// row sets one row; one too tall for a page goes on in further strips.
func (b Table) row(s *setter, row []Cell, x, w []float64, head *strip) []strip {
	cells := make([][]string, len(row))
	tall := 1
	for i, cell := range row {
		em, _, c := s.size(cell.Style)
		if cell.Text != "" {
			cells[i] = c.wrap(cell.Text, em, w[i]-indent(cell, em))
		}
		tall = max(tall, len(cells[i]))
	}
	var list []strip
	for from := 0; from < tall; from += chunk {
		st := b.chunk(s, row, cells, from, x, w)
		st.head = head
		list = append(list, st)
	}
	last := &list[len(list)-1]
	if !b.Plain {
		last.put = append(last.put, at(rule(0, last.height, s.width, last.height, "page-rule"))...)
	}
	return list
}

func indent(c Cell, em float64) float64 {
	if c.Mark == NoMark {
		return 0
	}
	return markSize(c, em) + 1.6
}

func markSize(c Cell, em float64) float64 {
	if c.Mark == Tick {
		return max(1.05*em, 3.6)
	}
	return 0.62 * em
}

// chunk sets up to so many lines of a row's cells.
func (b Table) chunk(s *setter, row []Cell, cells [][]string, from int, x, w []float64) strip {
	pad := b.Pad
	if pad == 0 {
		pad = 1.1
	}
	pad *= s.scale
	least := 0.0 // of the row, where there is room to write in it
	for _, cell := range row {
		if cell.Write {
			least = 5.2
		}
	}
	h := least
	var items []drawing.Item
	for i, cell := range row {
		em, line, _ := s.size(cell.Style)
		lines := cells[i][min(from, len(cells[i])):min(from+chunk, len(cells[i]))]
		dx := indent(cell, em)
		edge := b.edge(i, x, w)
		if !b.Cols[i].Right {
			edge += dx
		}
		down := pad + max(0, least-float64(max(1, len(lines)))*line)/2
		text, th := s.lines(lines, cell.Style, edge, down, b.anchor(i))
		items = append(items, text...)
		h = max(h, th, line)
		if cell.Mark != NoMark && from == 0 {
			size := markSize(cell, em)
			y := down + (line-em)/2 + 0.45*em - size/2
			items = append(items, mark(cell.Mark, x[i]+0.2, y, size)...)
			h = max(h, y-pad+size)
		}
	}
	h += 2 * pad
	for i, cell := range row {
		if cell.Write {
			items = append(items, box(x[i], 0.8, w[i], h-1.6, "page-write"))
		}
	}
	return strip{height: h, put: at(items...)}
}

// mark draws a basis square or a tick box.
func mark(m Mark, x, y, size float64) []drawing.Item {
	out := box(x, y, size, size, "page-mark")
	switch m {
	case Full:
		return []drawing.Item{box(x, y, size, size, "page-mark-full")}
	case Half:
		tri := drawing.Item{Kind: drawing.Area, Class: "page-mark-full", Pts: []float64{x, y, x, y + size, x + size, y + size}}
		return []drawing.Item{tri, out}
	case Tick:
		out.Class = "page-tick"
	}
	return []drawing.Item{out}
}
