// Package drawing holds scenes: drawings as data before they are ink.
//
// Stage: after the analyses. It takes an assembly and what moves in it and gives a
// Scene in millimetres; small writers turn a scene into SVG, and the pack draws it into
// its PDF. It computes no engineering value, it only places them.
package drawing

// Kind is the shape of an item.
type Kind uint8

// The shapes.
const (
	Group  Kind = iota // Kids only
	Line               // Pts: x0 y0 x1 y1 … an open polyline
	Area               // Pts: a closed polygon
	Circle             // Pts: cx cy r
	Arc                // Pts: cx cy r from to (degrees, clockwise from +x, y down)
	Text               // Pts: x y of the baseline's start; Size; Anchor
)

// Anchor says which end of a text its point is.
type Anchor uint8

// The anchors.
const (
	Start Anchor = iota
	Middle
	End
)

// Item is one thing on a drawing. It carries a class, never a colour: the writer's one
// style table turns classes into ink, and everything survives black and white.
type Item struct {
	Kind   Kind
	Class  string // "pipe main", "valve shut", "tag", "note"…
	Tag    string // the part it shows, or ""
	Title  string // for screen readers: what it is and how it stands; groups only
	Link   *Link  // where a page goes when the group is touched, or nil
	Text   string
	Size   float64 // mm, text height (em)
	Anchor Anchor
	Pts    []float64  // mm, x right, y down
	Box    [4]float64 // mm, x0 y0 x1 y1, of the item with its kids
	Kids   []Item
}

// Scene is one drawing. Same scene, same bytes, whoever writes it.
type Scene struct {
	Title  string // states the finding, or says what is drawn
	Desc   string // the drawing in words
	Width  float64
	Height float64 // mm
	Items  []Item
}

// Link is where a page goes when something on a drawing is touched. Paper knows none.
type Link struct {
	To   string // address
	Says string // what touching it does
}
