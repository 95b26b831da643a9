package drawing

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"sort"
	"strconv"
	"strings"
	"unicode"

	"tideover/internal/drawing/font"
)

// WriteSVG writes a scene as one standalone SVG file: millimetres, real text, a style
// table of classes, title and description for screen readers; no script and nothing
// fetched from elsewhere. The same scene and theme give the same bytes.
//
// Every text carries its length, so that another face than ours still fits its place.
// Colours are CSS variables with a plain value before them for readers that know none.
func WriteSVG(w io.Writer, s *Scene, t Theme) error {
	p := &svg{ids: map[string]int{}}
	p.open(s, t)
	for i := range s.Items {
		p.item(&s.Items[i])
	}
	p.str("</svg>\n")
	if p.bad != "" {
		return fmt.Errorf("drawing: svg of %q: %s", s.Title, p.bad)
	}
	_, err := w.Write(p.buf.Bytes())
	return err
}

type svg struct {
	buf    bytes.Buffer
	ids    map[string]int
	prefix string // of ids
	bad    string // the first number that is not one
}

func (p *svg) str(parts ...string) {
	for _, s := range parts {
		p.buf.WriteString(s)
	}
}

// num writes a number rounded half up to two decimals. A guard of 1e-6 of the last
// place keeps ties from flipping between machines; −0 is written 0.
func (p *svg) num(x float64) {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		if p.bad == "" {
			p.bad = fmt.Sprintf("a coordinate is %v", x)
		}
		return
	}
	r := math.Floor(x*100+0.5+1e-6) / 100
	if r == 0 {
		r = math.Abs(r)
	}
	p.buf.Write(strconv.AppendFloat(p.buf.AvailableBuffer(), r, 'f', -1, 64))
}

// attr writes name="value" for a number.
func (p *svg) attr(name string, x float64) {
	p.str(" ", name, `="`)
	p.num(x)
	p.str(`"`)
}

var escaper = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&#34;", "'", "&#39;")

// escape makes text safe between tags and in quotes; signs XML cannot hold become �.
func escape(s string) string {
	s = strings.Map(func(r rune) rune {
		if r == '\t' || r == '\n' || r == '\r' || r >= 0x20 && r != 0xFFFE && r != 0xFFFF {
			return r
		}
		return unicode.ReplacementChar
	}, strings.ToValidUTF8(s, "\uFFFD"))
	return escaper.Replace(s)
}

func (p *svg) open(s *Scene, t Theme) {
	p.str(`<svg xmlns="http://www.w3.org/2000/svg" class="tideover" role="graphics-document document"`)
	p.str(` viewBox="0 0 `)
	p.num(s.Width)
	p.str(" ")
	p.num(s.Height)
	p.str(`" width="`)
	p.num(s.Width)
	p.str(`mm" height="`)
	p.num(s.Height)
	p.str("mm\">\n<title>", escape(s.Title), "</title>\n<desc>", escape(s.Desc), "</desc>\n")
	p.style(s, t)
	p.str(`<rect class="paper"`)
	p.attr("width", s.Width)
	p.attr("height", s.Height)
	p.str("/>\n")
}

// style writes the table of the classes this scene uses.
func (p *svg) style(s *Scene, t Theme) {
	used := map[string]bool{"paper": true}
	s.Walk(func(it *Item) {
		if it.Kind != Group {
			used[it.Class] = true
		}
	})
	list := make([]string, 0, len(used))
	for c := range used {
		list = append(list, c)
	}
	sort.Strings(list)
	p.str("<style>\n.tideover{", variables(t.Light), "}\n")
	if t.Dark != nil {
		p.str("@media (prefers-color-scheme:dark){.tideover{", variables(t.Dark), "}}\n")
	}
	p.str(".tideover text{font-family:'", font.Family, "',sans-serif;font-kerning:none;font-variant-ligatures:none}\n")
	for _, c := range list {
		p.rule(c, t.Light)
	}
	p.str("</style>\n")
}

// variables lists a palette in the order of the colours' names.
func variables(pal Palette) string {
	names := make([]string, 0, len(pal))
	for c := range pal {
		names = append(names, string(c))
	}
	sort.Strings(names)
	var b strings.Builder
	for _, n := range names {
		b.WriteString("--" + n + ":" + pal[Colour(n)] + ";")
	}
	return strings.TrimSuffix(b.String(), ";")
}

