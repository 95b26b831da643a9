package paper

// Columns sets blocks in narrower columns side by side, read down the first and then
// down the next. On their last page the columns end at about the same height.
type Columns struct {
	N      int
	Blocks []Block
	Gap    float64 // white above
}

// alley is the white between columns of text. [mm]
const alley = 6.0

// least is the height below which columns are not begun at the foot of a page. [mm]
const leastColumn = 28.0

func (b Columns) strips(s *setter) []strip {
	n := max(b.N, 1)
	inner := s.narrowed((s.width - alley*float64(n-1)) / float64(n))
	var list []strip
	for _, block := range b.Blocks {
		for _, st := range block.strips(inner) {
			st.cols, st.step = n, inner.width+alley
			list = append(list, st)
		}
	}
	if len(list) > 0 {
		list[0].gap = b.Gap * s.scale
	}
	return list
}

// narrowed is the setter of a column so wide.
func (s *setter) narrowed(width float64) *setter {
	inner := *s
	inner.width = width
	inner.side = &inner
	return &inner
}

// run returns how many strips from the first on stand in the same columns.
func run(list []strip) int {
	n := 0
	for n < len(list) && list[n].cols == list[0].cols && list[n].wide == list[0].wide {
		n++
	}
	return n
}

// columns places a run of strips set in columns, page after page.
func (f *filler) columns(list []strip) {
	for len(list) > 0 {
		y := f.y
		if !f.fresh {
			y += list[0].gap
		}
		room := f.room() - y
		if !f.fresh && room < leastColumn {
			f.turn(strip{wide: list[0].wide})
			continue
		}
		poured, used, tall := pour(list, room)
		if used == len(list) {
			poured, tall = balanced(list, poured, tall)
		}
		for c, col := range poured {
			f.y = y
			for _, st := range col {
				f.fresh = true // the gap is already in the strip's own place
				st.put = moved(st.put, float64(c)*list[0].step, st.gap)
				f.drop(strip{height: st.gap + st.height, put: st.put})
			}
		}
		f.y, f.fresh = y+tall, false
		list = list[used:]
		if len(list) > 0 {
			f.turn(strip{wide: list[0].wide})
		}
	}
}

// moved shifts what a strip draws.
func moved(put []placed, dx, dy float64) []placed {
	out := make([]placed, len(put))
	for i, g := range put {
		g.x, g.y = g.x+dx, g.y+dy
		out[i] = g
	}
	return out
}

// pour fills the columns of one page and says how many strips went in and how tall the
// tallest column is. At the head of a column a strip's gap is dropped, and the head of
// its table comes back.
func pour(list []strip, room float64) (cols [][]strip, used int, tall float64) {
	for c := 0; c < list[0].cols && used < len(list); c++ {
		var col []strip
		h := 0.0
		put := func(st strip) {
			if len(col) == 0 {
				st.gap = 0
			}
			col = append(col, st)
			h += st.gap + st.height
		}
		for used < len(list) {
			n, together := group(list[used:], len(col) == 0)
			if head := list[used].head; len(col) == 0 && head != nil {
				again := *head
				put(again)
			}
			if h+together > room && len(col) > 0 && !(len(col) == 1 && list[used].head != nil) {
				break
			}
			for _, st := range list[used : used+n] {
				if h+st.gap+st.height > room && len(col) > 1 {
					break
				}
				put(st)
				used++
			}
			if h > room {
				break
			}
		}
		cols, tall = append(cols, col), max(tall, h)
	}
	return cols, used, tall
}

// balanced lowers the room until the run no longer fits, and keeps the last that did.
func balanced(list []strip, cols [][]strip, tall float64) ([][]strip, float64) {
	low, high := 0.0, tall
	for range 18 {
		room := (low + high) / 2
		try, used, h := pour(list, room)
		if used < len(list) || h > room {
			low = room
			continue
		}
		cols, tall, high = try, h, room
	}
	return cols, tall
}
