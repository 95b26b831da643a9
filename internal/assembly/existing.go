package assembly

import "tideover/internal/job"

// kinds are the kinds of part the job's existing parts can be.
var kinds = map[string]Kind{"store": Store, "pump": Pump, "vessel": Vessel, "float-valve": FloatValve, "hand-valve": HandValve,
	"non-return": NonReturn, "strainer": Strainer, "meter": Meter, "heater": Heater, "pipe": Run}

// keepExisting marks the parts that are there already and are kept: the first not yet
// kept of the same catalogue row or, where the row was not named, of the same kind.
// An existing part without a place in the arrangement is listed in Unplaced.
func (b *build) keepExisting() {
	for _, e := range b.job.Existing {
		if e.Decision != "keep" {
			continue
		}
		if i := b.placeFor(e); i >= 0 {
			b.a.Parts[i].Kept = true
		} else {
			b.a.Unplaced = append(b.a.Unplaced, e.Tag)
		}
	}
}

func (b *build) placeFor(e job.Existing) int {
	for i := range b.a.Parts {
		p := &b.a.Parts[i]
		if p.Kept || p.Row == nil || p.Kind != kinds[e.Kind] {
			continue
		}
		if !named(e.Row) || p.Row.Ref().Key == e.Row {
			return i
		}
	}
	return -1
}