func (p *svg) rule(class string, pal Palette) {
	s, ok := Style(class)
	if !ok && p.bad == "" {
		p.bad = fmt.Sprintf("class %q stands in no style table", class)
	}
	p.str(".tideover ", selector(class), "{", paint("fill", s.Fill, pal), ";")
	if s.Width > 0 {
		p.str(paint("stroke", s.Line, pal), ";stroke-width:")
		p.num(s.Width)
		p.str(";stroke-linejoin:round")
		if !s.Square {
			p.str(";stroke-linecap:round")
		}
		p.dash(s.Dash)
	} else {
		p.str("stroke:none")
	}
	if s.Bold {
		p.str(";font-weight:600")
	}
	p.str("}\n")
}

func (p *svg) dash(list []float64) {
	for i, d := range list {
		p.str([2]string{";stroke-dasharray:", " "}[min(i, 1)])
		p.num(d)
	}
}

// paint sets a property to a colour: the plain value, then the variable.
func paint(property string, c Colour, pal Palette) string {
	if c == None {
		return property + ":none"
	}
	return property + ":" + pal[c] + ";" + property + ":var(--" + string(c) + ")"
}

func (p *svg) item(it *Item) {
	switch it.Kind {
	case Group:
		p.group(it)
		return
	case Line:
		p.points("polyline", it)
	case Area:
		p.points("polygon", it)
	case Circle:
		p.start("circle", it)
		p.attr("cx", it.Pts[0])
		p.attr("cy", it.Pts[1])
		p.attr("r", it.Pts[2])
		p.str("/>\n")
	case Arc:
		p.arc(it)
	case Text:
		p.text(it)
	}
}

func (p *svg) start(element string, it *Item) {
	p.str("<", element, ` class="`, escape(it.Class), `"`)
	if it.Tag != "" {
		p.str(` data-tag="`, escape(it.Tag), `"`)
	}
}

// group writes a group; one that shows a part carries the part's tag and an id made of
// it, the same whatever else is drawn.
func (p *svg) group(it *Item) {
	if it.Link != nil {
		p.str(`<a href="`, escape(it.Link.To), `" aria-label="`, escape(it.Link.Says), `">`)
		defer p.str("</a>\n")
	}
	p.str("<g")
	if it.Tag != "" {
		p.str(` id="`, escape(p.id(it.Tag)), `" data-tag="`, escape(it.Tag), `"`)
	}
	if it.Class != "" {
		p.str(` class="`, escape(it.Class), `"`)
	}
	if it.Title != "" {
		p.str(` role="graphics-symbol img"><title>`, escape(it.Title), "</title>\n")
	} else {
		p.str(">\n")
	}
	for i := range it.Kids {
		p.item(&it.Kids[i])
	}
	p.str("</g>\n")
}

// id makes an id of a tag: "part-V1", and "part-V1-2" for a second group that shows it.
func (p *svg) id(tag string) string {
	id := p.prefix + "part-" + strings.Join(strings.Fields(tag), "_")
	p.ids[id]++
	if n := p.ids[id]; n > 1 {
		id += "-" + strconv.Itoa(n)
	}
	return id
}

func (p *svg) points(element string, it *Item) {
	p.start(element, it)
	p.str(` points="`)
	for i, v := range it.Pts {
		if i > 0 {
			p.str(" ")
		}
		p.num(v)
	}
	p.str("\"/>\n")
}

func (p *svg) arc(it *Item) {
	x, y, r, from, to := it.Pts[0], it.Pts[1], it.Pts[2], it.Pts[3], it.Pts[4]
	at := func(deg float64) {
		s, c := math.Sincos(deg * math.Pi / 180)
		p.num(x + r*c)
		p.str(" ")
		p.num(y + r*s)
	}
	p.start("path", it)
	p.str(` d="M`)
	at(from)
	p.str("A")
	p.num(r)
	p.str(" ")
	p.num(r)
	p.str([]string{" 0 0 1 ", " 0 1 1 "}[btoi(to-from > 180)])
	at(to)
	p.str("\"/>\n")
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

func (p *svg) text(it *Item) {
	p.start("text", it)
	p.attr("x", it.Pts[0])
	p.attr("y", it.Pts[1])
	p.attr("font-size", it.Size)
	if it.Anchor != Start {
		p.str(` text-anchor="`, []string{"start", "middle", "end"}[it.Anchor], `"`)
	}
	if it.Text != "" {
		p.attr("textLength", it.Box[2]-it.Box[0])
		p.str(` lengthAdjust="spacingAndGlyphs"`)
	}
	p.str(">", escape(it.Text), "</text>\n")
}
