package pack

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"strings"
	"testing"
	"time"

	ics "github.com/arran4/golang-ical"
	"rsc.io/qr"

	"tideover/internal/assembly"
	"tideover/internal/drawing"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/service"
)

// sheetText is the text of one sheet alone, squeezed.
func sheetText(t *testing.T, name, sheet string, o Options) string {
	t.Helper()
	o.Sheets = []string{sheet}
	return squeezed(strings.Join(inOrder(t, made(t, run(t, source(t, name)), o)["pack.pdf"]), " "))
}

// TestWhatEachSheetSays: what the person it is for must find on it.
func TestWhatEachSheetSays(t *testing.T) {
	for sheet, wants := range map[string][]string{
		"electric": {"230 V", "Read the plate of the control first", "not judged", "type F", "lockable", "24 V or less", "neutral must be tied to earth", "Pure sine"},
		"base": {"black clay", "peat", "roof", "retaining wall", "1 in 200", "firm clay", "presumed bearing", "50 kPa", "2.9 m by 1.5 m", "435 L",
			"licensed plumber, electrician or engineer"},
		"build":    {"about 60 min", "Point of no return", "two people", "Cap both ends of the new pipe"},
		"pressure": {"for 60 min", "1.5 times", "Plastic pipe stretches", "water, never with air", "E1", "P1", "A non-return valve parts the line", "R5, R6"},
		"flush":    {"10 times", "shower-up", "nearest first", "Aerators"},
		"disinfect": {"Nobody drinks", "dialysis", "Leave it for 24 h", "septic tank", "thiosulphate", "50 mg/L",
			"Never into a stream"},
		"commission": {"N1 (", "pressed hard", "pressed softly", "stops by itself", "hold F1 down", "2.4 bar", "1.9 bar", "1.2 bar", "1.8 bar", "shower-up",
			"grit on its seat"},
		"card":   {"The main stops", "The power is cut", "Water where it should not be", "clean the tank", "V3"},
		"tags":   {"V1", "V8", "D1", "Normal: OPEN"},
		"upkeep": {"2026-04-02", "washer", "upkeep.ics"},
		"plan":   {"What is built", "SHUT"},
	} {
		got := sheetText(t, "kestrel-rise", sheet, Options{})
		for _, w := range wants {
			if !strings.Contains(got, squeezed(w)) {
				t.Errorf("the sheet %s lacks %q", sheet, w)
			}
		}
		if strings.Contains(got, "‹") {
			t.Errorf("the sheet %s lacks a message near %q", sheet, got[max(0, strings.Index(got, "‹")-30):])
		}
	}
}

// TestToWhomAFigureBelongs: the lock-out's set points are not the pump control's, the
// heater's vessel is not charged as the pump's, and what no setting does the card does not
// promise.
func TestToWhomAFigureBelongs(t *testing.T) {
	tests := []struct{ job, sheet, has, not string }{
		{"kestrel-rise", "build", "Set C1: the pump starts", "Set C1, C2"},
		{"kestrel-rise", "commission", "that C1 holds", "that C1, C2 hold"},
		{"kestrel-rise", "commission", "Charge of E1, its water side empty. E2 is the water heater's", "Charge of E1, E2"},
		{"kestrel-rise", "survey", "width of the overflow slot –", "width of the overflow slot 0 m"},
		{"kestrel-rise", "pressure", "The Water Supply (Water Fittings) Regulations 1999", "si-1999-sch2"},
		{"kestrel-rise", "card", "in this order: V3 shut, V7 shut", "Each time the main stops"},
		{"juniper-flat", "card", "Each time the main stops, and at a notice", "At once"},
		{"lantern-row", "card", "No setting here keeps bad water out", "valve before the float valve"},
		{"lantern-row", "card", "Lift the hose end at yard out of the water", "Not drinking water"},
		{"kestrel-rise", "commission", "80.8 mm to", "expected 80 mm"},
		{"lantern-row", "upkeep", "feel every joint, first strip", "charge of again"},
	}
	for _, tt := range tests {
		got := sheetText(t, tt.job, tt.sheet, Options{})
		if !strings.Contains(got, squeezed(tt.has)) {
			t.Errorf("%s: the sheet %s lacks %q", tt.job, tt.sheet, tt.has)
		}
		if strings.Contains(got, squeezed(tt.not)) {
			t.Errorf("%s: the sheet %s still says %q", tt.job, tt.sheet, tt.not)
		}
	}
}

