package pack

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"image/jpeg"
	_ "image/png" // photos come as either
	"path"
	"runtime"
	"strings"

	"golang.org/x/image/draw"

	"tideover/internal/job"
	"tideover/internal/pack/paper"
)

// What a photo may be, and what becomes of it.
const (
	pixelLimit = 32_000_000 // more is not decoded: it would take too much memory
	byteLimit  = 128 << 20  // the same of the decoded picture, whatever a pixel takes
	longSide   = 1000       // pixels it is brought down to
	quality    = 72         // of the JPEG on the sheet
	photoTall  = 62.0       // mm on the sheet at most

	collectFrom = 8 << 20 // bytes of a decoded picture that are not left lying
)

// picture is a photo ready for a sheet, or the reason why it was left out.
type picture struct {
	job.Photo
	jpeg          []byte
	width, height int
	left          string // message id of why not, or ""
	note          string // what the shelf said of it
}

// readPhotos takes the job's photos in its order. A photo that cannot be shown leaves a
// note in its place; it is never a failure.
func (p *pack) readPhotos(o Options) {
	for _, f := range p.Job.Photos {
		pic := picture{Photo: f, note: o.Missing[f.File]}
		data, there := o.Photos[f.File]
		switch {
		case there:
			pic.shrink(data)
		default:
			pic.left = "photo.missing"
		}
		p.photos = append(p.photos, pic)
	}
}

// shrink decodes a photo, stands it upright and brings it down to size.
func (f *picture) shrink(data []byte) {
	c, _, err := image.DecodeConfig(bytes.NewReader(data))
	switch {
	case err != nil:
		f.left = "photo.broken"
		return
	case c.Width < 1 || c.Height < 1 || c.Width > min(pixelLimit, byteLimit/bytesEach(c.ColorModel))/c.Height:
		f.left = "photo.pixels"
		return
	}
	img, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		f.left = "photo.broken"
		return
	}
	small := upright(reduced(img), orientation(data))
	var b bytes.Buffer
	if err := jpeg.Encode(&b, small, &jpeg.Options{Quality: quality}); err != nil {
		f.left = "photo.broken"
		return
	}
	f.jpeg, f.width, f.height = b.Bytes(), small.Bounds().Dx(), small.Bounds().Dy()
	if size := c.Width * c.Height * bytesEach(c.ColorModel); size > collectFrom {
		runtime.GC() // one large picture at a time: the collector may be set to wait for many
	}
}

// bytesEach is the most that one pixel of a colour model takes once it is decoded: a grey
// picture in which one shade is see-through is decoded as one in colour, and the head does
// not say so.
func bytesEach(m color.Model) int {
	switch m {
	case color.RGBA64Model, color.NRGBA64Model, color.Gray16Model, color.Alpha16Model:
		return 8
	}
	if _, few := m.(color.Palette); few {
		return 1
	}
	return 4
}

// reduced brings an image down so that its long side is longSide at most, on white.
func reduced(img image.Image) *image.RGBA {
	w, h := img.Bounds().Dx(), img.Bounds().Dy()
	k := min(1, float64(longSide)/float64(max(w, h)))
	out := image.NewRGBA(image.Rect(0, 0, max(1, int(k*float64(w)+0.5)), max(1, int(k*float64(h)+0.5))))
	draw.Draw(out, out.Bounds(), image.White, image.Point{}, draw.Src)
	draw.ApproxBiLinear.Scale(out, out.Bounds(), img, img.Bounds(), draw.Over, nil)
	return out
}

