package job

import (
	"runtime"
	"strings"
	"testing"
)

// bombs are texts that cost a reader of YAML more than their size, or might: each is made
// as long as is asked.
var bombs = map[string]func(n int) string{
	"anchors":           func(n int) string { return strings.Repeat("a: &a 1\n", n/8) },
	"aliases":           func(n int) string { return "a: &a [1]\nb: [" + strings.Repeat("*a,", n/3) + "]\n" },
	"laughs":            func(n int) string { return "a: &a [x]\n" + strings.Repeat("b: &b [*a,*a,*a,*a]\n", n/20) },
	"merges":            func(n int) string { return strings.Repeat("<<: {a: 1}\n", n/11) },
	"braces":            func(n int) string { return "a: " + strings.Repeat("{", n) },
	"brackets":          func(n int) string { return "a: " + strings.Repeat("[", n) },
	"closed":            func(n int) string { return "a: " + strings.Repeat("[", n/2) + strings.Repeat("]", n/2) },
	"dashes":            func(n int) string { return strings.Repeat("- ", n/2) },
	"questions":         func(n int) string { return strings.Repeat("? ", n/2) },
	"exclamations":      func(n int) string { return "a: " + strings.Repeat("!", n) },
	"directives":        func(n int) string { return strings.Repeat("%", n) },
	"directive lines":   func(n int) string { return strings.Repeat("%a\n", n/3) },
	"colons":            func(n int) string { return strings.Repeat(":", n) },
	"colons apart":      func(n int) string { return strings.Repeat(": ", n/2) },
	"documents":         func(n int) string { return strings.Repeat("---\n", n/4) },
	"dots":              func(n int) string { return strings.Repeat("...\n", n/4) },
	"comments":          func(n int) string { return "a: 1\n" + strings.Repeat("#\n", n/2) },
	"comments behind":   func(n int) string { return strings.Repeat("a: 1 # c\n", n/9) },
	"hashes":            func(n int) string { return "a: 1 #" + strings.Repeat("#", n) },
	"quotes":            func(n int) string { return "a: " + strings.Repeat("'", n) },
	"double quotes":     func(n int) string { return "a: " + strings.Repeat("\"\" ", n/3) },
	"escapes":           func(n int) string { return "a: \"" + strings.Repeat("\\n", n/2) + "\"\n" },
	"never closed":      func(n int) string { return "a: \"" + strings.Repeat("x\n", n/2) },
	"quoted lines":      func(n int) string { return "a: '" + strings.Repeat("x\n\n", n/3) + "'\n" },
	"folded":            func(n int) string { return "notes: >\n" + strings.Repeat("  a\n", n/4) },
	"literal":           func(n int) string { return "notes: |\n" + strings.Repeat("  a\n", n/4) },
	"folded and blank":  func(n int) string { return "notes: >\n" + strings.Repeat("  a\n\n", n/5) },
	"blank ends":        func(n int) string { return "notes: >\n  a\n" + strings.Repeat("\n", n) },
	"kept blank ends":   func(n int) string { return "notes: |+\n  a\n" + strings.Repeat(" \n", n/2) },
	"plain lines":       func(n int) string { return "notes: a\n" + strings.Repeat("  b\n", n/4) },
	"blank":             func(n int) string { return strings.Repeat(" ", n) },
	"tabs":              func(n int) string { return "a:" + strings.Repeat("\t", n) },
	"one key":           func(n int) string { return strings.Repeat("k", n) + ": 1\n" },
	"one value":         func(n int) string { return "name: " + strings.Repeat("v", n) + "\n" },
	"keys":              func(n int) string { return strings.Repeat("k: 1\n", n/5) },
	"commas":            func(n int) string { return "a: [" + strings.Repeat(",", n) + "]\n" },
	"carriage returns":  func(n int) string { return "a: 1\r" + strings.Repeat("\r", n) },
	"windows":           func(n int) string { return strings.Repeat("# a\r\n", n/5) + "a: 1\r\n" },
	"marks":             func(n int) string { return strings.Repeat(mark, n/3) },
	"next lines":        func(n int) string { return "a: " + strings.Repeat("\u0085", n/2) },
	"noughts":           func(n int) string { return strings.Repeat("\x00", n) },
	"wide":              func(n int) string { return "a\x00:\x00 \x00" + strings.Repeat("b\x00", n/2) },
	"deep":              func(n int) string { return nested(min(1000, n/100)) },
	"stars":             func(n int) string { return "a: " + strings.Repeat("*", n) },
	"bars":              func(n int) string { return "a: " + strings.Repeat("|", n) },
	"ampersands":        func(n int) string { return "a: " + strings.Repeat("&", n) },
	"backticks":         func(n int) string { return strings.Repeat("`", n) },
	"odd bytes":         func(n int) string { return strings.Repeat("\xff", n) },
	"indented brackets": func(n int) string { return "a:\n" + strings.Repeat("  - [\n", n/6) },
}

// TestBombs: whatever the text, it is read or refused with memory that grows as the text
// does: at most so many bytes for each of its own, and four times the text takes about four times, not sixteen.
func TestBombs(t *testing.T) {
	const (
		size = 50000
		each = 4000    // bytes that reading takes for each byte of the text, at most
		more = 7       // of four times the text
		base = 8 << 20 // what any text may take: pools, tables
	)
	took := func(name string, src []byte) float64 {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		_, faults := Read("bomb", src)
		runtime.ReadMemStats(&after)
		if len(faults) == 0 {
			t.Errorf("%s is a job", name)
		}
		return float64(after.TotalAlloc - before.TotalAlloc)
	}
	for name, make := range bombs {
		one, four := took(name, []byte(make(size))), took(name, []byte(make(4*size)))
		if four > base+each*4*size || four > base+more*one {
			t.Errorf("%s: %.1f MB for %d kB, %.1f MB for four times as much", name, one/1e6, size/1000, four/1e6)
		}
	}
}
