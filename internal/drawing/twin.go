package drawing

import (
	"sort"
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/words"
)

// Table is the schematic as a table, for those who cannot see it: a heading, then each
// part with its tag, what it is, how it stands and what it is joined to.
func Table(a *assembly.Assembly, v View) [][]string {
	rows := [][]string{{
		words.Say("drawing.table.tag", nil), words.Say("drawing.table.what", nil),
		words.Say("drawing.table.state", nil), words.Say("drawing.table.joined", nil),
	}}
	links := linksOf(a)
	for i := range a.Parts {
		p := &a.Parts[i]
		rows = append(rows, []string{p.Tag, name(p), v.state(p), neighbours(a, links[i])})
	}
	return rows
}

// neighbours names what a part is joined to.
func neighbours(a *assembly.Assembly, links []link) string {
	list := make([]string, 0, len(links))
	for _, l := range links {
		tag := a.Parts[l.part].Tag
		if l.port == air || l.other == air {
			tag = words.Say("drawing.table.through-air", words.Args{"tag": tag})
		}
		list = append(list, tag)
	}
	return strings.Join(list, ", ")
}

// inWords tells the drawing: which tag joins which, street to home, and how the
// hand-turned parts stand.
func (k *sketch) inWords() string {
	var b strings.Builder
	b.WriteString(words.Say("drawing.desc.begin", words.Args{"setting": k.v.setting()}))
	for _, s := range k.inOrder() {
		var tags []string
		for _, c := range s.cells {
			tags = append(tags, k.part(c.part).Tag+k.onTee(c))
		}
		args := words.Args{"from": k.tagOf(s.from), "to": k.tagOf(s.to), "through": strings.Join(tags, ", ")}
		say := "drawing.desc.strand"
		if len(tags) == 0 {
			say = "drawing.desc.straight"
		}
		b.WriteString(" " + words.Say(say, args))
	}
	for i := range k.a.Parts {
		p := k.part(i)
		if at := k.v.turned(p); at != "" {
			b.WriteString(" " + words.Say("drawing.desc.stands", words.Args{"tag": p.Tag, "position": at}))
		}
	}
	return b.String()
}

// inOrder lists the strands street to home, each told the way its water goes.
func (k *sketch) inOrder() []strand {
	var list []strand
	for id := range k.g.strands {
		s := k.g.strands[id]
		if s.gone || !k.live(&s) {
			continue
		}
		if s.fromPort == air {
			s.reverse()
		}
		list = append(list, s)
	}
	sort.SliceStable(list, func(i, j int) bool { return list[i].first < list[j].first })
	return list
}

// onTee names what stands on a tee that is passed straight through.
func (k *sketch) onTee(c cell) string {
	var tags []string
	for _, s := range []stub{c.up, c.down} {
		for _, e := range s {
			tags = append(tags, k.part(e.part).Tag)
		}
	}
	if len(tags) == 0 {
		return ""
	}
	return " " + words.Say("drawing.desc.on-tee", words.Args{"tags": strings.Join(tags, ", ")})
}

func (k *sketch) tagOf(n int) string {
	if p := k.g.nodes[n].part; p >= 0 {
		return k.part(p).Tag
	}
	return words.Say("drawing.desc.corner", nil)
}
