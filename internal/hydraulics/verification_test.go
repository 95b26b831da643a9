package hydraulics

import (
	"bytes"
	"flag"
	"fmt"
	"math"
	"os"
	"runtime/debug"
	"sort"
	"strings"
	"sync"
	"testing"
)

var update = flag.Bool("update", false, "write docs/verification.md")

const verification = "../../docs/verification.md"

// line is one figure held against another.
type line struct {
	section, source, quantity string
	want, got, tol            float64
	order                     int // of arrival within its section
}

// report is what the tests of a whole run have held.
var report struct {
	sync.Mutex
	lines     []line
	seen      map[string]bool
	campaigns map[string]int
}

// record notes a figure that a test has just held: want is the published or independent
// one, got ours, tol the tolerance (relative, or absolute where want is 0 or infinite).
func record(section, source, quantity string, want, got, tol float64) {
	report.Lock()
	defer report.Unlock()
	key := fmt.Sprint(section, source, quantity, want)
	if report.seen == nil {
		report.seen, report.campaigns = map[string]bool{}, map[string]int{}
	}
	if !report.seen[key] {
		report.seen[key] = true
		report.lines = append(report.lines, line{section, source, quantity, want, got, tol, len(report.lines)})
	}
}

func recordCampaign(name string, count int) {
	report.Lock()
	defer report.Unlock()
	if report.campaigns == nil {
		report.seen, report.campaigns = map[string]bool{}, map[string]int{}
	}
	report.campaigns[name] = count
}

// campaigns says what each campaign holds, in the order of the report.
var campaigns = [][2]string{
	{"certified", "2 to 200 elements with pumps, non-return valves, rings and dead parts, one in ten of sizes no home has: solved cold and certified; the same from a spoilt start, by the form in heads alone, and with the elements in another order"},
	{"second", "those of 200 that a second solver answers, which works in flows round rings and takes its laws from the certificate: every flow the same"},
	{"intervals", "groups of rings behind checks, with pumps side by side and heads in balance: where each point can stand is what the flows alone allow, worked out apart"},
	{"any-intervals", "the same on the circuits of the first row"},
	{"whole-range", "sizes from the ends of what is accepted, valves open down to a ten-thousandth: none is refused"},
	{"content", "the least content never rises when a part opens further"},
	{"opening-in-trees", "in a tree, opening a part never lowers the total outflow"},
	{"stronger-in-trees", "in a tree, a stronger pump or a higher main never lowers any outlet"},
	{"scaling", "where every loss is a square, four times the heads make twice the flows"},
	{"history", "a cold answer is the same to the last bit whatever was solved before; a warm one as far as a certificate sees"},
	{"datum", "a datum 2000 m lower changes no flow"},
	{"direction", "parts turned round carry the same flow the other way"},
}

// TestMain checks docs/verification.md against what a whole run of the tests has held.
func TestMain(m *testing.M) {
	flag.Parse()
	debug.SetGCPercent(800) // campaigns make circuits by the ten thousand and keep none
	code := m.Run()
	whole := flag.Lookup("test.run").Value.String() == "" && flag.Lookup("test.skip").Value.String() == "" &&
		flag.Lookup("test.list").Value.String() == "" && flag.Lookup("test.fuzz").Value.String() == "" && *seeds == 20000
	if code == 0 && whole {
		code = fresh()
	}
	os.Exit(code)
}

func fresh() int {
	want := verified()
	if *update {
		if err := os.WriteFile(verification, want, 0o644); err != nil {
			fmt.Println(err)
			return 1
		}
		return 0
	}
	if got, err := os.ReadFile(verification); err != nil || !bytes.Equal(got, want) {
		fmt.Println("docs/verification.md is not what the tests held; run go test ./internal/hydraulics -update", err)
		return 1
	}
	return 0
}

const opening = `# Verification

What the numbers were held against. This file is written by the tests
(` + "`go test ./internal/hydraulics -update`" + `), which fail when it is not fresh; each row is a
comparison that a test has made in the run that wrote it. A row marked *recalled* (the
source is known, the figure was not seen again) or *computed* (worked out apart from this
program, from first equations) does not count as published.

Tolerances are relative; where the figure held against is 0 they are absolute. A
difference below 1e-9 is not told further: its last digits are the machine's.

Held besides, in the same tests: every law against its inverse and its slope over twelve
decades; two viscosity formulas against each other; the
certificate against answers and states corrupted by 1e-6 and by one bit.

What the proof was held against is in [verification-proof.md](verification-proof.md): each
part that keeps something apart or in bounds, removed, reversed or jammed, and the promise
that then breaks. [verification-mishaps.md](verification-mishaps.md) shows, for every single
failure, a case whose figure it changes. [verification-campaigns.md](verification-campaigns.md)
lists what was tried in greater numbers than every run does, and
[verification-tests.md](verification-tests.md) from what size of a fault on each reading of the
hand-over shows it. What the figures rest on that was held against nothing, with its range and
what it moves, is in [assumptions.md](assumptions.md).

Of the collected published cases W1 to W9 are below and the viscosity of water (W15) is
under the properties of water. W10 to W14 are about demand at one time (fixture and loading
units turned into flows): they are not about hydraulics, nothing here computes such a
figure, and none of them counts.

`

// verified is the whole report.
func verified() []byte {
	var b strings.Builder
	b.WriteString(opening)
	counts(&b)
	sort.SliceStable(report.lines, func(i, j int) bool {
		p, q := report.lines[i], report.lines[j]
		if p.section != q.section {
			return p.section < q.section
		}
		return p.order < q.order
	})
	section := ""
	for _, l := range report.lines {
		if l.section != section {
			section = l.section
			fmt.Fprintf(&b, "\n## %s\n\n| source or case | quantity | held against | ours | difference | tolerance |\n|---|---|---|---|---|---|\n", section)
		}
		fmt.Fprintf(&b, "| %s | %s | %s | %s | %s | %g |\n", l.source, l.quantity, figure(l.want), figure(l.got), l.difference(), l.tol)
	}
	return []byte(b.String())
}

func counts(b *strings.Builder) {
	published := 0
	for _, l := range report.lines {
		if strings.HasSuffix(l.quantity, "(published)") {
			published++
		}
	}
	fmt.Fprintf(b, "%d figures below, %d of them published.\n\n## Random circuits\n\nDrawn from fixed seeds; what ever failed is pinned as a case.\n\n| circuits | what was held on each |\n|---|---|\n", len(report.lines), published)
	for _, c := range campaigns {
		fmt.Fprintf(b, "| %d | %s |\n", report.campaigns[c[0]], c[1])
	}
}

// figure prints six digits: what the machines of all kinds agree on.
func figure(v float64) string {
	switch {
	case math.IsInf(v, 0):
		return "not determined"
	case math.Abs(v) < 1e-12:
		return "0"
	}
	return fmt.Sprintf("%.6g", v)
}

func (l line) difference() string {
	d := math.Abs(l.got - l.want)
	if l.want != 0 {
		d /= math.Abs(l.want)
	}
	if l.got == l.want || d < 1e-9 {
		return "< 1e-9"
	}
	return fmt.Sprintf("%.1g", d)
}
