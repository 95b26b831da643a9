package drawing

import (
	"bytes"
	"encoding/xml"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"
)

func sample() *Scene {
	return &Scene{
		Title: `A "drawing" <of> nothing & all`, Desc: "two lines\x01 and 'a' text", Width: 60, Height: 40,
		Items: []Item{
			Gather("valve", "V 1", "stop valve <shut>", DrawLine("pipe main", 0, -0.001, 10, 1.005), DrawCircle("tag", 5, 5, 2)),
			Gather("valve", "V 1", "", DrawArea("symbol solid", 1, 1, 2, 2, 1, 2), DrawArc("symbol line", 10, 10, 4, 90, 300)),
			DrawText("label", 3, End, 40, 20, "R&D ≥ 3.2 bar"),
		},
	}
}

func render(t testing.TB, s *Scene, th Theme) string {
	t.Helper()
	var b bytes.Buffer
	if err := WriteSVG(&b, s, th); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func wellFormed(t testing.TB, text string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(text))
	for {
		if _, err := d.Token(); err == io.EOF {
			return
		} else if err != nil {
			t.Fatalf("not well-formed XML: %v", err)
		}
	}
}

func TestSVG(t *testing.T) {
	got := render(t, sample(), Screen)
	wellFormed(t, got)
	for _, want := range []string{
		`viewBox="0 0 60 40"`, `points="0 0 10 1.01"`, `id="part-V_1"`, `id="part-V_1-2"`, `data-tag="V 1"`,
		`<title>stop valve &lt;shut&gt;</title>`, `&#34;drawing&#34;`, "lines\uFFFD and", `textLength="`, `text-anchor="end"`,
		"prefers-color-scheme:dark", "R&amp;D ≥ 3.2 bar</text>",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("SVG lacks %s", want)
		}
	}
	for _, not := range []string{"-0 ", `"-0"`, "<script", "href", "url(", "NaN"} {
		if strings.Contains(got, not) {
			t.Errorf("SVG holds %q", not)
		}
	}
	if render(t, sample(), Screen) != got {
		t.Error("two runs, two files")
	}
	if strings.Contains(render(t, sample(), Sheet), "prefers-color-scheme") {
		t.Error("the sheet theme follows the screen's scheme")
	}
}

func TestSVGRefuses(t *testing.T) {
	for name, it := range map[string]Item{
		"nan":   {Kind: Line, Class: "hair", Pts: []float64{0, math.NaN(), 1, 1}},
		"inf":   {Kind: Circle, Class: "tag", Pts: []float64{0, 0, math.Inf(1)}},
		"class": {Kind: Line, Class: "nosuch", Pts: []float64{0, 0, 1, 1}},
	} {
		var b bytes.Buffer
		if err := WriteSVG(&b, &Scene{Width: 1, Height: 1, Items: []Item{it}}, Screen); err == nil || b.Len() > 0 {
			t.Errorf("%s: err = %v after %d bytes, want an error and nothing written", name, err, b.Len())
		}
	}
}

// luminance is the relative luminance of WCAG 2.2.
func luminance(hex string) float64 {
	sum := 0.0
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		v, err := strconv.ParseUint(hex[1+2*i:3+2*i], 16, 8)
		if err != nil {
			panic(err)
		}
		c := float64(v) / 255
		if c <= 0.04045 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		sum += weight * c
	}
	return sum
}

// TestContrast holds text to 7:1 (WCAG 2.2, 1.4.6) and hairlines to 3:1 on every palette.
func TestContrast(t *testing.T) {
	for name, pal := range map[string]Palette{"day": day, "night": night, "sheet": Sheet.Light} {
		for c, least := range map[Colour]float64{Ink: 7, Accent: 7, Rust: 7, Hair: 3} {
			a, b := luminance(pal[c]), luminance(pal[Paper])
			if r := (max(a, b) + 0.05) / (min(a, b) + 0.05); r < least {
				t.Errorf("%s: %s on paper = %.2f:1, want ≥ %v:1", name, c, r, least)
			}
		}
	}
}

func TestArcBox(t *testing.T) {
	b := DrawArc("hair", 0, 0, 10, -45, 200).Box
	want := [4]float64{-10, 10 * math.Sin(-45*math.Pi/180), 10, 10}
	for i := range want {
		if math.Abs(b[i]-want[i]) > 0.1 {
			t.Errorf("box[%d] = %v, want about %v", i, b[i], want[i])
		}
	}
}

func TestShift(t *testing.T) {
	g := Gather("", "", "", DrawCircle("tag", 1, 2, 3), DrawText("label", 3, Middle, 5, 5, "ab"))
	before := g.Box
	g.Shift(10, -1)
	if g.Box[0] != before[0]+10 || g.Box[3] != before[3]-1 || g.Kids[0].Pts[2] != 3 || g.Kids[0].Pts[0] != 11 {
		t.Errorf("shifted to %v with %v", g.Box, g.Kids[0].Pts)
	}
}
