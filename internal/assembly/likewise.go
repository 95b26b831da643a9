package assembly

import (
	"slices"

	"tideover/internal/catalogue"
	"tideover/internal/job"
)

// BuildLike lays out a job that differs from the one behind like in quantities alone, faster: what
// follows from how parts are joined is taken over wherever they came to be joined so again. It is
// what Build makes, value by value.
func BuildLike(like *Assembly, j *job.Job, c *catalogue.Catalogue, p *catalogue.Profile) (*Assembly, error) {
	return layOut(like, j, c, p)
}

// SharesSettings reports whether an assembly was laid out like another and is joined as that is.
func (a *Assembly) SharesSettings(o *Assembly) bool {
	return len(a.Settings) > 0 && len(a.Settings) == len(o.Settings) && &a.Settings[0] == &o.Settings[0]
}

// joinedAs reports whether two layouts have the same parts, joined and turned the same way.
func (a *Assembly) joinedAs(o *Assembly) bool {
	if len(a.Parts) != len(o.Parts) || !slices.Equal(a.Joins, o.Joins) || !slices.Equal(a.Sets, o.Sets) {
		return false
	}
	for i := range a.Parts {
		p, q := &a.Parts[i], &o.Parts[i]
		if p.Tag != q.Tag || p.Kind != q.Kind || p.Role != q.Role || p.Purpose != q.Purpose || len(p.Ports) != len(q.Ports) || !slices.Equal(p.Ways, q.Ways) {
			return false
		}
	}
	return true
}
