package catalogue

import (
	"strings"

	"tideover/internal/quantity"
)

// asFound ends the name of a pipe family that describes old pipe as it is found: it is never
// bought.
const asFound = "-old"

// AsFound reports whether a size is of old pipe as it is found.
func AsFound(s quantity.Size) bool { return strings.HasSuffix(s.Family, asFound) }

// Wider is the next larger pipe of the same family, or new pipe of the size that old pipe
// was sold by; false where there is none, or the size is not in the table.
func (c *Catalogue) Wider(s quantity.Size) (quantity.Size, bool) {
	now, ok := c.Pipes[s]
	if !ok {
		return s, false
	}
	if AsFound(s) {
		fresh := quantity.Size{Family: strings.TrimSuffix(s.Family, asFound), Mark: s.Mark}
		_, ok := c.Pipes[fresh]
		return fresh, ok
	}
	best, found := s, false
	for size, row := range c.Pipes {
		if size.Family == s.Family && row.Bore > now.Bore && (!found || row.Bore < c.Pipes[best].Bore) {
			best, found = size, true
		}
	}
	return best, found
}
