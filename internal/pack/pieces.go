package pack

import (
	"math"

	"tideover/internal/drawing"
	"tideover/internal/pack/paper"
	"tideover/internal/words"
)

// white is the edge kept round a piece of a drawing [mm].
const white = 2.0

// apart separates a schematic from its legend. Of the legend the lines and symbols stay:
// what each tag is stands in the table of parts.
func apart(s *drawing.Scene) (drawn, key *drawing.Scene) {
	drawn, key = &drawing.Scene{Width: s.Width, Height: s.Height}, &drawing.Scene{Width: s.Width}
	for _, it := range s.Items {
		switch {
		case it.Class == "legend":
			drawn.Height = it.Box[1] - white
			key.Items = lines(it.Kids)
		case it.Class != "paper" && it.Class != "title":
			drawn.Items = append(drawn.Items, it)
		}
	}
	for _, it := range key.Items {
		key.Height = math.Max(key.Height, it.Box[3]+white)
	}
	return drawn, key
}

// lines are a legend's items above its list of tags.
func lines(kids []drawing.Item) []drawing.Item {
	title, bottom := words.Say("drawing.legend.tags", nil), math.Inf(1)
	for _, it := range kids {
		if it.Kind == drawing.Text && it.Text == title {
			bottom = it.Box[1]
		}
	}
	var kept []drawing.Item
	for _, it := range kids {
		if it.Box[3] <= bottom && it.Class != "hair" {
			kept = append(kept, it)
		}
	}
	return kept
}

// The smallest scales at which letters of 2.2 mm can be read: on a drawing that one wants
// to see whole, and on its key.
const (
	leastDrawn = 0.82
	leastKey   = 0.95
)

// pieces sets a drawing into a column of that width [mm] in as many pieces as it takes to be legible,
// left to right, cut where the fewest things are in the way.
func pieces(s *drawing.Scene, least, grow, column float64) []paper.Block {
	box := extent(s.Items)
	if len(s.Items) == 0 {
		return nil
	}
	n := int(math.Ceil(least * (box[2] - box[0]) / column))
	from := box[0] - white
	var b []paper.Block
	for i := 1; i <= n; i++ {
		to := box[2] + white
		if i < n {
			to = quietest(s.Items, box[0]+(box[2]-box[0])*float64(i)/float64(n), (box[2]-box[0])/float64(n)/4)
		}
		b = append(b, paper.Picture{Scene: *s, Part: [4]float64{from, box[1] - white, to, box[3] + white}, Gap: 2, Grow: grow})
		from = to
	}
	return b
}

// extent is the box round all items.
func extent(items []drawing.Item) [4]float64 {
	b := [4]float64{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, it := range items {
		b = [4]float64{math.Min(b[0], it.Box[0]), math.Min(b[1], it.Box[1]), math.Max(b[2], it.Box[2]), math.Max(b[3], it.Box[3])}
	}
	return b
}

// quietest is the x near a place at which the fewest symbols and letters would be cut,
// the nearest of them; a line may be cut: it is the same line on both pieces.
func quietest(items []drawing.Item, near, reach float64) float64 {
	best, cost := near, math.Inf(1)
	for d := -reach; d <= reach; d += 0.5 {
		c := float64(crossed(items, near+d)) + math.Abs(d)/(10*reach)
		if c < cost {
			best, cost = near+d, c
		}
	}
	return best
}

func crossed(items []drawing.Item, x float64) int {
	n := 0
	for i := range items {
		it := &items[i]
		switch {
		case it.Kind == drawing.Group:
			n += crossed(it.Kids, x)
		case it.Kind != drawing.Line && it.Box[0] < x && x < it.Box[2]:
			n++
		}
	}
	return n
}
