package review

import (
	"fmt"
	"html"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

const pageHead = `<!doctype html><html lang="en"><meta charset="utf-8"><title>Review</title>
<style>body{font:16px/1.4 sans-serif;margin:1.5em;background:#fbf8f1;color:#16202e}
table{width:100%;table-layout:fixed;border-collapse:collapse}td{vertical-align:top;padding:.4em;border:1px solid #8b8f94}
img{width:100%;background:#fff}pre{white-space:pre-wrap;font-size:12px;margin:0}ins{background:#d7e6ef}del{background:#f0d9d0}
summary{cursor:pointer}</style><h1>Review: accepted left, made now right</h1>
`

// writePage writes index.html with every pair, what changed first, and the files it shows.
func writePage(t *testing.T, dir string, all []pair, papers map[string][]byte) {
	t.Helper()
	var b strings.Builder
	b.WriteString(pageHead)
	n := 0
	for i := range all {
		if all[i].changed() {
			n++
		}
	}
	fmt.Fprintf(&b, "<p>%d of %d changed.</p>\n", n, len(all))
	for _, changed := range []bool{true, false} {
		if !changed {
			b.WriteString("<details><summary>What did not change</summary>\n")
		}
		for i := range all {
			if p := &all[i]; p.changed() == changed {
				writePair(t, dir, &b, p, papers[p.example])
			}
		}
	}
	b.WriteString("</details></html>\n")
	save(t, filepath.Join(dir, "index.html"), b.String())
}

func save(t *testing.T, file, text string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(file), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
}

func writePair(t *testing.T, dir string, b *strings.Builder, p *pair, pdf []byte) {
	t.Helper()
	fmt.Fprintf(b, "<h2>%s: %s</h2>\n<table><tr>", html.EscapeString(p.example), html.EscapeString(p.name))
	if p.name == paperText {
		old, now := marked(p.old, p.new)
		fmt.Fprintf(b, "<td><pre>%s</pre><td><pre>%s</pre></table>\n", old, now)
		if p.changed() {
			writePapers(t, dir, b, p.example, pdf)
		}
		return
	}
	for _, side := range []struct{ name, text string }{{"old", p.old}, {"new", p.new}} {
		if side.text == "" {
			b.WriteString("<td>not there")
			continue
		}
		file := p.example + "-" + side.name + "-" + p.name
		save(t, filepath.Join(dir, file), side.text)
		fmt.Fprintf(b, `<td><img src="%s" alt="%s, %s">`, html.EscapeString(file), html.EscapeString(p.name), side.name)
	}
	b.WriteString("</table>\n")
}

// writePapers shows the pages as they are printed now, where poppler can draw them.
func writePapers(t *testing.T, dir string, b *strings.Builder, example string, pdf []byte) {
	t.Helper()
	file := filepath.Join(dir, example+"-pack.pdf")
	save(t, file, string(pdf))
	tool, err := exec.LookPath("pdftoppm")
	if err != nil {
		t.Log("pdftoppm (poppler-utils) is not installed: the page shows the papers' text only")
		return
	}
	if out, err := exec.Command(tool, "-png", "-r", "60", file, filepath.Join(dir, example+"-page")).CombinedOutput(); err != nil {
		t.Fatalf("pdftoppm: %v %s", err, out)
	}
	pages, err := filepath.Glob(filepath.Join(dir, example+"-page-*.png"))
	if err != nil {
		t.Fatal(err)
	}
	b.WriteString("<p>The pages as they are now:</p>\n")
	for _, page := range pages {
		fmt.Fprintf(b, `<img style="width:32%%" src="%s" alt="page">`, html.EscapeString(filepath.Base(page)))
	}
}

// marked returns two texts as HTML, the lines that stand on one side only marked there.
func marked(old, now string) (left, right string) {
	a, b := strings.Split(old, "\n"), strings.Split(now, "\n")
	return markLines(a, counts(b), "del"), markLines(b, counts(a), "ins")
}

func counts(lines []string) map[string]int {
	n := map[string]int{}
	for _, l := range lines {
		n[l]++
	}
	return n
}

func markLines(lines []string, other map[string]int, tag string) string {
	var b strings.Builder
	for _, l := range lines {
		text := html.EscapeString(l)
		if other[l]--; other[l] < 0 {
			text = "<" + tag + ">" + text + "</" + tag + ">"
		}
		b.WriteString(text + "\n")
	}
	return b.String()
}

// TestPage: the page names what changed before what did not, shows both sides, and marks
// the lines that differ.
func TestPage(t *testing.T) {
	dir := t.TempDir()
	all := []pair{
		{"home", "a.svg", "<svg/>", "<svg/>"}, {"home", "b.svg", "<svg/>", "<svg id='2'/>"}, {"home", "c.svg", "", "<svg/>"},
		{"home", paperText, "1 pages\nsame\nwas <this>", "1 pages\nsame\nis that"},
	}
	writePairs := pairsOf("home", map[string]string{"a": "1", "b": "1"}, map[string]string{"b": "2", "c": "3"})
	for i, want := range []string{"a", "b", "c"} {
		if writePairs[i].name != want || !writePairs[i].changed() {
			t.Errorf("pair %d is %+v, want a change of %s", i, writePairs[i], want)
		}
	}
	old, now := marked(all[3].old, all[3].new)
	if !strings.Contains(old, "<del>was &lt;this&gt;</del>") || !strings.Contains(now, "<ins>is that</ins>") || strings.Contains(old, "<del>same") {
		t.Errorf("marked:\n%s\n%s", old, now)
	}
	writePage(t, dir, all[:3], nil)
	page, err := os.ReadFile(filepath.Join(dir, "index.html"))
	if err != nil {
		t.Fatal(err)
	}
	text := string(page)
	if strings.Index(text, "b.svg") > strings.Index(text, "a.svg") || !strings.Contains(text, "2 of 3 changed") || !strings.Contains(text, "not there") {
		t.Errorf("the page reads\n%s", text)
	}
	if _, err := os.Stat(filepath.Join(dir, "home-new-b.svg")); err != nil {
		t.Error(err)
	}
}
