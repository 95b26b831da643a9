package drawing

import (
	"flag"
	"fmt"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/job"
	"tideover/internal/quantity"

	"pgregory.net/rapid"
)

var assemblies = flag.Int("assemblies", 2001, "how many random assemblies are laid out, a third of them each way")

// TestTwoThousandAreClear draws random assemblies of 3 to 80 parts from fixed seeds, three
// ways: homes in an arrangement, lists of parts grown from an existing bad job, pipework
// joined at random. Nothing overlaps, no pipe crosses a label or runs into another.
func TestTwoThousandAreClear(t *testing.T) {
	y := newYard(t)
	for _, way := range []struct {
		name string
		draw func(*rapid.T) *assembly.Assembly
	}{{"arranged", y.home}, {"listed", y.list}, {"joined", anyPipework}} {
		t.Run(way.name, func(t *testing.T) {
			t.Parallel()
			least, most := campaign(t, rapid.Custom(way.draw), *assemblies/3)
			t.Logf("%d assemblies of %d to %d parts", *assemblies/3, least, most)
			if most < 60 {
				t.Errorf("the largest has %d parts, want up to 80", most)
			}
		})
	}
}

// campaign looks at the first so many assemblies of 3 to 80 parts a generator gives, on
// every processor, and returns the fewest and the most parts of one.
func campaign(t *testing.T, g *rapid.Generator[*assembly.Assembly], many int) (least, most int) {
	type drawn struct {
		seed int
		a    *assembly.Assembly
	}
	queue := make(chan drawn)
	var hands sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		hands.Go(func() {
			for d := range queue {
				if got := faultIn(d.a); got != "" {
					t.Errorf("seed %d, %d parts: %s", d.seed, len(d.a.Parts), got)
				}
			}
		})
	}
	least = 80
	for seed, n := 0, 0; n < many; seed++ {
		if seed > 20*many {
			t.Fatalf("only %d of %d seeds give 3 to 80 parts", n, seed)
		}
		a := g.Example(seed)
		if size := len(a.Parts); size >= 3 && size <= 80 {
			least, most = min(least, size), max(most, size)
			queue <- drawn{seed, a}
			n++
		}
	}
	close(queue)
	hands.Wait()
	return least, most
}

// yard is what random homes are built with, read once.
type yard struct {
	rows    *catalogue.Catalogue
	profile *catalogue.Profile
	laid    *job.Job // an arrangement lays it out
	listed  *job.Job // its parts are listed one by one
}

func newYard(t *testing.T) *yard {
	t.Helper()
	rows, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	profile, err := rows.Profile("generic")
	if err != nil {
		t.Fatal(err)
	}
	_, laid := example(t, "kestrel-rise", "")
	_, listed := example(t, "lantern-row", "")
	return &yard{rows, profile, laid, listed}
}

func (y *yard) built(r *rapid.T, j *job.Job) *assembly.Assembly {
	a, err := assembly.Build(j, y.rows, y.profile)
	if err != nil {
		r.Fatalf("cannot be built: %v", err)
	}
	return a
}

// home is a home of 1 to 25 outlets laid out in an arrangement.
func (y *yard) home(r *rapid.T) *assembly.Assembly {
	return y.built(r, anyHome(r, y.laid, 25))
}

// list is the listed job with taps added, and parts put between any two of any line:
// valves, pipes, strainers, non-return valves, drains on a tee, by-passes with a valve.
func (y *yard) list(r *rapid.T) *assembly.Assembly {
	j := *y.listed
	l := &lister{r: r, j: &j}
	j.Parts, j.Outlets, j.Joins = slices.Clone(j.Parts), slices.Clone(j.Outlets), slices.Clone(j.Joins)
	for i := range rapid.IntRange(0, 12).Draw(r, "taps") {
		o := anyOutlet(r, &y.listed.Outlets[0], i)
		j.Outlets = append(j.Outlets, o)
		l.join(fmt.Sprintf("home-%d", i), "home", "t4", o.Tag)
	}
	for range rapid.IntRange(0, 18).Draw(r, "parts") {
		at := rapid.IntRange(0, len(j.Joins)-1).Draw(r, "line")
		line := strings.Split(j.Joins[at].Line, ", ")
		gap := rapid.IntRange(1, len(line)-1).Draw(r, "gap")
		line = slices.Insert(line, gap, l.piece(j.Joins[at].Role)...)
		j.Joins[at].Line = strings.Join(line, ", ")
	}
	return y.built(r, &j)
}

// lister lists more parts of a job.
type lister struct {
	r *rapid.T
	j *job.Job
}

func (l *lister) join(tag, role string, line ...string) {
	l.j.Joins = append(l.j.Joins, job.FreeJoin{Tag: tag, Role: role, Line: strings.Join(line, ", ")})
}

func (l *lister) part(kind string) string {
	p := job.FreePart{Tag: fmt.Sprintf("x%d", len(l.j.Parts)), Kind: kind, Kept: "yes"}
	if kind == "pipe" {
		p.Length.V = quantity.Length(rapid.IntRange(1, 90).Draw(l.r, "dm")) / 10
	}
	l.j.Parts = append(l.j.Parts, p)
	return p.Tag
}

// piece is what is put into a line, and what hangs on it.
func (l *lister) piece(role string) []string {
	kind := rapid.SampledFrom([]string{"pipe", "hand-valve", "non-return", "strainer", "drain", "by-pass"}).Draw(l.r, "piece")
	if kind != "drain" && kind != "by-pass" {
		return []string{l.part(kind)}
	}
	tee := l.part("tee")
	if kind == "drain" {
		l.join(tee+"-drain", role, tee+".branch", l.part("drain"))
		return []string{tee}
	}
	back, passed := l.part("tee"), l.part("hand-valve")
	l.join(tee+"-by-pass", role, tee+".branch", l.part("hand-valve"), back+".branch")
	return []string{tee, passed, back}
}
