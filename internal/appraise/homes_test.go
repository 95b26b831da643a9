package appraise

import (
	"bytes"
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"tideover/internal/catalogue"
	"tideover/internal/homes"
)

// homesCount is how many random homes a property looks at: a few, or as many as
// TIDEOVER_HOMES says.
func homesCount(t *testing.T, few int) int {
	t.Helper()
	text := os.Getenv("TIDEOVER_HOMES")
	if text == "" {
		return few
	}
	n, err := strconv.Atoi(text)
	if err != nil {
		t.Fatalf("TIDEOVER_HOMES=%s: %v", text, err)
	}
	return n
}

// homeInput reads a random home as the command line reads a job file.
func homeInput(t *testing.T, h homes.Home) Input {
	t.Helper()
	return readInput(t, h.Source)
}

// readInput reads a job file as the command line does.
func readInput(t *testing.T, src []byte) Input {
	t.Helper()
	cat, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	doc, faults := ReadDoc(cat, "home", src)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	in, err := NewInput(cat, doc)
	if err != nil {
		t.Fatal(err)
	}
	return in
}

// glance appraises a job file once; the error is that of a home which cannot be laid out.
func glance(t *testing.T, src []byte) (*Appraisal, error) {
	t.Helper()
	return Quick(readInput(t, src))
}

var (
	clockText = regexp.MustCompile(`\b0(\d:\d\d)\b`)
	tensText  = regexp.MustCompile(`(^|[ "])(\d+(?:\.\d+)?) (bar|m|L|m/s)( ±(\d+(?:\.\d+)?))?($|[ "])`)
	plainLine = regexp.MustCompile(`^( *[a-z0-9-]+: )([^"'#>|{\[&*!].*)$`)
)

// tens are units that another is a power of ten of, so that a figure moves its point alone.
var tens = map[string]struct {
	unit   string
	places int
}{"bar": {"kPa", 2}, "m": {"mm", 3}, "L": {"mL", 3}}

// shifted moves the decimal point of a number right, in its text.
func shifted(number string, places int) string {
	whole, part, _ := strings.Cut(number, ".")
	part += strings.Repeat("0", places)
	part, rest := part[:places], strings.TrimRight(part[places:], "0")
	whole = strings.TrimLeft(whole+part, "0")
	if whole == "" {
		whole = "0"
	}
	if rest != "" {
		whole += "." + rest
	}
	return whole
}

// respelt is a job file with other spellings of the same values: hours without their nought,
// other units by powers of ten, values in quotes of either kind, remarks behind them.
func respelt(src []byte) []byte {
	lines := strings.Split(clockText.ReplaceAllString(string(src), "$1"), "\n")
	for i, line := range lines {
		line = tensText.ReplaceAllStringFunc(line, func(s string) string {
			m := tensText.FindStringSubmatch(s)
			to, known := tens[m[3]]
			if !known {
				return s
			}
			out := m[1] + shifted(m[2], to.places) + " " + to.unit
			if m[5] != "" {
				out += " ±" + shifted(m[5], to.places) + " " + to.unit
			}
			return out + m[6]
		})
		if m := plainLine.FindStringSubmatch(line); m != nil && !strings.Contains(m[2], " #") {
			switch i % 4 {
			case 0:
				line = m[1] + strconv.Quote(m[2])
			case 1:
				line = m[1] + "'" + strings.ReplaceAll(m[2], "'", "''") + "'"
			case 2:
				line += "   # as told: \"so\""
			}
		}
		lines[i] = line
	}
	return []byte(strings.Join(lines, "\n"))
}

// TestAnySpelling: 7:30 for 07:30, kPa for bar, mm for m, quotes, remarks, in any home: the same bytes.
func TestAnySpelling(t *testing.T) {
	count, changed := homesCount(t, 12), 0
	for n := range count {
		h := homes.Random(41, n)
		other := respelt(h.Source)
		a, err1 := glance(t, h.Source)
		b, err2 := glance(t, other)
		if (err1 == nil) != (err2 == nil) || err1 != nil && err1.Error() != err2.Error() {
			t.Errorf("%s: %v, spelt otherwise %v", h.Name, err1, err2)
		}
		if err1 != nil || err2 != nil {
			continue
		}
		x, err := a.JSON()
		if err != nil {
			t.Fatal(err)
		}
		y, err := b.JSON()
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(x, y) {
			t.Errorf("%s: spelt otherwise: %s", h.Name, firstApart(x, y))
		}
		if !bytes.Equal(h.Source, other) {
			changed++
		}
	}
	if changed < count/3 { // one in three is in US units
		t.Errorf("%d of %d homes spelt otherwise", changed, count)
	}
}

