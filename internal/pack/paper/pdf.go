package paper

import (
	"bytes"
	"math"

	"github.com/carlos7ags/folio/content"
	"github.com/carlos7ags/folio/document"
	folioimage "github.com/carlos7ags/folio/image"

	"tideover/internal/drawing"
)

// write draws laid-out pages into a PDF.
func write(d *Document, pages []page, marks []int) ([]byte, error) {
	f, err := loadFaces()
	if err != nil {
		return nil, err
	}
	doc := document.NewDocument(document.PageSize{Width: round(d.Size.Width / point), Height: round(d.Size.Height / point)})
	doc.Info = document.Info{
		Title: d.Title, Subject: d.Subject, Creator: d.Maker, Producer: d.Maker,
		CreationDate: d.Made, ModDate: d.Made, Language: d.Lang,
	}
	doc.SetViewerPreferences(document.ViewerPreferences{DisplayDocTitle: true})
	for i := range pages {
		lies := d.Size.turned(pages[i].wide)
		size := document.PageSize{Width: round(lies.Width / point), Height: round(lies.Height / point)}
		sheet := &brush{page: doc.AddPage().SetSize(size), faces: f, tall: lies.Height}
		sheet.page.AddRectFilled(0, 0, size.Width, size.Height, [3]float64{1, 1, 1}) // opens the stream
		sheet.page.ContentStream().SetLineCap(1)
		sheet.page.ContentStream().SetLineJoin(1)
		for _, p := range pages[i].put {
			sheet.put(p)
		}
	}
	for i, first := range marks {
		doc.AddOutline(d.Sheets[i].ID+": "+d.Sheets[i].Title, document.FitDest(first))
	}
	var b bytes.Buffer
	_, err = doc.WriteToWithOptions(&b, document.WriteOptions{Deterministic: true})
	return b.Bytes(), err
}

// brush draws items on one page, from millimetres down to points up.
type brush struct {
	page  *document.Page
	faces *faces
	tall  float64
}

func (b *brush) xy(x, y float64, p placed) (float64, float64) {
	return round((p.x + x*p.scale) / point), round((b.tall - p.y - y*p.scale) / point)
}

// round keeps a hundredth of a point: the same bytes whatever the machine's last bits.
func round(v float64) float64 { return math.Round(v*100)/100 + 0 }

// put draws a group, cut off outside its box. An item whose own box lies outside is
// left out altogether.
func (b *brush) put(p placed) {
	if p.photo != nil {
		b.image(p)
		return
	}
	if p.clip == [4]float64{} {
		b.draw(p.items, p)
		return
	}
	s := b.page.ContentStream()
	s.SaveState()
	x, y := b.xy(p.clip[0], p.clip[3], p)
	s.Rectangle(x, y, round((p.clip[2]-p.clip[0])*p.scale/point), round((p.clip[3]-p.clip[1])*p.scale/point))
	s.ClipNonZero()
	s.EndPath()
	b.draw(within(p.items, p.clip), p)
	s.RestoreState()
}

// within returns the items that reach into a box; an item without a box always does.
func within(items []drawing.Item, clip [4]float64) []drawing.Item {
	var list []drawing.Item
	for _, it := range items {
		if it.Box != [4]float64{} && (it.Box[2] < clip[0] || it.Box[0] > clip[2] || it.Box[3] < clip[1] || it.Box[1] > clip[3]) {
			continue
		}
		if it.Kind == drawing.Group {
			it.Kids = within(it.Kids, clip)
		}
		list = append(list, it)
	}
	return list
}

func (b *brush) draw(items []drawing.Item, p placed) {
	for i := range items {
		it := &items[i]
		switch it.Kind {
		case drawing.Group:
			if it.Class == "page-filled" {
				b.filled(it, p)
				continue
			}
			b.draw(it.Kids, p)
		case drawing.Text:
			b.text(it, p)
		default:
			b.shape(it, p)
		}
	}
}

// filled inks a group of boxes as one shape.
func (b *brush) filled(it *drawing.Item, p placed) {
	s := b.page.ContentStream()
	rgb := colour(inkOf(it).Fill)
	s.SetFillColorRGB(rgb[0], rgb[1], rgb[2])
	for i := range it.Kids {
		k := &it.Kids[i]
		x, y := b.xy(k.Box[0], k.Box[3], p)
		s.Rectangle(x, y, round((k.Box[2]-k.Box[0])*p.scale/point), round((k.Box[3]-k.Box[1])*p.scale/point))
	}
	s.Fill()
}

