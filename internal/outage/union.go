package outage

import (
	"cmp"
	"slices"
)

// union sorts and joins the spells of dst[begin:], which may overlap, so that they come
// out in order and apart. What begins before the spell that ended last
// in an earlier year (after) begins there instead, and what lies within it falls away.
func union(dst []Spell, begin int, after float64) []Spell {
	slices.SortFunc(dst[begin:], func(a, b Spell) int { return cmp.Compare(a.From, b.From) })
	kept := begin
	for _, s := range dst[begin:] {
		switch {
		case kept > begin && s.From <= dst[kept-1].To:
			dst[kept-1].To = max(dst[kept-1].To, s.To)
			continue
		case kept == begin && s.From < after && s.From > 0:
			s.From = after
		}
		if s.To > s.From {
			dst[kept] = s
			kept++
		}
	}
	return dst[:kept]
}
