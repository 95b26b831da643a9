package drawing

import (
	"context"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"html"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"tideover/internal/drawing/font"
)

// inked is one text of a drawing as a browser set it.
type inked struct {
	Text   string
	Size   float64 // the em [mm]
	Weight int
	Said   float64 // the length the drawing gives it, rounded to 0.01 mm [mm]
	Real   float64 // the length the browser gives it when nothing is said [mm]
}

// script takes the length off every text, so that the browser sets it by the face alone,
// and writes what it measured into the page.
const script = `(async () => {
const wanted = ["400 10px 'FAMILY'", "600 10px 'FAMILY'"];
for (const f of wanted) await document.fonts.load(f, "Aé→");
const list = [];
for (const t of document.querySelectorAll("svg text")) {
	const said = Number(t.getAttribute("textLength"));
	t.removeAttribute("textLength");
	const style = getComputedStyle(t);
	list.push({Text: t.textContent, Size: Number(t.getAttribute("font-size")), Weight: Number(style.fontWeight),
		Said: said, Real: t.getComputedTextLength()});
}
const faces = [...document.fonts].map(f => f.weight + " " + f.status).sort().join(", ");
document.body.innerHTML = "";
const out = document.createElement("pre");
out.textContent = JSON.stringify({Faces: faces, Texts: list});
document.body.append(out);
})();`

// TestAgainstBrowser holds the widths all layout rests on against a real browser's: every
// text of every accepted schematic and chart of the examples, set in the embedded face.
// It runs where Chromium is installed and says so where it is not.
func TestAgainstBrowser(t *testing.T) {
	tool, err := exec.LookPath("chromium")
	if err != nil {
		t.Skip("chromium is not installed: text widths are not compared with a browser's")
	}
	texts := inBrowser(t, tool, browserPage(t))
	if len(texts) < 1000 {
		t.Fatalf("the browser measured %d texts, want all of two examples (over 1,000)", len(texts))
	}
	worst, most, share, bold := inked{}, 0.0, 0.0, 0
	for _, x := range texts {
		want := font.Advance(x.Text, x.Size, x.Weight >= 600)
		if x.Weight >= 600 {
			bold++
		}
		d := math.Abs(x.Real - want)
		if d > most {
			worst, most = x, d
		}
		if want > 5 {
			share = max(share, d/want)
		}
		if d > 0.05+0.002*want || math.Abs(x.Said-want) > 0.0051 {
			t.Errorf("%q at %v mm, weight %d: the browser sets %.3f mm, the drawing says %.2f, the face's advances give %.3f", x.Text, x.Size, x.Weight, x.Real, x.Said, want)
		}
	}
	if bold == 0 || bold == len(texts) {
		t.Errorf("%d of %d texts are semibold, want both weights compared", bold, len(texts))
	}
	t.Logf("%d texts, largest difference %.3f mm (%q, %.1f mm long), %.2f %% of texts over 5 mm", len(texts), most, worst.Text, worst.Real, 100*share)
}

// browserPage is a page with every accepted drawing in it and the two faces as data.
func browserPage(t *testing.T) string {
	t.Helper()
	files, err := filepath.Glob("../review/testdata/*/*.svg")
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	b.WriteString("<!doctype html><meta charset=\"utf-8\"><style>\n")
	for _, bold := range []bool{false, true} {
		fmt.Fprintf(&b, "@font-face{font-family:'%s';font-weight:%d;src:url(data:font/ttf;base64,%s)}\n",
			font.Family, 400+200*btoi(bold), base64.StdEncoding.EncodeToString(font.TTF(bold)))
	}
	b.WriteString("</style><body>\n")
	for _, f := range files {
		svg, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		b.Write(svg)
	}
	b.WriteString("<script>" + strings.ReplaceAll(script, "FAMILY", font.Family) + "</script>\n")
	return b.String()
}

var written = regexp.MustCompile(`(?s)<pre>(.*?)</pre>`)

// inBrowser opens the page and returns what its script wrote.
func inBrowser(t *testing.T, tool, page string) []inked {
	t.Helper()
	dir := t.TempDir()
	file := filepath.Join(dir, "page.html")
	if err := os.WriteFile(file, []byte(page), 0o600); err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithTimeout(t.Context(), 2*time.Minute)
	defer stop()
	cmd := exec.CommandContext(ctx, tool, "--headless", "--no-sandbox", "--disable-gpu", "--disable-background-networking",
		"--disable-component-update", "--disable-sync", "--user-data-dir="+filepath.Join(dir, "browser"),
		"--virtual-time-budget=20000", "--dump-dom", "file://"+file)
	var said strings.Builder
	cmd.Stderr = &said
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%s: %v\n%s", tool, err, said.String())
	}
	m := written.FindSubmatch(out)
	if m == nil {
		t.Fatalf("the browser wrote no lengths into the page\n%s", said.String())
	}
	var got struct {
		Faces string
		Texts []inked
	}
	if err := json.Unmarshal([]byte(html.UnescapeString(string(m[1]))), &got); err != nil {
		t.Fatal(err)
	}
	if got.Faces != "400 loaded, 600 loaded" {
		t.Fatalf("the browser's faces are %q, want both loaded", got.Faces)
	}
	return got.Texts
}
