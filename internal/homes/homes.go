package homes

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"tideover/internal/job"
)

// Home is one random home.
type Home struct {
	Name   string            // says seed and number, for messages
	Source []byte            // the job file
	Files  map[string][]byte // the logs it names, by name
	Valves int               // the hand valves of a list; 0 for an arrangement
}

// Arrangements are those that homes are drawn in, by turns; Free is the last.
var Arrangements = []string{"through-store", "main-first", "three-way", "hand-by-pass", "kitchen-on-main",
	"spool", "raised", "header", "in-line", Free}

// Free is the arrangement listed part by part.
const Free = "free"

// Random draws home n of a seed. Ten in a row have each arrangement once.
func Random(seed uint64, n int) Home {
	d := &drawing{Rand: rand.New(rand.NewPCG(seed, uint64(n))), files: map[string][]byte{}}
	d.us = d.IntN(3) == 0
	d.arrangement = Arrangements[n%len(Arrangements)]
	h := Home{Name: fmt.Sprintf("seed %d, home %d (%s)", seed, n, d.arrangement), Files: d.files}
	d.home()
	h.Source, h.Valves = []byte(d.text.String()), d.valves
	return h
}

// Each calls do with homes 0 to count−1 of a seed, each in a test of its own.
func Each(t *testing.T, seed uint64, count int, do func(t *testing.T, h Home)) {
	t.Helper()
	for n := range count {
		h := Random(seed, n)
		t.Run(fmt.Sprintf("%d", n), func(t *testing.T) { do(t, h) })
	}
}

// Doc reads a home's job file by itself, with no catalogue; the test ends where it cannot
// be read, for a random home is always a job file.
func (h Home) Doc(t testing.TB) *job.Doc {
	t.Helper()
	doc, faults := job.Read("random.job.yaml", h.Source)
	if len(faults) > 0 {
		t.Fatalf("%s: %v\n%s", h.Name, faults, h.Source)
	}
	return doc
}

// drawing is a home in the making.
type drawing struct {
	*rand.Rand
	text        strings.Builder
	files       map[string][]byte
	us          bool
	arrangement string
	outlets     []string // tags
	valves      int
	ground      float64 // level of the home over the meter [m]
}

// line writes one key and its value, depth maps deep; nothing where the value is "".
func (d *drawing) line(depth int, key, value string) {
	if value != "" {
		fmt.Fprintf(&d.text, "%s%s: %s\n", strings.Repeat("  ", depth), key, value)
	}
}

// open begins a map.
func (d *drawing) open(depth int, key string) {
	fmt.Fprintf(&d.text, "%s%s:\n", strings.Repeat("  ", depth), key)
}

// pick draws one of the texts.
func (d *drawing) pick(list ...string) string { return list[d.IntN(len(list))] }

// chance is true in one of n.
func (d *drawing) chance(n int) bool { return d.IntN(n) == 0 }

// maybe gives the value, or "" (left out) in one of three.
func (d *drawing) maybe(value string) string {
	if d.chance(3) {
		return ""
	}
	return value
}
