package job

import (
	"bytes"
	"fmt"
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func example(t testing.TB, name string) []byte {
	t.Helper()
	b, err := os.ReadFile("../../examples/" + name + ".job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func mustRead(t testing.TB, src []byte) *Doc {
	t.Helper()
	d, faults := Read("test.yaml", src)
	if len(faults) > 0 {
		t.Fatalf("%v", faults)
	}
	return d
}

// TestEditText shows each operation on one text, old against new.
func TestEditText(t *testing.T) {
	head := "format: 1\nname: x\nunits: metric\ndate: 2026-03-02\n"
	tail := "home:\n  people: 2\noutlets:\n  tap:\n    kind: kitchen\n    height: 1 m\n    distance: 2 m # paced\nchoices:\n  store: {row: tank-500, count: 1}\n  pump:\n    row: jet-0.37\n"
	supply := "supply:\n  static: 3 bar # told\n"
	for _, c := range []struct {
		name      string
		edit      Edit
		old, want string
	}{
		{"set keeps the comment", Edit{Set, "supply.static", "3.4 bar ±0.1"}, supply, "supply:\n  static: 3.4 bar ±0.1 # told\n"},
		{"set adds at its place", Edit{Set, "supply.night-maximum", "6 bar"}, supply, supply + "  night-maximum: 6 bar\n"},
		{"set adds the maps it needs", Edit{Set, "supply.service.length", "9 m"}, supply, supply + "  service:\n    length: 9 m\n"},
		{"set quotes", Edit{Set, "notes", "gate: blue #2"}, supply, supply + "§notes: \"gate: blue #2\"\n"},
		{"set in braces", Edit{Set, "choices.store.count", "2"}, supply, supply + "§count: 2}"},
		{"add in braces", Edit{Set, "choices.store.level", "1 m"}, supply, supply + "§count: 1, level: 1 m}"},
		{"unset takes emptied maps out", Edit{Unset, "supply.peak.flow", ""}, supply + "  # sag\n  peak:\n    flow: 0 L/min\n", supply + "  # sag\n"},
		{"set over a block", Edit{Set, "notes", "short"}, supply + "notes: >\n  long\n\n  # not a comment\n\nprices: p.csv\n", supply + "notes: short\n\nprices: p.csv\n"},
		{"set over folded words", Edit{Set, "notes", "short"}, supply + "notes: long\n  and longer # why\n", supply + "notes: short # why\n"},
		{"set over a null", Edit{Set, "notes", "n"}, supply + "notes: ~ # none\n", supply + "notes: n # none\n"},
		{"set an empty key", Edit{Set, "notes", "n"}, supply + "notes: # none\n", supply + "notes: n # none\n"},
		{"insert", Edit{Insert, "outlets.bath", "height: 1 m, kind: bath, distance: 3 m"}, supply, supply + "§paced\n  bath:\n    kind: bath\n    height: 1 m\n    distance: 3 m\n"},
		{"insert a first item", Edit{Insert, "photos.meter", "file: m.jpg, shows: dial, in front"}, supply, supply + "§photos:\n  meter:\n    file: m.jpg\n    shows: dial, in front\n"},
		{"remove", Edit{Remove, "existing.old", ""}, supply + "existing:\n  old:\n    kind: pump # loud\n  new:\n    kind: pump\n", supply + "existing:\n  new:\n    kind: pump\n"},
	} {
		d := mustReadLoose(head + c.old + tail)
		if d == nil {
			t.Fatalf("%s: cannot read the old text", c.name)
		}
		next, undo, err := d.Apply(c.edit)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		for _, part := range strings.Split(c.want, "§") {
			if !strings.Contains(string(next.Bytes()), part) {
				t.Errorf("%s: got\n%s\nwant in it\n%s", c.name, next.Bytes(), part)
			}
		}
		if back, err := undo.Bytes(next.Bytes()); err != nil || !bytes.Equal(back, d.Bytes()) {
			t.Errorf("%s: undo gives\n%s (%v)", c.name, back, err)
		}
	}
}

// mustReadLoose reads a text that may have faults of meaning.
func mustReadLoose(text string) *Doc {
	d, _ := Read("test.yaml", []byte(text))
	return d
}

// TestEditRefused lists what an edit may not do, by the fault it gives.
func TestEditRefused(t *testing.T) {
	d := mustRead(t, example(t, "kestrel-rise"))
	for _, c := range []struct {
		edit Edit
		want string
	}{
		{Edit{Set, "supply.statik", "3 bar"}, "edit-no-field"},
		{Edit{Set, "outlets.*.height", "3 m"}, "edit-no-field"},
		{Edit{Set, "supply", "3 bar"}, "edit-no-field"},
		{Edit{Set, "outlets.attic.height", "9 m"}, "edit-no-item"},
		{Edit{Set, "photos.meter.file", "m.jpg"}, "edit-no-item"},
		{Edit{Unset, "prices", ""}, "edit-absent"},
		{Edit{Unset, "supply", ""}, "edit-no-field"},
		{Edit{Remove, "outlets.attic", ""}, "edit-absent"},
		{Edit{Remove, "supply.static", ""}, "edit-no-list"},
		{Edit{Insert, "outlets.garden", "kind: garden"}, "edit-present"},
		{Edit{Insert, "outlets.Attic Tap", "kind: garden"}, "edit-no-list"},
		{Edit{Insert, "outlets.attic", "a garden tap"}, "edit-item"},
		{Edit{Insert, "outlets.attic", "kind: bath, kind: bath"}, "edit-item"},
		{Edit{Insert, "outlets.attic", "kind: bath, height: 3 m"}, "outlet-unjoined"},
		{Edit{Set, "notes", "bell \a"}, "edit-value"},
		{Edit{Set, "notes", "\xff"}, "edit-value"},
		{Edit{Set, "notes", strings.Repeat("n", maxBytes)}, "too-big"},
		{Edit{Set, "supply.static", "3,2 bar"}, "quantity.comma-two"},
		{Edit{Set, "choices.pump.cut-in", "5 bar"}, "switch-order"},
		{Edit{Unset, "supply.static", ""}, "missing"},
		{Edit{Unset, "supply.peak.from", ""}, "peak-part"},
		{Edit{Set, "pipework.routes", "x"}, "reserved"},
	} {
		next, _, err := d.Apply(c.edit)
		if err == nil || next != nil {
			t.Errorf("%v: made", c.edit)
			continue
		}
		id := ""
		switch f := err.(type) {
		case Fault:
			id = f.ID
		case Faults:
			id = f[0].ID
		}
		if id != c.want {
			t.Errorf("%+v: %s, want %s", c.edit, id, c.want)
		}
		if strings.Contains(err.Error(), "‹") {
			t.Errorf("%+v: words are missing: %v", c.edit, err)
		}
	}
	if !bytes.Equal(d.Bytes(), example(t, "kestrel-rise")) {
		t.Error("a refused edit changed the document")
	}
}

// TestEditsTogether: two edits may pass through a state that is at fault.
func TestEditsTogether(t *testing.T) {
	d := mustRead(t, example(t, "kestrel-rise"))
	next, undo, err := d.Apply(Edit{Set, "choices.pump.cut-in", "3 bar"}, Edit{Set, "choices.pump.cut-out", "3.6 bar"})
	if err != nil || next.Job.Choices.CutIn.V != 3e5 {
		t.Fatal(err)
	}
	if _, err := undo.Bytes(append([]byte("# later\n"), next.Bytes()...)); err == nil {
		t.Error("undo on other bytes is made")
	}
	back, err := next.Undo(undo)
	if err != nil || !bytes.Equal(back.Bytes(), d.Bytes()) {
		t.Error("undo does not restore the bytes", err)
	}
}

// dress makes a text harder to edit without changing what it says: comments, blank
// lines, CRLF, a byte order mark, no end of the last line.
func dress(r *rapid.T, text string) []byte {
	comments := []string{"# plain", "# ½″ – größer 水 🚰", "#", "# key: value", "# 'quote \"", ""}
	var out []string
	block := false
	for _, line := range strings.Split(strings.TrimSuffix(text, "\n"), "\n") {
		if !block && rapid.IntRange(0, 5).Draw(r, "comment") == 0 {
			out = append(out, strings.Repeat(" ", rapid.IntRange(0, 6).Draw(r, "indent"))+rapid.SampledFrom(comments).Draw(r, "line"))
		}
		if block = block || strings.HasSuffix(line, ">"); !block && rapid.IntRange(0, 7).Draw(r, "trailing") == 0 {
			line += "   " + rapid.SampledFrom(comments).Draw(r, "tail")
		}
		out = append(out, line)
	}
	end := rapid.SampledFrom([]string{"\n", "\r\n"}).Draw(r, "end")
	text = strings.Join(out, end)
	if rapid.Bool().Draw(r, "last") {
		text += end
	}
	if rapid.Bool().Draw(r, "mark") {
		text = mark + text
	}
	return []byte(text)
}

// drawEdit draws an edit that is right for the document more often than not.
func drawEdit(r *rapid.T, d *Doc) Edit {
	op := rapid.SampledFrom([]Op{Set, Set, Set, Unset, Insert, Remove}).Draw(r, "op")
	switch op {
	case Insert:
		list := rapid.SampledFrom([]string{"outlets", "existing", "photos"}).Draw(r, "list")
		text := map[string]string{"outlets": "kind: bath, height: 2 m, distance: 3 m ±1", "existing": "kind: pump", "photos": "file: a.jpg, shows: x: y, z # w"}[list]
		return Edit{Insert, list + "." + rapid.StringMatching(`[a-z]{1,5}(-[a-z0-9]{1,3})?`).Draw(r, "tag"), text}
	case Remove:
		list := rapid.SampledFrom([]string{"outlets", "existing", "photos"}).Draw(r, "list")
		tags := append(d.Job.items(list), "gone")
		return Edit{Remove, list + "." + rapid.SampledFrom(tags).Draw(r, "tag"), ""}
	case Unset:
		return Edit{Unset, rapid.SampledFrom(d.Paths()).Draw(r, "path"), ""}
	}
	f := rapid.SampledFrom(Fields()).Draw(r, "field")
	path := rapid.SampledFrom(append(d.Job.paths(f.Path), "notes")).Draw(r, "path")
	text := f.Default
	if path == "notes" || text == "" {
		text = rapid.OneOf(rapid.SampledFrom([]string{"", " ", "-", "- a", "a: b", "#", "é # ü", "'", "\"", "\\n", "null", "~", "12:30", "{a}", "a\nb\n", "*x", "…", "---", "%", "@", "1 m", "yes", "true", "-1 m"}), rapid.String()).Draw(r, "text")
	}
	return Edit{Set, path, text}
}

// TestEditsKeepTheRest: whatever is edited, every byte outside the change stands, every
// other field says what it said, comments stay (but those of what was taken out), and
// undo restores every byte.
func TestEditsKeepTheRest(t *testing.T) {
	sources := map[string]string{"kestrel-rise": string(example(t, "kestrel-rise")), "juniper-flat": string(example(t, "juniper-flat"))}
	made, tried, schema := 0, 0, compiled(t)
	rapid.Check(t, func(r *rapid.T) {
		src := dress(r, sources[rapid.SampledFrom([]string{"kestrel-rise", "juniper-flat"}).Draw(r, "source")])
		first, faults := Read("x", src)
		if len(faults) > 0 {
			r.Fatalf("a dressed example has faults: %v", faults)
		}
		d := first
		var undos []Undo
		for range rapid.IntRange(1, 4).Draw(r, "edits") {
			e := drawEdit(r, d)
			tried++
			next, undo, err := d.Apply(e)
			if err != nil {
				var f Fault
				if asFault(err, &f) && f.ID == "edit-layout" {
					r.Fatalf("%+v: refused for its layout\n%s", e, d.Bytes())
				}
				continue
			}
			made++
			if made%16 == 0 && !bytes.HasPrefix(next.Bytes(), []byte(mark)) {
				if err := schema.Validate(asJSON(t, next.Bytes())); err != nil {
					r.Fatalf("%+v: read without fault, but refused by the schema: %v", e, err)
				}
			}
			checkKept(r, d, next, e)
			d, undos = next, append(undos, undo)
		}
		now := d.Bytes()
		for i := len(undos) - 1; i >= 0; i-- {
			var err error
			if now, err = undos[i].Bytes(now); err != nil {
				r.Fatal(err)
			}
		}
		if !bytes.Equal(now, src) {
			r.Fatalf("undo does not restore the bytes")
		}
	})
	if made*4 < tried {
		t.Errorf("only %d of %d edits were made: the property is hardly tried", made, tried)
	}
}

func asFault(err error, f *Fault) bool {
	got, ok := err.(Fault)
	*f = got
	return ok
}

// checkKept compares two documents from outside: by what Text gives for every other
// path, by the comments, by the mark and by the line ends.
func checkKept(r *rapid.T, old, now *Doc, e Edit) {
	under := func(p string) bool { return p == e.Path || strings.HasPrefix(p, e.Path+".") }
	for _, pair := range [][2]*Doc{{old, now}, {now, old}} {
		for _, p := range pair[0].Paths() {
			a, _ := pair[0].Text(p)
			if b, ok := pair[1].Text(p); !under(p) && (!ok || a != b) {
				r.Fatalf("%+v changed %s from %q to %q", e, p, a, b)
			}
		}
	}
	if got, ok := now.Text(e.Path); e.Op == Set && (!ok || got != strings.TrimRight(e.Text, "\n")) {
		r.Fatalf("%+v: the file says %q", e, got)
	}
	if e.Op == Set && countLines(old, "#") > countLines(now, "#") && !strings.Contains(mustText(old, e.Path), "#") {
		r.Fatalf("%+v lost a comment", e)
	}
	if bytes.HasPrefix(old.Bytes(), []byte(mark)) != bytes.HasPrefix(now.Bytes(), []byte(mark)) {
		r.Fatalf("%+v changed the byte order mark", e)
	}
	if bare := bytes.ReplaceAll(now.Bytes(), []byte("\r\n"), nil); bytes.Contains(old.Bytes(), []byte("\r\n")) && bytes.ContainsAny(bare, "\r\n") {
		r.Fatalf("%+v mixed line ends", e)
	}
}

func mustText(d *Doc, path string) string { s, _ := d.Text(path); return s }

func countLines(d *Doc, part string) int {
	n := 0
	for _, line := range strings.Split(string(d.Bytes()), "\n") {
		if strings.Contains(line, part) {
			n++
		}
	}
	return n
}

// FuzzEdit throws any text at any file: an edit is either refused or keeps the rest.
func FuzzEdit(f *testing.F) {
	small := "format: 1\nname: x # c\nunits: us\ndate: 2026-03-02\nsupply: {static: 48 psi}\nhome:\n  people: 2\noutlets:\n  tap: {kind: kitchen, height: 1 m, distance: 2 m}\nchoices:\n  store:\n    row: a\n  pump:\n    row: b\nnotes: |+\n  é\n\n"
	for _, src := range []string{small, mark + strings.ReplaceAll(small, "\n", "\r\n"), string(example(f, "juniper-flat")), "a: b", "name: 'x''y'\n", "supply:\nhome:\n # c\n", "notes: >-\n  a\n b\nname: b"} {
		for op := range uint8(4) {
			f.Add([]byte(src), op, "supply.static", "3 bar")
			f.Add([]byte(src), op, "outlets.tap", "kind: wc, height: 1 m, distance: 2 m")
			f.Add([]byte(src), op, "notes", "a: b # c\n")
			f.Add([]byte(src), op, "supply.service.length", "3 m")
		}
	}
	f.Fuzz(func(t *testing.T, src []byte, op uint8, path, text string) {
		d, _ := Read("x", src)
		if d == nil {
			return
		}
		e := Edit{Op(op % 4), path, text}
		next, undo, err := d.Apply(e)
		if err != nil {
			return
		}
		if got, ok := next.Text(path); e.Op == Set && (!ok || got != strings.TrimRight(text, "\n")) {
			t.Fatalf("set %s to %q: the file says %q", path, text, got)
		}
		for _, p := range d.Paths() {
			a, _ := d.Text(p)
			if b, _ := next.Text(p); p != path && !strings.HasPrefix(p, path+".") && a != b {
				t.Fatalf("%+v changed %s from %q to %q", e, p, a, b)
			}
		}
		if back, err := undo.Bytes(next.Bytes()); err != nil || !bytes.Equal(back, src) {
			t.Fatalf("undo: %v, %q", err, back)
		}
	})
}

func ExampleDoc_Apply() {
	src := "format: 1\nname: x\nunits: metric\ndate: 2026-03-02\nsupply:\n  static: 3 bar # told\nhome:\n  people: 2\noutlets:\n  tap:\n    kind: kitchen\n    height: 1 m\n    distance: 2 m\nchoices:\n  store:\n    row: tank-500\n  pump:\n    row: jet-0.37\n"
	doc, _ := Read("x.job.yaml", []byte(src))
	next, _, err := doc.Apply(Edit{Set, "supply.static", "3.2 bar ±0.1"})
	line, column, _ := next.Place("supply.static")
	fmt.Println(err, line, column, strings.Split(string(next.Bytes()), "\n")[line-1])
	// Output: <nil> 6 11   static: 3.2 bar ±0.1 # told
}

// TestEditLayout: what is laid out in a way an edit cannot keep is left to the person.
func TestEditLayout(t *testing.T) {
	src := "existing:\n  old: {kind: pump, # loud\n    condition: worn # very\n  }\nname: n\n"
	d := mustReadLoose(src)
	if d == nil {
		t.Fatal("cannot read the text")
	}
	_, _, err := d.Apply(Edit{Remove, "existing.old", ""})
	var f Fault
	if !asFault(err, &f) || f.ID != "edit-layout" || f.Line != 2 {
		t.Errorf("got %v", err)
	}
	next, _, err := d.Apply(Edit{Set, "existing.old.condition", "good"})
	if want := strings.Replace(src, "worn", "good", 1); err != nil || string(next.Bytes()) != want {
		t.Errorf("setting a value there: %v", err)
	}
}
