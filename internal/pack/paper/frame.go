package paper

import (
	"slices"

	"tideover/internal/drawing"
)

// headOf draws the head of a page and returns the y at which its content begins.
func (s *setter) headOf(sheet *Sheet, p *page) float64 {
	full := &setter{width: s.width, tall: s.tall, scale: 1}
	em, line, bold := full.size(SmallStrong)
	_, _, plain := full.size(Small)
	id := bold.trim(sheet.ID, em, s.width*0.45)
	room := s.width - bold.width(id, em) - 8
	items, _ := full.lines([]string{id}, SmallStrong, 0, 0, drawing.Start)
	name, _ := full.lines([]string{plain.trim(sheet.Right, em, room)}, Small, s.width, 0, drawing.End)
	items = append(append(items, name...), rule(0, line+0.8, s.width, line+0.8, "page-rule-strong"))
	y := line + 5
	if p.number == 1 {
		var text []drawing.Item
		text, y = full.titleOf(sheet, y)
		items = append(items, text...)
	}
	p.put = append(p.put, placed{items: items, x: left, y: top, scale: 1})
	return y
}

func (s *setter) titleOf(sheet *Sheet, y float64) ([]drawing.Item, float64) {
	em, _, c := s.size(Title)
	items, h := s.lines(c.wrap(sheet.Title, em, s.width), Title, 0, y, drawing.Start)
	y += h + 1
	em, _, c = s.size(Small)
	who, h := s.lines(c.wrap(sheet.Who, em, s.width), Small, 0, y, drawing.Start)
	return append(items, who...), y + h + 4
}

// foot draws what stands below every page: job, date and version; page of the sheet and
// page of the pack.
func foot(d *Document, p *page, n, all int) {
	size := d.Size.turned(p.wide)
	s := &setter{width: size.Width - left - right, scale: 1}
	em, _, c := s.size(Small)
	marks := d.Mark(p.number, p.of, n, all)
	room := s.width - c.width(marks, em) - 6
	items, _ := s.lines([]string{c.trim(d.Left, em, room)}, Small, 0, 2, drawing.Start)
	page, _ := s.lines([]string{marks}, Small, s.width, 2, drawing.End)
	items = append(append(items, page...), rule(0, 1, s.width, 1, "page-rule"))
	if lacking := lackingOn(d, p); len(lacking) > 0 && d.Lacks != nil {
		note, _ := s.lines([]string{c.trim(d.Lacks(lacking), 0.85*em, s.width)}, Small, 0, -3.2, drawing.Start)
		for i := range note {
			note[i].Size = 0.85 * em
		}
		items = append(items, note...)
	}
	p.put = append(p.put, placed{items: items, x: left, y: size.Height - bottom + 4, scale: 1})
}

// lackingOn returns the letters of a page that the face does not have, in order.
func lackingOn(d *Document, p *page) []rune {
	sheet := &d.Sheets[p.sheet]
	list := lacking(nil, d.Left+sheet.Right+sheet.ID)
	for _, g := range p.put {
		list = lackingIn(list, g.items)
	}
	slices.Sort(list)
	return slices.Compact(list)
}

func lackingIn(list []rune, items []drawing.Item) []rune {
	for i := range items {
		list = lacking(list, items[i].Text)
		list = lackingIn(list, items[i].Kids)
	}
	return list
}
