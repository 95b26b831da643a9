package drawing

import (
	"bytes"
	"regexp"
	"strings"
	"testing"
)

// TestInline: an inline drawing is the standalone one without style and size, with ids of
// its own; the style sheet of a page knows every class it uses.
func TestInline(t *testing.T) {
	scene := &Scene{Title: "a <b>", Desc: "c & d", Width: 20, Height: 10, Items: []Item{
		Gather("", "V1", "valve", DrawLine("pipe stored harm", 0, 0, 5, 5), DrawText("label", 2, Start, 1, 1, "x & y")),
		Gather("", "V1", "again", DrawCircle("tag", 3, 3, 1)),
	}}
	var inline, whole bytes.Buffer
	if err := WriteInline(&inline, scene, "now-"); err != nil {
		t.Fatal(err)
	}
	if err := WriteSVG(&whole, scene, Screen); err != nil {
		t.Fatal(err)
	}
	text := inline.String()
	for _, not := range []string{"<style", "width=\"20mm\"", "xmlns"} {
		if strings.Contains(text, not) {
			t.Errorf("it holds %s", not)
		}
	}
	for _, want := range []string{`id="now-part-V1"`, `id="now-part-V1-2"`, "a &lt;b&gt;", "x &amp; y", `viewBox="0 0 20 10"`} {
		if !strings.Contains(text, want) {
			t.Errorf("it lacks %s", want)
		}
	}
	items := func(s string) string {
		return strings.ReplaceAll(s[strings.Index(s, "<g"):], "now-", "")
	}
	if items(text) != items(whole.String()) {
		t.Error("it draws something else than the standalone file")
	}
	if err := WriteInline(&inline, &Scene{Items: []Item{DrawLine("hair", 0, 0, 1, nan())}}, ""); err == nil {
		t.Error("a coordinate that is no number was written")
	}
}

func nan() float64 { zero := 0.0; return zero / zero }

// TestStyleSheet: every class has the rule of a standalone file, a class of more words after
// those it is made of; dark and light can be chosen by the page.
func TestStyleSheet(t *testing.T) {
	sheet := string(StyleSheet(Screen))
	at := map[string]int{}
	for _, m := range regexp.MustCompile(`(?m)^\.tideover (\S+)\{`).FindAllStringSubmatchIndex(sheet, -1) {
		at[sheet[m[2]:m[3]]] = m[0] + 1
	}
	for class := range styles {
		if at[selector(class)] == 0 {
			t.Errorf("no rule for %q", class)
		}
		if i := strings.LastIndexByte(class, ' '); i > 0 && at[selector(class[:i])] > at[selector(class)] {
			t.Errorf("%q comes before %q and would be overridden", class, class[:i])
		}
	}
	for _, want := range []string{":root{--accent:#0b4f7a", ":root:not([data-look=light]){--accent:#8cc4ea", ":root[data-look=dark]{"} {
		if !strings.Contains(sheet, want) {
			t.Errorf("it lacks %s", want)
		}
	}
}
