package catalogue

import "tideover/internal/quantity"

// Wider is the next larger pipe of the same family; false where there is none, or the size is
// not in the table.
func (c *Catalogue) Wider(s quantity.Size) (quantity.Size, bool) {
	now, ok := c.Pipes[s]
	if !ok {
		return s, false
	}
	best, found := s, false
	for size, row := range c.Pipes {
		if size.Family == s.Family && row.Bore > now.Bore && (!found || row.Bore < c.Pipes[best].Bore) {
			best, found = size, true
		}
	}
	return best, found
}
