package paper

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"tideover/internal/drawing"
)

func sample(size Size) *Document {
	long := strings.Repeat("a very long name of a part in this job ", 6)
	var rows [][]Cell
	for i := 0; i < 60; i++ {
		rows = append(rows, []Cell{
			{Text: fmt.Sprintf("row-%d", i), Style: Strong, Mark: Mark(i % 5)},
			{Text: long[:20+i*3]}, {Text: "3.2 bar ±0.1"}, {Write: true},
		})
	}
	rows = append(rows, []Cell{{Text: strings.Repeat("x", 200)}, {Text: strings.Repeat("word ", 900)}, {}, {}})
	cols := []Col{{Width: 30}, {Share: 1}, {Width: 28, Right: true}, {Width: 25}}
	return &Document{
		Size: size, Title: "Sample", Lang: "en", Made: time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC), Maker: "test", Left: long + long,
		Mark: func(p, of, n, all int) string {
			return fmt.Sprintf("sheet page %d of %d · page %d of %d", p, of, n, all)
		},
		Sheets: []Sheet{
			{ID: "1 Alpha", Title: "Will it work, and what must be decided?", Who: "For the owner", Right: long + long, Blocks: []Block{
				Banner{Style: Must, Text: "must fix: two things must be put right before anybody builds."},
				Text{Style: Lead, Text: "Water runs for two days.", Gap: 4},
				Text{Style: Heading, Text: "Rows", Gap: 4, Keep: true},
				Table{Cols: cols, Head: []string{"Tag", "Name", "Pressure", "Reading"}, Rows: rows, Gap: 2},
				Fields{Labels: []string{"Gauge at the meter, bar", "Name", "Date"}, Columns: 2, Gap: 4},
			}},
			{ID: "2 Card", Title: "What do I do?", OneSide: true, Blocks: []Block{
				Text{Style: Card, Text: long + long + long},
				Picture{Scene: drawing.Scene{Width: 100, Height: 50, Items: []drawing.Item{
					{Kind: drawing.Group, Kids: []drawing.Item{
						{Kind: drawing.Circle, Class: "page-frame", Pts: []float64{50, 25, 20}},
						{Kind: drawing.Arc, Class: "page-frame", Pts: []float64{50, 25, 22, 0, 90}},
					}},
					{Kind: drawing.Text, Class: "page-text", Text: "V1", Size: 4, Anchor: drawing.Middle, Pts: []float64{50, 26}},
				}}},
			}},
		},
	}
}

func TestSameBytes(t *testing.T) {
	a, err := Write(sample(A4))
	if err != nil {
		t.Fatal(err)
	}
	b, _ := Write(sample(A4))
	if !bytes.Equal(a, b) {
		t.Error("two writes of one document differ")
	}
	if len(a) > 300_000 {
		t.Errorf("%d bytes: the face is not subset", len(a))
	}
}

func TestNothingOutsideThePage(t *testing.T) {
	for _, size := range []Size{A4, Letter} {
		d := sample(size)
		for i := range d.Sheets {
			for n, p := range setSheet(d, i) {
				for _, g := range p.put {
					inside(t, d.Size, g, fmt.Sprintf("sheet %d page %d", i, n+1))
				}
			}
		}
	}
}

func inside(t *testing.T, size Size, g placed, where string) {
	t.Helper()
	for _, it := range g.items {
		for j := 0; it.Kind != drawing.Circle && j+1 < len(it.Pts) && j < 4; j += 2 {
			x, y := g.x+it.Pts[j]*g.scale, g.y+it.Pts[j+1]*g.scale
			if it.Kind == drawing.Text {
				w := cut{inkOf(&it).Bold}.width(it.Text, it.Size)
				if it.Anchor == drawing.Start {
					x += w
				} else if it.Anchor == drawing.End {
					x -= w
				}
			}
			if x < 5 || x > size.Width-5 || y < 5 || y > size.Height-5 {
				t.Errorf("%s: %q reaches (%.1f, %.1f), outside %v", where, it.Text, x, y, size)
			}
		}
	}
}

func TestHeadsRepeat(t *testing.T) {
	for n, p := range setSheet(sample(A4), 0) {
		found := false
		rows := false
		for _, g := range p.put {
			for _, it := range g.items {
				found = found || it.Text == "Reading"
				rows = rows || strings.HasPrefix(it.Text, "row-")
			}
		}
		if rows && !found {
			t.Errorf("page %d has rows and no table head", n+1)
		}
	}
}

func TestOneSide(t *testing.T) {
	d := sample(A4)
	if n := len(setSheet(d, 1)); n != 1 {
		t.Errorf("the card takes %d pages", n)
	}
}

func TestNoSheets(t *testing.T) {
	if _, err := Write(&Document{Size: A4}); err != ErrNoSheets {
		t.Errorf("got %v, want %v", err, ErrNoSheets)
	}
}

func TestNumberKeepsItsUnit(t *testing.T) {
	for text, want := range map[string]int{
		"3.2 bar ±0.1 here": 2, "of 14 L/min": 2, "In 2026 everything": 3, "page 3. Then": 3, "1,500 L": 1,
	} {
		if got := unbroken(text); len(got) != want {
			t.Errorf("unbroken(%q) = %q, want %d pieces", text, got, want)
		}
	}
}

func TestCleanShowsWhatIsMissing(t *testing.T) {
	if got := clean("a\u200bb\x07c 水 \tΔ≥½"); got != "abc �  Δ≥½" {
		t.Errorf("clean = %q", got)
	}
}

// TestReaders opens the PDF with poppler where it is there.
func TestReaders(t *testing.T) {
	tool, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Skip("pdftotext (poppler-utils) is not installed: the PDF is not read back")
	}
	b, err := Write(sample(Letter))
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "a.pdf")
	if err := os.WriteFile(file, b, 0o600); err != nil {
		t.Fatal(err)
	}
	var warn bytes.Buffer
	cmd := exec.Command(tool, "-layout", file, "-")
	cmd.Stderr = &warn
	out, err := cmd.Output()
	if err != nil || warn.Len() > 0 {
		t.Fatalf("pdftotext: %v %s", err, warn.String())
	}
	for _, want := range []string{"3.2 bar ±0.1", "must fix: two things", "row-59", "sheet page 1 of 1"} {
		if !strings.Contains(string(out), want) {
			t.Errorf("the text of the PDF lacks %q", want)
		}
	}
}

func BenchmarkWrite(b *testing.B) {
	for b.Loop() {
		if _, err := Write(sample(A4)); err != nil {
			b.Fatal(err)
		}
	}
}
