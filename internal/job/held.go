package job

import "tideover/internal/quantity"

// Held returns what the job holds at a path, given or assumed: a quantity.Quantity, or an
// int, string, quantity.Size, []Spell or []Slot; and where an assumed quantity is from: a
// source key, or the path whose value it takes. ok is false where there is no such place.
func (j *Job) Held(path string) (value any, from string, ok bool) {
	l := plan()[starred(path)]
	item := j.item(path)
	if l == nil || l.list >= 0 && item < 0 {
		return nil, "", false
	}
	place := l.at(j, item)
	if l.dim != quantity.NoDim {
		return l.quantityAt(place), place.Field(valFrom).String(), true
	}
	return place.Interface(), "", true
}
