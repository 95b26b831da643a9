package paper

import (
	"strconv"

	"tideover/internal/drawing"
)

// inks are the classes of the page itself; those of drawings are the drawing's own.
// Weight and pattern carry the meaning: every class survives a black-and-white print.
var inks = map[string]drawing.Stroke{
	"page-text":        {Fill: drawing.Ink},
	"page-strong":      {Fill: drawing.Ink, Bold: true},
	"page-must":        {Fill: drawing.Rust, Bold: true},
	"page-rule":        {Width: 0.15, Line: drawing.Hair},
	"page-rule-strong": {Width: 0.3, Line: drawing.Ink},
	"page-frame":       {Width: 0.35, Line: drawing.Ink},
	"page-frame-must":  {Width: 0.9, Line: drawing.Rust},
	"page-write":       {Width: 0.25, Line: drawing.Hair},
	"page-tick":        {Width: 0.3, Line: drawing.Ink},
	"page-mark":        {Width: 0.25, Line: drawing.Ink},
	"page-cut":         {Width: 0.2, Line: drawing.Hair, Dash: []float64{1.6, 1.2}},
	"page-filled":      {Fill: drawing.Ink},
	"pict-line":        {Width: 0.7, Line: drawing.Ink},
	"pict-pipe":        {Width: 1.5, Line: drawing.Ink, Square: true},
	"pict-thick":       {Width: 2.6, Line: drawing.Ink},
	"pict-open":        {Width: 0.7, Line: drawing.Ink, Fill: drawing.Paper},
	"pict-full":        {Width: 0.4, Line: drawing.Ink, Fill: drawing.Ink},
	"pict-cross":       {Width: 1.1, Line: drawing.Ink},
	"pict-tag":         {Fill: drawing.Ink, Bold: true},
	"page-mark-full":   {Width: 0.25, Line: drawing.Ink, Fill: drawing.Ink},
}

// inkOf returns how an item is drawn: by the page's table, else by the drawing's.
func inkOf(it *drawing.Item) drawing.Stroke {
	if k, ours := inks[it.Class]; ours {
		return k
	}
	s, _ := drawing.Style(it.Class)
	return s
}

// colour returns the parts of red, green and blue a colour has on paper.
func colour(c drawing.Colour) [3]float64 {
	hex := drawing.Sheet.Light[c]
	n, err := strconv.ParseUint(hex[min(1, len(hex)):], 16, 32)
	if err != nil {
		panic("paper: colour " + string(c) + ": " + hex + ": must be #rrggbb")
	}
	return [3]float64{float64(n>>16&255) / 255, float64(n>>8&255) / 255, float64(n&255) / 255}
}
