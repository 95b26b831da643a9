package drawing

import (
	"fmt"
	"io"
	"sort"
	"strings"

	"tideover/internal/drawing/font"
)

// WriteInline writes a scene as an SVG element to stand in a page: like WriteSVG, but
// without a style of its own, which StyleSheet gives once for all, and without a size, which
// the page gives. Its ids begin with prefix, so that several stand in one page.
func WriteInline(w io.Writer, s *Scene, prefix string) error {
	p := &svg{ids: map[string]int{}, prefix: prefix}
	p.str(`<svg class="tideover" role="graphics-document document" viewBox="0 0 `)
	p.num(s.Width)
	p.str(" ")
	p.num(s.Height)
	p.str("\">\n<title>", escape(s.Title), "</title>\n<desc>", escape(s.Desc), "</desc>\n")
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

// StyleSheet is the style table of every class, for pages that hold drawings inline. The
// colours are variables of the root: light ones; dark ones where the reader's screen
// prefers them, unless the root's data-look says otherwise.
func StyleSheet(t Theme) []byte {
	p := &svg{}
	p.str(":root{", variables(t.Light), "}\n")
	p.str("@media (prefers-color-scheme:dark){:root:not([data-look=light]){", variables(t.Dark), "}}\n")
	p.str(":root[data-look=dark]{", variables(t.Dark), "}\n")
	p.str(".tideover text{font-family:'", font.Family, "',sans-serif;font-kerning:none;font-variant-ligatures:none}\n")
	list := make([]string, 0, len(styles))
	for c := range styles {
		list = append(list, c)
	}
	// A class of more words overrides those it is made of, as the table means it.
	sort.Slice(list, func(i, j int) bool {
		if a, b := strings.Count(list[i], " "), strings.Count(list[j], " "); a != b {
			return a < b
		}
		return list[i] < list[j]
	})
	for _, c := range list {
		p.rule(c, t.Light)
	}
	return p.buf.Bytes()
}
