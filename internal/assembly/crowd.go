package assembly

import (
	"strconv"

	"tideover/internal/words"
)

// What one job may hold. Every draw-off is worked out in every mode with every part of the home, so
// that time and memory grow with the product of the two: with as many as this a check takes half a
// minute and half a gigabyte, and no home comes near it.
const (
	mostOutlets = 200
	mostListed  = 600 // parts of a list, and joins
)

// crowded refuses what cannot be judged in bounds, before it is laid out.
func (b *build) crowded() {
	for _, l := range []struct {
		path, id string
		n, most  int
	}{
		{"outlets", "assembly.crowded-outlets", len(b.job.Outlets), mostOutlets},
		{"parts", "assembly.crowded-parts", len(b.job.Parts), mostListed},
		{"joins", "assembly.crowded-joins", len(b.job.Joins), mostListed},
	} {
		if l.n > l.most {
			b.fault(l.path, l.id, words.Args{"n": strconv.Itoa(l.n), "most": strconv.Itoa(l.most)})
		}
	}
}
