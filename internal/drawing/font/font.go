// Package font carries the one face of page, drawing and paper, IBM Plex Sans in two
// weights (SIL Open Font License 1.1, OFL.txt), and measures text set in it.
//
// Stage: a leaf under drawing. It takes text and a size in millimetres and gives its
// width from the font's own advances; it gives the TrueType bytes to writers that embed
// them. It shapes nothing: no kerning, no ligatures, so that every writer agrees. Held
// against a real browser's lengths by the drawings' TestAgainstBrowser: within 0.21 % of
// every text over 5 mm.
package font

import (
	_ "embed"
	"encoding/binary"
	"fmt"
)

// Family is the name of the face, as a style sheet asks for it.
const Family = "IBM Plex Sans"

// Ascent, Descent and CapHeight are heights above (below) the baseline per em: what a
// line of text may reach, and the height of a capital. Both weights share them.
const (
	Ascent    = 0.78 // the top of d, l and of accents on small letters
	Descent   = 0.22
	CapHeight = 0.698
)

// Regular is the TrueType file of the regular weight.
//
//go:embed IBMPlexSans-Regular.ttf
var Regular []byte

// SemiBold is the TrueType file of the heavier weight.
//
//go:embed IBMPlexSans-SemiBold.ttf
var SemiBold []byte

var faces = [2]face{open("regular", Regular), open("semibold", SemiBold)}

// TTF returns the TrueType file of a weight; the caller must not change it.
func TTF(bold bool) []byte {
	if bold {
		return SemiBold
	}
	return Regular
}

// Advance returns the width of text [mm] set at size [mm, the em], without kerning. A
// rune the face lacks counts as the face's own missing-glyph box.
func Advance(text string, size float64, bold bool) float64 {
	f := &faces[0]
	if bold {
		f = &faces[1]
	}
	units := 0
	for _, r := range text {
		if r < int32(len(f.ascii)) {
			units += int(f.ascii[r])
			continue
		}
		units += f.advance(f.glyph(r))
	}
	return float64(units) * size / f.em
}

// Has reports whether both weights carry r.
func Has(r rune) bool { return faces[0].glyph(r) != 0 && faces[1].glyph(r) != 0 }

// Fit returns text, or as much of its start as fits width [mm] with an ellipsis after it.
func Fit(text string, size float64, bold bool, width float64) string {
	if Advance(text, size, bold) <= width {
		return text
	}
	room := width - Advance("…", size, bold)
	end := 0
	for i, r := range text {
		if Advance(text[:i]+string(r), size, bold) > room {
			break
		}
		end = i + len(string(r))
	}
	return text[:end] + "…"
}

// face reads advances straight from the file: the segments of its Unicode map (cmap
// format 4) and its horizontal metrics (OpenType 1.9, tables cmap, hhea, hmtx).
type face struct {
	em       float64
	segments int    // segCount of the map
	ends     []byte // endCode[segCount], then a pad, startCode, idDelta, idRangeOffset and glyphs
	hmtx     []byte
	metrics  int // entries of hmtx that carry an advance; the last serves the rest
	ascii    [128]uint16
}

func u16(b []byte, at int) int { return int(binary.BigEndian.Uint16(b[at:])) }

// open finds the tables. The files are our own, so a fault in them is ours too.
func open(name string, ttf []byte) face {
	tables := map[string][]byte{}
	for i := range u16(ttf, 4) {
		entry := ttf[12+16*i:]
		from, size := binary.BigEndian.Uint32(entry[8:]), binary.BigEndian.Uint32(entry[12:])
		tables[string(entry[:4])] = ttf[from : from+size]
	}
	f := face{em: float64(u16(tables["head"], 18)), metrics: u16(tables["hhea"], 34), hmtx: tables["hmtx"]}
	cmap := tables["cmap"]
	for i := range u16(cmap, 2) {
		sub := cmap[binary.BigEndian.Uint32(cmap[4+8*i+4:]):]
		if u16(sub, 0) == 4 {
			f.segments, f.ends = u16(sub, 6)/2, sub[14:]
		}
	}
	if f.segments == 0 || f.em == 0 || f.metrics == 0 {
		panic(fmt.Sprintf("font: %s: needs head, hhea, hmtx and a format 4 cmap", name))
	}
	for r := range f.ascii {
		f.ascii[r] = uint16(f.advance(f.glyph(rune(r))))
	}
	return f
}

// glyph returns the glyph of r, 0 when the face lacks it.
func (f *face) glyph(r rune) int {
	if r > 0xFFFF {
		return 0
	}
	c, lo, hi := int(r), 0, f.segments
	for lo < hi {
		if mid := (lo + hi) / 2; u16(f.ends, 2*mid) < c {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	if lo == f.segments {
		return 0
	}
	starts := 2*f.segments + 2
	deltas, offsets := starts+2*f.segments, starts+4*f.segments
	start := u16(f.ends, starts+2*lo)
	if c < start {
		return 0
	}
	delta, offset := u16(f.ends, deltas+2*lo), u16(f.ends, offsets+2*lo)
	if offset == 0 {
		return (c + delta) & 0xFFFF
	}
	g := u16(f.ends, offsets+2*lo+offset+2*(c-start))
	if g == 0 {
		return 0
	}
	return (g + delta) & 0xFFFF
}

func (f *face) advance(glyph int) int {
	return u16(f.hmtx, 4*min(glyph, f.metrics-1))
}
