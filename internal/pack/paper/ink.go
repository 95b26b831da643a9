package paper

import "tideover/internal/drawing"

// ink is how a class is drawn on white paper. Weight and pattern carry the meaning:
// every one of them survives a black-and-white print.
type ink struct {
	stroke, fill *[3]float64
	width        float64 // mm
	dash         []float64
	bold         bool
}

var (
	blueBlack = &[3]float64{0.082, 0.129, 0.196}
	soft      = &[3]float64{0.275, 0.318, 0.373} // 8:1 on white
	rust      = &[3]float64{0.569, 0.196, 0.071}
	pale      = &[3]float64{0.72, 0.74, 0.77}
)

// inks are the classes of the page itself; those of drawings are the drawing's own.
var inks = map[string]ink{
	"page-text":        {fill: blueBlack},
	"page-strong":      {fill: blueBlack, bold: true},
	"page-soft":        {fill: soft},
	"page-must":        {fill: rust, bold: true},
	"page-rule":        {stroke: pale, width: 0.15},
	"page-rule-strong": {stroke: blueBlack, width: 0.3},
	"page-frame":       {stroke: blueBlack, width: 0.35},
	"page-frame-must":  {stroke: rust, width: 0.9},
	"page-write":       {stroke: soft, width: 0.2},
	"page-tick":        {stroke: blueBlack, width: 0.3},
	"page-mark":        {stroke: blueBlack, width: 0.25},
	"page-mark-full":   {stroke: blueBlack, fill: blueBlack, width: 0.25},
}

func inkOf(it *drawing.Item) ink {
	if k, ours := inks[it.Class]; ours {
		return k
	}
	return drawn(it)
}

// drawn is the ink of a drawing's item.
func drawn(it *drawing.Item) ink {
	return ink{stroke: blueBlack, width: 0.3}
}