// upright turns an image as its camera was held: the orientation of the Exif standard
// (CIPA DC-008, tag 0x0112), 1 to 8.
func upright(img *image.RGBA, orientation int) *image.RGBA {
	w, h := img.Bounds().Dx(), img.Bounds().Dy()
	at := map[int]func(x, y int) (int, int){
		2: func(x, y int) (int, int) { return w - 1 - x, y },
		3: func(x, y int) (int, int) { return w - 1 - x, h - 1 - y },
		4: func(x, y int) (int, int) { return x, h - 1 - y },
		5: func(x, y int) (int, int) { return y, x },
		6: func(x, y int) (int, int) { return y, h - 1 - x },
		7: func(x, y int) (int, int) { return w - 1 - y, h - 1 - x },
		8: func(x, y int) (int, int) { return w - 1 - y, x },
	}[orientation]
	if at == nil {
		return img
	}
	size := image.Rect(0, 0, w, h)
	if orientation >= 5 {
		size = image.Rect(0, 0, h, w)
	}
	out := image.NewRGBA(size)
	for y := range size.Dy() {
		for x := range size.Dx() {
			sx, sy := at(x, y)
			out.SetRGBA(x, y, img.RGBAAt(sx, sy))
		}
	}
	return out
}

// orientation finds the Exif orientation of a JPEG: 1 where it has none or it is broken.
func orientation(data []byte) int {
	for i := 2; i+4 <= len(data) && data[i] == 0xFF && data[i+1] != 0xDA; {
		n := int(binary.BigEndian.Uint16(data[i+2:]))
		body := data[min(i+4, len(data)):min(i+2+n, len(data))]
		if data[i+1] == 0xE1 && bytes.HasPrefix(body, []byte("Exif\x00\x00")) {
			return tiffOrientation(body[6:])
		}
		if n < 2 {
			break
		}
		i += 2 + n
	}
	return 1
}

// tiffOrientation reads tag 0x0112 from the first directory of a TIFF head.
func tiffOrientation(b []byte) int {
	if len(b) < 8 {
		return 1
	}
	var order binary.ByteOrder = binary.LittleEndian
	if b[0] == 'M' {
		order = binary.BigEndian
	}
	at := int(order.Uint32(b[4:]))
	if at < 8 || at+2 > len(b) {
		return 1
	}
	for n, i := int(order.Uint16(b[at:])), at+2; n > 0 && i+12 <= len(b); n, i = n-1, i+12 {
		if order.Uint16(b[i:]) == 0x0112 {
			return int(order.Uint16(b[i+8:]))
		}
	}
	return 1
}

// home is the sheet a photo belongs to: the one its tag names, the system for a part's
// tag, else the survey.
func (p *pack) home(f *picture) string {
	for _, s := range sheets {
		if s.name == f.Tag {
			return s.name
		}
	}
	if p.Assembly.Index(f.Tag) >= 0 || p.Assembly.Index(strings.ToUpper(f.Tag)) >= 0 {
		return "system"
	}
	return "survey"
}

// pictures are the photos of a sheet, two to a row, with what they show; a photo that was
// left out says why.
func (p *pack) pictures(sheet string) []paper.Block {
	var cells [][]paper.Block
	var notes []paper.Block
	for i := range p.photos {
		f := &p.photos[i]
		switch {
		case p.home(f) != sheet:
		case f.left != "":
			notes = append(notes, small(strings.TrimSpace(say(f.left, "file", path.Base(f.File), "shows", p.shows(f)))+" "+f.note))
		default:
			cells = append(cells, []paper.Block{paper.Photo{JPEG: f.jpeg, Width: f.width, Height: f.height, Tall: photoTall},
				paper.Text{Style: paper.Small, Text: p.shows(f), Gap: 1}})
		}
	}
	if len(cells)+len(notes) == 0 {
		return nil
	}
	b := []paper.Block{heading("survey.list.photos")}
	for i := 0; i < len(cells); i += 2 {
		row := paper.Row{Cells: cells[i:min(i+2, len(cells))], Widths: []float64{0, 0}, Gutter: 6, Gap: 2}
		b = append(b, row)
	}
	return append(b, notes...)
}

// shows says what a photo shows, by its tag where nobody wrote it down.
func (p *pack) shows(f *picture) string {
	if text := oneLine(f.Shows); text != "" {
		return f.Tag + ": " + text
	}
	return f.Tag
}