// image places a photo. One that the PDF library will not take leaves its place empty:
// the pack has checked it before.
func (b *brush) image(p placed) {
	img, err := folioimage.NewJPEG(p.photo.jpeg)
	if err != nil {
		return
	}
	x, y := b.xy(0, p.photo.height, p)
	b.page.AddImage(img, x, y, round(p.photo.wide/point), round(p.photo.height/point))
}

func (b *brush) text(it *drawing.Item, p placed) {
	k := inkOf(it)
	c := cut{k.Bold}
	text := searchable(clean(it.Text))
	size := it.Size * p.scale
	x, y := it.Pts[0]*p.scale, it.Pts[1]*p.scale
	switch it.Anchor {
	case drawing.Middle:
		x -= c.width(text, size) / 2
	case drawing.End:
		x -= c.width(text, size)
	}
	s := b.page.ContentStream()
	rgb := colour(k.Fill)
	s.SetFillColorRGB(rgb[0], rgb[1], rgb[2])
	px, py := b.xy(x/p.scale, y/p.scale, p)
	b.page.AddTextEmbedded(text, b.faces.of(c.bold), round(size/point), px, py)
}

func (b *brush) shape(it *drawing.Item, p placed) {
	s := b.page.ContentStream()
	k := inkOf(it)
	open := it.Kind == drawing.Line || it.Kind == drawing.Arc
	lined, filled := k.Width > 0 && k.Line != drawing.None, k.Fill != drawing.None && !open
	if !lined && !filled {
		return
	}
	s.SaveState()
	if lined {
		pen(s, k, p.scale)
	}
	if filled {
		rgb := colour(k.Fill)
		s.SetFillColorRGB(rgb[0], rgb[1], rgb[2])
	}
	b.path(s, it, p)
	switch {
	case filled && lined:
		s.FillAndStroke()
	case filled:
		s.Fill()
	default:
		s.Stroke()
	}
	s.RestoreState()
}

// pen sets line colour, width, ends and pattern.
func pen(s *content.Stream, k drawing.Stroke, scale float64) {
	rgb := colour(k.Line)
	s.SetStrokeColorRGB(rgb[0], rgb[1], rgb[2])
	s.SetLineWidth(round(max(k.Width*scale, 0.12) / point))
	if k.Square {
		s.SetLineCap(0)
	}
	dash := make([]float64, len(k.Dash))
	for i, v := range k.Dash {
		dash[i] = round(v * scale / point)
	}
	if len(dash) > 0 {
		s.SetDashPattern(dash, 0)
	}
}

func (b *brush) path(s *content.Stream, it *drawing.Item, p placed) {
	switch it.Kind {
	case drawing.Circle:
		x, y := b.xy(it.Pts[0], it.Pts[1], p)
		s.Circle(x, y, round(it.Pts[2]*p.scale/point))
	case drawing.Arc:
		b.arc(s, it.Pts, p)
	default:
		for i := 0; i+1 < len(it.Pts); i += 2 {
			x, y := b.xy(it.Pts[i], it.Pts[i+1], p)
			if i == 0 {
				s.MoveTo(x, y)
			} else {
				s.LineTo(x, y)
			}
		}
		if it.Kind == drawing.Area {
			s.ClosePath()
		}
	}
}

// arc draws a circular arc as short chords: 6° each, below 0.02 mm off at any radius
// a symbol has.
func (b *brush) arc(s *content.Stream, pts []float64, p placed) {
	cx, cy, r, from, to := pts[0], pts[1], pts[2], pts[3], pts[4]
	n := int(math.Max(2, math.Ceil(math.Abs(to-from)/6)))
	for i := 0; i <= n; i++ {
		a := (from + (to-from)*float64(i)/float64(n)) * math.Pi / 180
		x, y := b.xy(cx+r*math.Cos(a), cy+r*math.Sin(a), p)
		if i == 0 {
			s.MoveTo(x, y)
		} else {
			s.LineTo(x, y)
		}
	}
}
