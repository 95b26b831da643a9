package pack

import (
	"strings"

	"rsc.io/qr"

	"tideover/internal/assembly"
	"tideover/internal/drawing"
	"tideover/internal/pack/paper"
)

// Measures of a tag to cut out [mm].
const (
	tagTall  = 32.0
	codeSide = 27.5
	tagPad   = 2.0
)

// labels are the tags to cut out, fold and hang: one for each handle, with its positions
// in words and in a code that any telephone reads without a network.
func (p *pack) labels() []paper.Block {
	b := []paper.Block{para(say("tags.how"))}
	list := p.tagged()
	if len(list) == 0 {
		return append(append(b, para(say("valves.none"))), p.foulTags()...)
	}
	for i := 0; i < len(list); i += 2 {
		cells := [][]paper.Block{p.label(list[i]), nil}
		if i+1 < len(list) {
			cells[1] = p.label(list[i+1])
		}
		row := paper.Row{Cells: cells, Widths: []float64{0, 0}, Pad: tagPad, Frame: "page-cut", Least: tagTall, Gap: 0}
		if i == 0 {
			row.Gap = 3
		}
		b = append(b, row)
	}
	return append(b, p.foulTags()...)
}

// tagged are the parts that carry a tag to read: what is turned by hand, street to home,
// then the drains.
func (p *pack) tagged() []*assembly.Part {
	list, drains := p.hand()
	for _, tag := range drains {
		list = append(list, &p.Assembly.Parts[p.Assembly.Index(tag)])
	}
	return list
}

// label is one tag: its name in big, what it is, where it stands, and the code.
func (p *pack) label(part *assembly.Part) []paper.Block {
	left := []paper.Block{paper.Text{Style: paper.Figure, Text: part.Tag}, paper.Text{Style: paper.SmallStrong, Text: shortName(part)}}
	for _, at := range p.stands(part) {
		left = append(left, paper.Text{Style: paper.Tiny, Text: at, Gap: 0.4})
	}
	right := []paper.Block{}
	if s := codeScene(p.codeText(part)); s != nil {
		right = append(right, paper.Picture{Scene: *s})
	}
	return []paper.Block{paper.Row{Cells: [][]paper.Block{left, right}, Widths: []float64{0, codeSide}, Gutter: 2}}
}

// stands says where a handle stands: one line for each position it takes, with the
// settings it takes it in; the normal one first.
func (p *pack) stands(part *assembly.Part) []string {
	by := map[string][]string{}
	var order []string
	for _, s := range p.Assembly.Settings {
		at := s.Positions[part.Tag]
		if at == "" {
			continue
		}
		if by[at] == nil {
			order = append(order, at)
		}
		by[at] = append(by[at], shortSetting(s.Name))
	}
	var list []string
	for i, at := range order {
		id := "tags.else"
		if i == 0 {
			id = "tags.normal"
		}
		settings := strings.Join(by[at], ", ")
		if len(order) == 1 {
			settings = say("tags.always")
		}
		list = append(list, say(id, "position", strings.ToUpper(positionName(at)), "settings", settings))
	}
	return list
}

// codeText is what a telephone shows: tag, what it is, position for each setting, job and
// date. No address: nothing is fetched.
func (p *pack) codeText(part *assembly.Part) string {
	lines := append([]string{part.Tag + " " + shortName(part)}, p.stands(part)...)
	name := []rune(oneLine(p.Job.Name))
	if len(name) > 40 {
		name = append(name[:39], '…')
	}
	return strings.Join(append(lines, string(name)+", "+p.date), "\n")
}

// codeScene draws a code (ISO/IEC 18004, level M) with its quiet zone: each run of dark
// modules in a row is one box, all of them one shape. Nil when the text does not fit.
func codeScene(text string) *drawing.Scene {
	code, err := qr.Encode(text, qr.M)
	if err != nil {
		return nil
	}
	const quiet = 3
	m := codeSide / float64(code.Size+2*quiet)
	var boxes []drawing.Item
	for y := range code.Size {
		for x := 0; x < code.Size; x++ {
			from := x
			for x < code.Size && code.Black(x, y) {
				x++
			}
			if x > from {
				boxes = append(boxes, drawing.Item{Kind: drawing.Area, Class: "page-filled",
					Box: [4]float64{m * float64(from+quiet), m * float64(y+quiet), m * float64(x+quiet), m * float64(y+1+quiet)}})
			}
		}
	}
	return &drawing.Scene{Title: text, Width: codeSide, Height: codeSide, Items: []drawing.Item{paper.Filled(boxes)}}
}