// TestShortIsFourSheets: the set for a job of three hours, on both papers. A long buying
// list takes a second page; it is left at the merchant's. The card has two sides.
func TestShortIsFourSheets(t *testing.T) {
	for _, name := range examples {
		for _, size := range []Paper{A4, Letter} {
			set := func(sheet string) int {
				return len(pages(t, made(t, run(t, source(t, name)), Options{Paper: size, Sheets: []string{sheet}})["pack.pdf"]))
			}
			if n, list := set("short"), set("buying"); n != 4+list || list > 2 {
				t.Errorf("%s %s: the short set has %d pages, %d of them the buying list", name, size, n, list)
			}
		}
	}
}

// TestOnePageSheets: what is carried in a hand is one page.
func TestOnePageSheets(t *testing.T) {
	a := run(t, source(t, "kestrel-rise"))
	for _, sheet := range []string{"verdict", "valves", "outlets", "electric", "base", "flush"} {
		if n := len(pages(t, made(t, a, Options{Sheets: []string{sheet}})["pack.pdf"])); n != 1 {
			t.Errorf("the sheet %s has %d pages", sheet, n)
		}
	}
}

// TestDraft: where something must be fixed each sheet says so, pulled out alone.
func TestDraft(t *testing.T) {
	bad := fixture(t, "kestrel-rise")
	for _, sheet := range []string{"electric", "build", "card", "findings"} {
		text := squeezed(strings.Join(pages(t, made(t, bad, Options{Sheets: []string{sheet}})["pack.pdf"]), ""))
		if want := squeezed(say("pack.draft", "n", "1")); !strings.Contains(text, want) {
			t.Errorf("the sheet %s does not say that it is a draft", sheet)
		}
	}
}

