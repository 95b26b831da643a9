package paper

import "tideover/internal/drawing"

// Text is a paragraph. Keep holds it on one page with what follows.
type Text struct {
	Style  Style
	Text   string
	Gap    float64 // white above
	Indent float64
	Keep   bool
}

func (b Text) strips(s *setter) []strip {
	_, line, c := s.size(b.Style)
	em, _, _ := s.size(b.Style)
	lines := c.wrap(b.Text, em, s.width-b.Indent)
	var list []strip
	for i, l := range lines {
		items, _ := s.lines([]string{l}, b.Style, b.Indent, 0, drawing.Start)
		st := strip{height: line, put: at(items...), keep: b.Keep}
		if i == 0 {
			st.gap = b.Gap * s.scale
		}
		// no single line alone at the top or bottom of a page
		if i == 0 && len(lines) > 1 || i == len(lines)-2 {
			st.keep = true
		}
		list = append(list, st)
	}
	return list
}

// Banner is a boxed line nobody overlooks: a heavy frame and the words.
type Banner struct {
	Style Style
	Text  string
	Gap   float64
	Keep  bool
}

func (b Banner) strips(s *setter) []strip {
	const pad = 2.0
	em, _, c := s.size(b.Style)
	items, h := s.lines(c.wrap(b.Text, em, s.width-2*pad), b.Style, pad, pad, drawing.Start)
	frame := box(0, 0, s.width, h+2*pad, "page-frame")
	if b.Style == Must {
		frame.Class = "page-frame-must"
	}
	return []strip{{gap: b.Gap * s.scale, height: h + 2*pad, put: at(append([]drawing.Item{frame}, items...)...), keep: b.Keep}}
}

// Fields are labels with a line to write on, so many to a row.
type Fields struct {
	Labels  []string
	Values  []string // by label, what is known already and need not be written in; may be shorter
	Columns int
	Gap     float64
}

func (b Fields) strips(s *setter) []strip {
	cols := max(b.Columns, 1)
	w := s.width / float64(cols)
	em, line, c := s.size(Small)
	var list []strip
	for i := 0; i < len(b.Labels); i += cols {
		var items []drawing.Item
		tall, filled := 1, 1
		for j := 0; j < cols && i+j < len(b.Labels); j++ {
			tall = max(tall, len(c.wrap(b.Labels[i+j], em, w-6)))
			filled = max(filled, len(c.wrap(b.value(i+j), em, w-6)))
		}
		h := float64(tall+filled-1)*line + 7.5
		for j := 0; j < cols && i+j < len(b.Labels); j++ {
			x := float64(j) * w
			text, _ := s.lines(c.wrap(b.Labels[i+j], em, w-6), Small, x, 0, drawing.Start)
			known := c.wrap(b.value(i+j), em, w-6)
			written, _ := s.lines(known, Small, x, h-2-float64(len(known))*line, drawing.Start)
			items = append(append(append(items, text...), written...), rule(x, h-1, x+w-6, h-1, "page-rule"))
		}
		gap := 1.5
		if i == 0 {
			gap = b.Gap
		}
		list = append(list, strip{gap: gap, height: h, put: at(items...)})
	}
	return list
}

func (b Fields) value(i int) string {
	if i < len(b.Values) {
		return b.Values[i]
	}
	return ""
}

// Picture is a drawing, or a part of one, scaled to the column; it leaves room for the
// head of a sheet and a few lines on its page.
type Picture struct {
	Scene drawing.Scene
	Part  [4]float64 // x0 y0 x1 y1 shown; all nought: the whole scene
	Gap   float64
	Grow  float64 // how far it may be enlarged; 0: not at all
	Tall  float64 // how tall it may be; 0: what the page leaves it
	Small bool    // grows and shrinks with the letters of its sheet
}

func (b Picture) strips(s *setter) []strip {
	part := b.Part
	if part == [4]float64{} {
		part = [4]float64{0, 0, b.Scene.Width, b.Scene.Height}
	}
	w, h := part[2]-part[0], part[3]-part[1]
	tall := s.tall - 34
	if b.Tall > 0 {
		tall = min(tall, b.Tall)
	}
	k := min(max(1, b.Grow), s.width/w, tall/h)
	if b.Small {
		k = min(s.scale, s.width/w, tall/h)
	}
	x := (s.width - k*w) / 2
	if b.Small {
		x = 0
	}
	put := []placed{{items: b.Scene.Items, x: x - k*part[0], y: -k * part[1], scale: k, clip: part}}
	return []strip{{gap: b.Gap, height: k * h, put: put}}
}

// Turned puts blocks on a page turned on its side.
type Turned struct {
	Blocks []Block
}

func (b Turned) strips(s *setter) []strip {
	var list []strip
	for _, inner := range b.Blocks {
		for _, st := range inner.strips(s.on(true)) {
			st.wide = true
			list = append(list, st)
		}
	}
	return list
}

// Rule is a line across the column.
type Rule struct {
	Gap float64 // white above
}

func (b Rule) strips(s *setter) []strip {
	return []strip{{gap: b.Gap * s.scale, height: 0.4, put: at(rule(0, 0.2, s.width, 0.2, "page-rule")), keep: true}}
}
