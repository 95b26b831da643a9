package paper

import "tideover/internal/drawing"

// Row sets cells of blocks side by side; it is never broken across pages. A picture with
// its words is a row, and so is a line of labels to cut out.
type Row struct {
	Widths []float64 // mm at scale 1; 0: an equal share of what is left
	Cells  [][]Block
	Gutter float64 // between cells
	Gap    float64 // white above
	Pad    float64 // inside each cell
	Frame  string  // class of a box round each cell; "" for none
	Least  float64 // height at least, at scale 1
	Middle bool    // cells stand at half height, else at the top
}

func (b Row) strips(s *setter) []strip {
	widths := b.widths(s)
	bodies, tall := make([]strip, len(b.Cells)), b.Least*s.scale
	for i, blocks := range b.Cells {
		bodies[i] = stacked(blocks, s.narrowed(widths[i]-2*b.Pad))
		tall = max(tall, bodies[i].height+2*b.Pad)
	}
	out := strip{gap: b.Gap * s.scale, height: tall}
	x := 0.0
	for i, body := range bodies {
		if b.Frame != "" {
			out.put = append(out.put, at(box(x, 0, widths[i], tall, b.Frame))...)
		}
		down := b.Pad
		if b.Middle {
			down = (tall - body.height) / 2
		}
		out.put = append(out.put, moved(body.put, x+b.Pad, down)...)
		x += widths[i] + b.Gutter
	}
	return []strip{out}
}

func (b Row) widths(s *setter) []float64 {
	n := max(len(b.Widths), len(b.Cells))
	list := make([]float64, n)
	left, shares := s.width-b.Gutter*float64(n-1), 0
	for i := range list {
		if i < len(b.Widths) && b.Widths[i] > 0 {
			list[i] = b.Widths[i] * s.scale
			left -= list[i]
			continue
		}
		shares++
	}
	for i := range list {
		if list[i] == 0 {
			list[i] = max(left, 1) / float64(shares)
		}
	}
	return list
}

// stacked is blocks one under the other as a single strip.
func stacked(blocks []Block, s *setter) strip {
	var out strip
	for _, b := range blocks {
		for _, st := range b.strips(s) {
			if out.height > 0 {
				out.height += st.gap
			}
			out.put = append(out.put, moved(st.put, 0, out.height)...)
			out.height += st.height
		}
	}
	return out
}

// Photo is a picture of the site, as a JPEG, as wide as its column and no taller than Tall.
type Photo struct {
	JPEG          []byte
	Width, Height int     // pixels
	Tall          float64 // mm at most
}

func (b Photo) strips(s *setter) []strip {
	if b.Width <= 0 || b.Height <= 0 {
		return nil
	}
	k := s.width / float64(b.Width)
	if b.Tall > 0 {
		k = min(k, b.Tall/float64(b.Height))
	}
	w, h := k*float64(b.Width), k*float64(b.Height)
	return []strip{{height: h, put: []placed{{scale: 1, photo: &photo{b.JPEG, w, h}}}}}
}

// photo is a picture placed on a page. [mm]
type photo struct {
	jpeg   []byte
	wide   float64
	height float64
}

// Filled is a group of upright boxes, each its item's Box, that is inked as one shape: the
// squares of a code.
func Filled(boxes []drawing.Item) drawing.Item {
	return drawing.Item{Kind: drawing.Group, Class: "page-filled", Kids: boxes}
}