// TestCalendar reads the calendar back: lines end in CR LF and are short, stamps and days
// come from the job, identifiers differ and stay.
func TestCalendar(t *testing.T) {
	a := run(t, source(t, "kestrel-rise"))
	data := made(t, a, Options{Sheets: []string{"card"}})["upkeep.ics"]
	for line := range strings.SplitSeq(strings.TrimSuffix(string(data), "\r\n"), "\r\n") {
		if len(line) > 75 || strings.ContainsAny(line, "\r\n") {
			t.Errorf("line of %d bytes: %q", len(line), line)
		}
	}
	cal, err := ics.ParseCalendar(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, e := range cal.Events() {
		start, err := e.GetAllDayStartAt()
		stamp, err2 := e.GetDtStampTime()
		if err != nil || err2 != nil || !start.After(stamp) || stamp.Format(time.DateOnly) != a.Job.Date {
			t.Errorf("%s: start %v (%v), stamp %v (%v)", e.Id(), start, err, stamp, err2)
		}
		if seen[e.Id()] || !strings.HasPrefix(e.Id(), "upkeep-") {
			t.Errorf("identifier %q is not its own", e.Id())
		}
		seen[e.Id()] = true
		if e.GetProperty(ics.ComponentPropertySummary) == nil || e.GetProperty(ics.ComponentPropertyDescription) == nil {
			t.Errorf("%s says nothing", e.Id())
		}
	}
	if len(seen) < 8 {
		t.Errorf("only %d chores in the calendar", len(seen))
	}
	later := made(t, a, Options{Sheets: []string{"card"}, Date: "2027-01-01"})["upkeep.ics"]
	for id := range seen {
		if !bytes.Contains(bytes.ReplaceAll(later, []byte("\r\n "), nil), []byte(id)) {
			t.Errorf("another day has not the identifier %s", id)
		}
	}
}

// TestCodes: each tag's drawn boxes are, module for module, the code of its text; nothing
// in it is an address.
func TestCodes(t *testing.T) {
	for _, name := range examples {
		p, err := newPack(run(t, source(t, name)), Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, part := range p.tagged() {
			text := p.codeText(part)
			if !strings.HasPrefix(text, part.Tag+" ") || strings.Contains(text, "://") || !strings.Contains(text, "Normal: ") {
				t.Errorf("%s: the code of %s says %q", name, part.Tag, text)
			}
			code, err := qr.Encode(text, qr.M)
			if err != nil {
				t.Fatal(err)
			}
			if got := matrix(codeScene(text).Items[0].Kids, code.Size); got != modules(code) {
				t.Errorf("%s: the code of %s is not drawn as it is", name, part.Tag)
			}
			if side := codeSide / float64(code.Size+6); side < 0.38 {
				t.Errorf("%s: modules of %s are %.2f mm: too fine to read", name, part.Tag, side)
			}
		}
	}
}

func modules(c *qr.Code) string {
	var b strings.Builder
	for y := range c.Size {
		for x := range c.Size {
			b.WriteByte(map[bool]byte{true: '#', false: '.'}[c.Black(x, y)])
		}
	}
	return b.String()
}

// matrix turns drawn boxes back into modules.
func matrix(boxes []drawing.Item, size int) string {
	m, grid := codeSide/float64(size+6), []byte(strings.Repeat(".", size*size))
	for i := range boxes {
		b := boxes[i].Box
		y := int(math.Round(b[1]/m)) - 3
		for x := int(math.Round(b[0]/m)) - 3; x < int(math.Round(b[2]/m))-3; x++ {
			grid[y*size+x] = '#'
		}
	}
	return string(grid)
}

// TestPhotos: a photo stands on its sheet upright; one that is broken, missing or too
// large leaves a note, and the sheet stays whole.
func TestPhotos(t *testing.T) {
	shot := image.NewRGBA(image.Rect(0, 0, 3000, 2000))
	shot.Set(10, 10, color.White)
	var jpg, small bytes.Buffer
	if err := jpeg.Encode(&jpg, shot, nil); err != nil {
		t.Fatal(err)
	}
	if err := png.Encode(&small, image.NewGray(image.Rect(0, 0, 40, 30))); err != nil {
		t.Fatal(err)
	}
	huge := bytes.Clone(small.Bytes()) // a head that promises 60,000 × 60,000 pixels
	copy(huge[16:], []byte{0, 0, 0xEA, 0x60, 0, 0, 0xEA, 0x60})
	binary.BigEndian.PutUint32(huge[29:], crc32.ChecksumIEEE(huge[12:29]))
	a := fixture(t, "kestrel-rise")
	a.Job.Photos = []job.Photo{{Tag: "base", File: "a.jpg", Shows: "behind the garage"}, {Tag: "p1", File: "b.png", Shows: "where the pump goes"},
		{Tag: "gate", File: "c.jpg", Shows: "broken"}, {Tag: "meter", File: "d.jpg", Shows: "not there"}, {Tag: "x", File: "e.png", Shows: "huge"}}
	o := Options{Photos: map[string][]byte{"a.jpg": jpg.Bytes(), "b.png": small.Bytes(), "c.jpg": []byte("junk"), "e.png": huge},
		Missing: map[string]string{"d.jpg": "d.jpg is 41.9 MB; at most 10.0 MB are read."}}
	for sheet, wants := range map[string][]string{"base": {"behind the garage"}, "system": {"where the pump goes"},
		"survey": {"c.jpg (gate: broken) is left out", "d.jpg (meter: not there) is left out", "41.9 MB", "32 million pixels"}} {
		o.Sheets = []string{sheet}
		files := made(t, a, o)
		text := squeezed(strings.Join(inOrder(t, files["pack.pdf"]), ""))
		for _, w := range wants {
			if !strings.Contains(text, squeezed(w)) {
				t.Errorf("the sheet %s lacks %q", sheet, w)
			}
		}
		if got := bytes.Contains(files["pack.pdf"], []byte("/DCTDecode")); got != (sheet != "survey") {
			t.Errorf("the sheet %s has a photo: %v", sheet, got)
		}
	}
	p := picture{}
	if p.shrink(jpg.Bytes()); p.width != longSide || p.height != 667 {
		t.Errorf("a photo of 3000 × 2000 becomes %d × %d", p.width, p.height)
	}
}

// TestUpright: each of the eight orientations brings a mark at the camera's top left to
// where it was seen.
func TestUpright(t *testing.T) {
	for o, want := range map[int]image.Point{1: {0, 0}, 2: {2, 0}, 3: {2, 1}, 4: {0, 1}, 5: {0, 0}, 6: {1, 0}, 7: {1, 2}, 8: {0, 2}} {
		img := image.NewRGBA(image.Rect(0, 0, 3, 2))
		img.SetRGBA(0, 0, color.RGBA{255, 0, 0, 255})
		got := upright(img, o)
		if got.RGBAAt(want.X, want.Y).R != 255 {
			t.Errorf("orientation %d: the mark is not at %v", o, want)
		}
	}
	exif := append([]byte{0xFF, 0xD8, 0xFF, 0xE1, 0, 34}, "Exif\x00\x00MM\x00*\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01\x00\x06\x00\x00"...)
	if got := orientation(exif); got != 6 {
		t.Errorf("orientation = %d, want 6", got)
	}
	for n := range exif { // cut anywhere it is no failure
		orientation(exif[:n])
	}
}

// TestOtherScripts: names in scripts that the face does not have stay whole: the page
// prints what it can, says what it could not, and outlets get numbers.
func TestOtherScripts(t *testing.T) {
	a := fixture(t, "kestrel-rise")
	a.Job.Name = "रसोई House بيت " + strings.Repeat("x", 200)
	a.Job.Notes = "פתק: a note"
	old := a.Job.Outlets[0].Tag
	a.Job.Outlets[0].Tag = "रसोई"
	for i := range a.Service.Modes {
		for j := range a.Service.Modes[i].Alone {
			if d := &a.Service.Modes[i].Alone[j]; d.Outlet == old {
				d.Outlet = "रसोई"
			}
		}
	}
	all := pages(t, made(t, a, Options{})["pack.pdf"])
	for i, text := range all {
		flat := squeezed(text)
		if !strings.Contains(flat, "House") || !strings.Contains(flat, "Arabic,Devanagari") {
			t.Errorf("page %d does not say which letters it lacks", i+1)
		}
	}
	text := squeezed(strings.Join(all, ""))
	for _, want := range []string{"outlet1�", "Hebrew", "�:anote"} {
		if !strings.Contains(text, want) {
			t.Errorf("the pack lacks %q", want)
		}
	}
}

// TestSixtyOutlets: each stands on the sheets that list outlets, and nothing is lost.
func TestSixtyOutlets(t *testing.T) {
	a := fixture(t, "kestrel-rise")
	o := a.Job.Outlets[0]
	a.Job.Outlets = nil
	var draws []service.Draw
	for n := range 60 {
		o.Tag = fmt.Sprintf("room-%02d", n)
		a.Job.Outlets = append(a.Job.Outlets, o)
		draws = append(draws, service.Draw{Outlet: o.Tag, Flow: 1e-4 + 1e-6*quantity.Flow(n), Pressure: 1.5e5, Need: 1e-4, Certified: true})
	}
	for i := range a.Service.Modes {
		a.Service.Modes[i].Alone, a.Service.Modes[i].Together = draws, draws[:3]
	}
	handOver(a)
	for _, sheet := range []string{"outlets", "flush", "commission", "survey"} {
		text := squeezed(strings.Join(inOrder(t, made(t, a, Options{Sheets: []string{sheet}})["pack.pdf"]), ""))
		for n := range 60 {
			if !strings.Contains(text, fmt.Sprintf("room-%02d", n)) {
				t.Errorf("the sheet %s lacks room-%02d", sheet, n)
			}
		}
	}
}

// TestPipeToAddsUp: the water to an outlet is that of the runs its walk passes.
func TestPipeToAddsUp(t *testing.T) {
	p, err := newPack(run(t, source(t, "kestrel-rise")), Options{})
	if err != nil {
		t.Fatal(err)
	}
	if p.HandOver.FlushIn != "on-store" || len(p.HandOver.Flush) != len(p.Job.Outlets) {
		t.Fatal("the outlets are not flushed from the store")
	}
	for _, f := range p.HandOver.Flush {
		sum := 0.0
		for _, s := range f.Calc {
			if s.Key == "pipe-volume" {
				sum += s.Result
			}
		}
		if f.Pipe <= 0 || math.Abs(sum-float64(f.Pipe)) > 1e-12 || f.Pipe > 0.1 {
			t.Errorf("%s: %v m³ from steps of %v", f.Outlet, f.Pipe, sum)
		}
	}
}

// TestPressureReachesNoWeakPart: whatever is rated below the test pressure is on the list
// of what is shut off.
func TestPressureReachesNoWeakPart(t *testing.T) {
	for _, name := range examples {
		p, err := newPack(run(t, source(t, name)), Options{})
		if err != nil {
			t.Fatal(err)
		}
		text := sheetText(t, name, "pressure", Options{})
		for i := range p.Assembly.Parts {
			part := &p.Assembly.Parts[i]
			if (part.Kind == assembly.Vessel || part.Kind == assembly.Pump) && !strings.Contains(text, part.Tag) {
				t.Errorf("%s: %s is not shut off", name, part.Tag)
			}
		}
	}
}

// TestItWorksOnlyWhereItDoes: the first sheet says that it works only where nothing that was
// asked for is open: a home that hunts or runs dry is not told so.
func TestItWorksOnlyWhereItDoes(t *testing.T) {
	for _, name := range examples {
		a := run(t, source(t, name))
		p, err := newPack(a, Options{})
		if err != nil {
			t.Fatal(err)
		}
		works := strings.HasPrefix(p.works(), "It works")
		if unmet := finding.Unmet(a.Findings); works != (len(unmet) == 0 && a.Verdict != finding.MustFix && a.Verdict != finding.NotJudged) {
			t.Errorf("%s: %q with %d things asked for and not met", name, p.works(), len(unmet))
		}
	}
	a := fixture(t, "kestrel-rise")
	f := finding.New("hunting", "C2", "")
	f.Verdict = finding.LookAt
	a.Findings, a.Verdict = []finding.Finding{f}, finding.LookAt
	p, _ := newPack(a, Options{})
	if strings.Contains(p.works(), "It works") || !strings.Contains(p.works(), "Changeover") {
		t.Errorf("a home that hunts is told %q", p.works())
	}
}

// TestHazardsStandWhereTheHandIs: what can hurt and no part shows stands on the sheet of whoever
// has it in hand, and only in a home that has it.
func TestHazardsStandWhereTheHandIs(t *testing.T) {
	for _, tt := range []struct{ sheet, says string }{
		{"build", "fire sprinklers"}, {"build", "Pull at every tag"}, {"electric", "a limit of the time the pump runs on end"},
		{"upkeep", "Relief valve of the water heater"}, {"upkeep", "somebody may have left it shut"},
	} {
		if got := sheetText(t, "kestrel-rise", tt.sheet, Options{}); !strings.Contains(got, squeezed(tt.says)) {
			t.Errorf("%s lacks %q", tt.sheet, tt.says)
		}
	}
	if got := sheetText(t, "lantern-row", "upkeep", Options{}); strings.Contains(got, squeezed("Relief valve of the water heater")) {
		t.Error("a vented heater has no relief valve, and the sheet asks to lift its lever")
	}
}

// TestOneLineForOneCause: what is not judged for one cause is one line on the sheet Findings, as on
// the command line.
func TestOneLineForOneCause(t *testing.T) {
	a := run(t, source(t, "osprey-house"))
	want := 0
	for _, g := range finding.Alike(finding.Each(a.Findings)) {
		if g.Verdict == finding.NotJudged {
			want++
		}
	}
	got := strings.Count(sheetText(t, "osprey-house", "findings", Options{}), squeezed("not judged: "))
	if got != want || want > 12 {
		t.Errorf("the sheet has %d lines of what is not judged, want %d", got, want)
	}
}
