package drawing

import (
	"strings"
)

// Colour names a place in a palette; what it looks like is the theme's business.
type Colour string

// The colours. Everything drawn with them must also read in black and white.
const (
	None   Colour = ""
	Ink    Colour = "ink"    // lines and text
	Paper  Colour = "paper"  // the ground
	Accent Colour = "accent" // water that moves, and what can be touched
	Rust   Colour = "rust"   // must fix, always with the word
	Hair   Colour = "hair"   // hairlines that carry no meaning of their own
)

// Stroke is how a class is drawn. Every writer takes it from Style, so that screen and
// paper show the very same thing.
type Stroke struct {
	Width  float64   // mm; 0 draws no line
	Line   Colour    // of the line
	Dash   []float64 // mm on, off, …; nil for an unbroken line
	Fill   Colour    // of an area, a circle or a text; None leaves it open
	Bold   bool      // texts: the heavier weight
	Square bool      // ends cut square at the point; else round
}

// Widths of the pen [mm]. A pipe that does harm is drawn twice as heavy.
const (
	hairWidth   = 0.18
	symbolWidth = 0.4
	stillWidth  = 0.35
	pipeWidth   = 0.8
	storedWidth = 1.7 // outer edges of the double line
	storedCore  = 0.8 // the white between them
)

// styles is the one style table: class → pen. Water is told by the kind of line, never
// by hue.
var styles = map[string]Stroke{
	"pipe main":         {Width: pipeWidth, Line: Ink},
	"pipe stored":       {Width: storedWidth, Line: Ink},
	"core stored":       {Width: storedCore, Line: Paper},
	"pipe still":        {Width: stillWidth, Line: Ink},
	"pipe dry":          {Width: 0.5, Line: Ink, Dash: []float64{0.02, 1.3}},
	"pipe unknown":      {Width: stillWidth, Line: Ink},
	"pipe main harm":    {Width: 2 * pipeWidth, Line: Rust},
	"pipe stored harm":  {Width: 2*storedWidth - storedCore, Line: Rust}, // each of the two lines twice as heavy
	"core stored harm":  {Width: storedCore, Line: Paper},
	"pipe still harm":   {Width: 2 * stillWidth, Line: Rust},
	"pipe dry harm":     {Width: 1, Line: Rust, Dash: []float64{0.02, 2.6}},
	"pipe unknown harm": {Width: 2 * stillWidth, Line: Rust},
	"hatch":             {Width: 0.3, Line: Rust},
	"clear":             {Fill: Paper},               // paper under a symbol or a hop
	"chevron":           {Width: 0.45, Line: Accent}, // water moves this way
	"chevron harm":      {Width: 0.6, Line: Ink},
	"symbol":            {Width: symbolWidth, Line: Ink, Fill: Paper}, // hollow
	"symbol solid":      {Width: symbolWidth, Line: Ink, Fill: Ink},   // filled: shut, or a direction
	"symbol line":       {Width: symbolWidth, Line: Ink},              // open lines of a symbol
	"symbol dash":       {Width: symbolWidth, Line: Ink, Dash: []float64{0.8, 0.7}},
	"symbol air":        {Width: 0.3, Line: Ink, Dash: []float64{0.9, 0.8}}, // water falling through air
	"water":             {Width: 0.3, Line: Ink},                            // a water surface
	"dot":               {Fill: Ink},
	"tag":               {Width: 0.25, Line: Ink, Fill: Paper},
	"tag text":          {Fill: Ink, Bold: true},
	"label":             {Fill: Ink},
	"label strong":      {Fill: Ink, Bold: true},
	"label harm":        {Fill: Rust, Bold: true},
	"title":             {Fill: Ink, Bold: true},
	"note":              {Fill: Ink},
	"hair":              {Width: hairWidth, Line: Hair},
	"leader":            {Width: hairWidth, Line: Ink},
	"scale":             {Width: 0.3, Line: Ink},
	"frame":             {Width: 0.3, Line: Ink},
	"paper":             {Fill: Paper},
	"touch":             {}, // the field of what can be touched: nothing is drawn

	// Charts: ink lines, hatched bands, bars told apart by filling.
	"chart axis":      {Width: 0.3, Line: Ink},
	"chart zero":      {Width: 0.2, Line: Ink},
	"chart grid":      {Width: 0.12, Line: Hair, Dash: []float64{0.4, 1.2}},
	"chart line":      {Width: 0.7, Line: Ink},
	"chart line thin": {Width: 0.35, Line: Ink},
	"chart line dash": {Width: 0.5, Line: Ink, Dash: []float64{1.8, 1.3}},
	"chart ground":    {Width: 0.4, Line: Ink},
	"chart hatch":     {Width: 0.12, Line: Hair},
	"chart stripe":    {Width: 0.28, Line: Ink},
	"chart bar":       {Width: 0.3, Line: Ink, Fill: Ink},
	"chart bar open":  {Width: 0.3, Line: Ink, Fill: Paper},
	"chart need":      {Width: 0.9, Line: Ink, Square: true},
	"chart left":      {Width: 0.9, Line: Accent, Square: true},
	"chart point":     {Width: 0.5, Line: Paper, Fill: Accent},
	"chart leader":    {Width: 0.2, Line: Ink, Dash: []float64{0.7, 0.7}},
}

// Style returns how a class is drawn. ok is false for a class that stands in no table,
// which is a fault of whoever drew it.
func Style(class string) (s Stroke, ok bool) { s, ok = styles[class]; return s, ok }

// pen is Style for our own drawing code: an unknown class is a bug of ours.
func pen(class string) Stroke {
	s, ok := styles[class]
	if !ok {
		panic("drawing: class " + class + ": must stand in the style table")
	}
	return s
}

// selector turns a class into a CSS selector: "pipe main" → ".pipe.main".
func selector(class string) string { return "." + strings.ReplaceAll(class, " ", ".") }

// Palette gives each colour its sRGB value, "#rrggbb".
type Palette map[Colour]string

// Theme is the palettes of a drawing by day and by night. A theme without Dark keeps
// its light palette whatever the reader's screen prefers: what paper wants.
type Theme struct{ Light, Dark Palette }

var (
	day = Palette{Ink: "#16202e", Paper: "#fbf8f1", Accent: "#0b4f7a", Rust: "#8a2f12", Hair: "#8b8f94"}

	night = Palette{Ink: "#ede8dc", Paper: "#12181f", Accent: "#8cc4ea", Rust: "#f2a285", Hair: "#7f8894"}
)

// Screen follows the reader's preferred scheme; Sheet is for print: the light palette
// on white paper.
var (
	Screen = Theme{Light: day, Dark: night}
	Sheet  = Theme{Light: Palette{Ink: "#16202e", Paper: "#ffffff", Accent: "#0b4f7a", Rust: "#8a2f12", Hair: "#8b8f94"}}
)