// blocks parts a text at the lines that begin with so many blanks and a key.
func blocks(text string, depth int) []string {
	var list []string
	for _, line := range strings.SplitAfter(text, "\n") {
		head := strings.HasPrefix(line, strings.Repeat(" ", depth)) && len(line) > depth && line[depth] != ' ' && line[depth] != '#'
		if head || len(list) == 0 {
			list = append(list, "")
		}
		list[len(list)-1] += line
	}
	return list
}

// shuffled is a job file in another order: its top-level keys, and its outlets.
func shuffled(src []byte, seed uint64, outlets bool) []byte {
	r := rand.New(rand.NewPCG(seed, 5))
	top := blocks(string(src), 0)
	for i, b := range top {
		if !outlets || !strings.HasPrefix(b, "outlets:") {
			continue
		}
		taps := blocks(strings.TrimPrefix(b, "outlets:\n"), 2)
		r.Shuffle(len(taps), func(i, j int) { taps[i], taps[j] = taps[j], taps[i] })
		top[i] = "outlets:\n" + strings.Join(taps, "")
	}
	r.Shuffle(len(top), func(i, j int) { top[i], top[j] = top[j], top[i] })
	return []byte(strings.Join(top, ""))
}

// TestAnyOrder: the order of the top-level keys changes no byte; that of the outlets no
// figure and no verdict. The tags of their pipes follow it, and are left out.
func TestAnyOrder(t *testing.T) {
	count, seen := homesCount(t, 12), 0
	for n := range count {
		h := homes.Random(42, n)
		a, err := glance(t, h.Source)
		if err != nil {
			continue
		}
		keys, err := glance(t, shuffled(h.Source, uint64(n), false))
		if err != nil {
			t.Errorf("%s: its keys in another order: %v", h.Name, err)
			continue
		}
		x, _ := a.JSON()
		if y, _ := keys.JSON(); !bytes.Equal(x, y) {
			t.Errorf("%s: its keys in another order: %s", h.Name, firstApart(x, y))
		}
		if strings.Contains(h.Name, homes.Free) {
			continue // a list names its outlets in its joins
		}
		other := shuffled(h.Source, uint64(n), true)
		if !bytes.Equal(other, h.Source) {
			seen++
		}
		taps, err := glance(t, other)
		if err != nil {
			t.Errorf("%s: its outlets in another order: %v", h.Name, err)
			continue
		}
		if d := apart(judged(a), judged(taps)); d != "" {
			t.Errorf("%s: its outlets in another order: %s", h.Name, d)
		}
	}
	if seen < count/2 {
		t.Errorf("%d of %d homes in another order", seen, count)
	}
}

type verdictAndFigure struct {
	key, verdict string
	figure       float64
}

// judged is what was judged, in the order of the keys.
func judged(a *Appraisal) []verdictAndFigure {
	var list []verdictAndFigure
	run := regexp.MustCompile(`^R\d+$`)
	for _, f := range a.Findings {
		where := f.Where
		if run.MatchString(where) {
			where = "R"
		}
		list = append(list, verdictAndFigure{f.ID + " " + where + " " + f.Mode, f.Verdict.ID(), f.Figure.SI})
	}
	slices.SortFunc(list, func(x, y verdictAndFigure) int {
		if c := strings.Compare(x.key, y.key); c != 0 {
			return c
		}
		if c := strings.Compare(x.verdict, y.verdict); c != 0 {
			return c
		}
		return cmp.Compare(x.figure, y.figure)
	})
	return list
}

func apart(x, y []verdictAndFigure) string {
	for i := range min(len(x), len(y)) {
		close := x[i].figure == y[i].figure || math.Abs(x[i].figure-y[i].figure) <= 1e-6*math.Max(math.Abs(x[i].figure), math.Abs(y[i].figure))+1e-9
		if x[i].key != y[i].key || x[i].verdict != y[i].verdict || !close {
			return fmt.Sprintf("%+v, %+v", x[i], y[i])
		}
	}
	if len(x) != len(y) {
		return fmt.Sprintf("%d findings, %d", len(x), len(y))
	}
	return ""
}
