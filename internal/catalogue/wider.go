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

// Wider is the next larger pipe of the same family, new; false where there is none, or the
// size is not in the table. New pipe of the size that old pipe was sold by is larger than that.
func (c *Catalogue) Wider(s quantity.Size) (quantity.Size, bool) {
	now, ok := c.Pipes[s]
	if !ok {
		return s, false
	}
	family := strings.TrimSuffix(s.Family, asFound)
	best, found := s, false
	for size, row := range c.Pipes {
		if size.Family == family && row.Bore > now.Bore && (!found || row.Bore < c.Pipes[best].Bore) {
			best, found = size, true
		}
	}
	return best, found
}
