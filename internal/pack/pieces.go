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

// leastDrawn is the smallest scale at which letters of 2.2 mm on a drawing can be read
// that one wants to see whole.
const leastDrawn = 0.76

// Measures of the key [mm]: how far left of its text a mark begins at most, how far its
// middle stands above or below, and the columns it is set in.
const (
	markReach = 15.0
	markRise  = 3.4
	keyWidth  = 175.0
	keyCols   = 2
	keyRow    = 6.4
)

// reset sets a legend's entries, each a mark with its words, in columns as wide as the
// sheet: a legend is as wide as its drawing, which a sheet is not.
func reset(items []drawing.Item) *drawing.Scene {
	var list [][]drawing.Item
	for _, it := range items {
		if !isWords(it) {
			continue
		}
		marks := beside(items, it)
		if len(marks) == 0 && len(list) > 0 { // a second line of the entry above
			list[len(list)-1] = append(list[len(list)-1], it)
			continue
		}
		list = append(list, append(marks, it))
	}
	out := &drawing.Scene{Width: keyWidth}
	per := (len(list) + keyCols - 1) / keyCols
	for i, entry := range list {
		text := entry[len(entry)-1]
		for _, it := range entry {
			if isWords(it) {
				text = it
				break
			}
		}
		x, y := float64(i/per)*keyWidth/keyCols, keyRow*(float64(i%per)+0.5)
		for _, it := range entry {
			it.Shift(x+markReach-text.Box[0], y-(text.Box[1]+text.Box[3])/2)
			out.Items = append(out.Items, it)
			out.Height = max(out.Height, it.Box[3]+white)
		}
	}
	return out
}

// isWords reports whether an item is the words of an entry of the legend.
func isWords(it drawing.Item) bool { return it.Kind == drawing.Text && it.Class == "note" }

// beside returns the marks left of a text.
func beside(items []drawing.Item, text drawing.Item) []drawing.Item {
	var marks []drawing.Item
	middle := (text.Box[1] + text.Box[3]) / 2
	for _, it := range items {
		y := (it.Box[1] + it.Box[3]) / 2
		inside := it.Box[0] >= text.Box[0]-markReach && it.Box[2] <= text.Box[0]+0.5
		if inside && y > middle-markRise && y < middle+markRise && !isWords(it) && it.Class != "label strong" {
			marks = append(marks, it)
		}
	}
	return marks
}

// pieces sets a drawing into a column of that width [mm] in as many pieces as it takes to be legible,
// left to right, cut where the fewest things are in the way.
func pieces(s *drawing.Scene, column float64) []paper.Block {
	box := extent(s.Items)
	if len(s.Items) == 0 {
		return nil
	}
	n := int(math.Ceil(leastDrawn * (box[2] - box[0]) / column))
	from := box[0] - white
	var b []paper.Block
	for i := 1; i <= n; i++ {
		to := box[2] + white
		if i < n {
			to = quietest(s.Items, box[0]+(box[2]-box[0])*float64(i)/float64(n), (box[2]-box[0])/float64(n)/4)
		}
		b = append(b, paper.Picture{Scene: *s, Part: [4]float64{from, box[1] - white, to, box[3] + white}, Gap: 2, Grow: 1.6})
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
