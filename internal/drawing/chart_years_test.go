package drawing

import (
	"strings"
	"testing"
)

// TestSizePicture reads the picture back: where the water becomes too old and what share is
// enough stand where both scales put them, the scale ends at all of a hundred, and a window
// is white.
func TestSizePicture(t *testing.T) {
	c := sampleSize()
	p := c.plot(20)
	if x, want := c.fresh(p), p.box[0]+(p.box[2]-p.box[0])*2.5/(3.5*1.05); !near(x, want) {
		t.Errorf("2.5 m³ stands at %.2f, want %.2f", x, want)
	}
	if last := p.y.text(len(p.y.ticks) - 1); last != "100 %" {
		t.Errorf("the scale ends at %s", last)
	}
	strokes := func(fresh float64) (n int) {
		c.FreshTo = fresh
		c.Scene().Walk(func(it *Item) {
			if it.Class == "chart hatch" {
				n++
			}
		})
		return n
	}
	if all, some, none := strokes(1e9), strokes(2.5), strokes(0); !(all < some && some < none) {
		t.Errorf("hatching: %d strokes where all is fresh, %d, %d where nothing is", all, some, none)
	}
}

// TestTraceTable: a row every six hours with the level there and what lasted how long since.
func TestTraceTable(t *testing.T) {
	c := sampleTrace()
	c.Under = []Strip{{Name: "main off", Times: []Stretch{{86400 + 3600, 86400 + 9*3600}}}}
	rows := c.Table()
	if len(rows) != 1+7*4+1 {
		t.Fatalf("%d rows", len(rows))
	}
	if got := strings.Join(rows[6], "; "); got != "Thu 06:00; 2450 L; 5.0 h" {
		t.Errorf("a day and six hours in: %s", got)
	}
	if got := strings.Join(rows[7], "; "); got != "Thu 12:00; 2100 L; 3.00 h" {
		t.Errorf("six hours later: %s", got)
	}
}

// TestCalendarPicture: a spell of the third of March lies in the third row, at the third day.
func TestCalendarPicture(t *testing.T) {
	c := &CalendarChart{Strips: []Strip{{Name: "off", Kind: Filled, Times: []Stretch{{61 * 86400, 61.5 * 86400}}}}}
	var bars []*Item
	c.Scene().Walk(func(it *Item) {
		if it.Class == "chart bar" {
			bars = append(bars, it)
		}
	})
	left := margin + monthName
	day := (chartWidth - margin - left) / 31
	if len(bars) != 2 { // the key's sample is the first
		t.Fatalf("%d bars", len(bars))
	}
	if b := bars[1].Pts; !near(min(b[0], b[4]), left+2*day) || !near(max(b[0], b[4]), left+2.5*day) {
		t.Errorf("drawn from %.2f to %.2f, want %.2f to %.2f", b[0], b[4], left+2*day, left+2.5*day)
	}
	if rows := c.Table(); rows[3][1] != "1, 12.0 h" || rows[2][1] != "–" {
		t.Errorf("March %q, February %q", rows[3][1], rows[2][1])
	}
}
