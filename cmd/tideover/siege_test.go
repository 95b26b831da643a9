package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io/fs"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"runtime/metrics"
	"slices"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"tideover/internal/catalogue"
	"tideover/internal/cli"
)

// Bounds of one command on one job file: when it is told to stop, how soon it then has to
// be back, and what it may hold meanwhile. None is a promise of speed: work that grows with
// a home may be stopped; it may not go on after that.
const (
	patience = 4 * time.Minute
	grace    = 2 * time.Minute
	mostHeap = 700 << 20
)

// besieged is what came of one command.
type besieged struct {
	args     []string
	status   int
	out, err string
	stopped  bool // by its context
	spent    time.Duration
	heap     uint64
}

// besiege runs one command line in a folder, with a deadline, and watches its memory. One
// that does not come back after its deadline cannot be ended from here: the test ends.
func besiege(t testing.TB, x *deformed, args ...string) besieged {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), patience)
	defer cancel()
	r := besieged{args: args}
	var out, err bytes.Buffer
	done, began := make(chan struct{}), time.Now()
	go func() {
		defer close(done)
		r.status = cli.MainUntil(ctx, args, strings.NewReader(""), &out, &err)
	}()
	tick := time.NewTicker(50 * time.Millisecond)
	defer tick.Stop()
	for {
		select {
		case <-done:
			r.out, r.err, r.stopped, r.spent = out.String(), err.String(), ctx.Err() != nil, time.Since(began)
			return r
		case <-tick.C:
			if r.heap = max(r.heap, heap()); r.heap > mostHeap {
				cancel()
			}
			if time.Since(began) > patience+grace {
				t.Fatalf("%v goes on after it was stopped; %v\n%s", args, x.did, x.source)
			}
		}
	}
}

// heap is what is held now [bytes].
func heap() uint64 {
	s := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}}
	metrics.Read(s)
	return s[0].Value.Uint64()
}

// notAFigure is how Go writes what is no number, and a text whose place was left open.
var notAFigure = regexp.MustCompile(`\bNaN\b|[+-]Inf\b|%!|\{[a-z-]+\}|‹nil›|<nil>`)

// faultsOf says what is wrong with how a command ended: nothing, as a rule.
func faultsOf(x *deformed, r besieged, file string) (list []string) {
	wrong := func(format string, a ...any) { list = append(list, fmt.Sprintf(format, a...)) }
	asJSON := strings.Contains(strings.Join(r.args, " "), "--json")
	switch {
	case r.heap > mostHeap:
		wrong("holds %d MB", r.heap>>20)
	case r.stopped && r.status == 2 && r.out == "": // by us, in the middle; one that comes to its end all the same is judged as any
		return list
	case r.status == 0 || r.status == 1:
		if asJSON {
			var doc struct {
				Verdict  string
				Findings []struct{ Verdict string }
			}
			if err := json.Unmarshal([]byte(r.out), &doc); err != nil {
				wrong("JSON: %v", err)
			}
			mustFix := false
			for _, f := range doc.Findings {
				mustFix = mustFix || f.Verdict == "must-fix"
			}
			if mustFix != (r.status == 1) {
				wrong("status %d, and something must be fixed: %v", r.status, mustFix)
			}
		}
	case r.status == 2:
		if r.out != "" {
			wrong("unusable, and on standard output: %.200q", r.out)
		}
		if r.args[0] == "check" && !slices.ContainsFunc([]string{file, "prices.csv", "log.csv"}, func(name string) bool { return strings.Contains(r.err, name) }) {
			wrong("says not where: %.400q", r.err)
		}
	default:
		wrong("status %d: %.400q", r.status, r.err)
	}
	for _, text := range []string{r.out, r.err} {
		for _, at := range notAFigure.FindAllStringIndex(text, -1) {
			around := text[max(0, at[0]-60):min(len(text), at[1]+60)]
			if !bytes.Contains(x.source, []byte(text[at[0]:at[1]])) {
				wrong("%q", around)
			}
		}
	}
	return list
}

// TestStopped: a command that was stopped says nothing and ends with 2; or it comes to its end
// all the same, and is then held to what any other is.
func TestStopped(t *testing.T) {
	const fine, mustFix = `{"verdict": "fine", "findings": []}`, `{"verdict": "must-fix", "findings": [{"verdict": "must-fix"}]}`
	for _, c := range []struct {
		status int
		out    string
		faults int
	}{{2, "", 0}, {0, fine, 0}, {1, mustFix, 0}, {2, fine, 2}, {1, fine, 1}, {0, mustFix, 1}, {0, "{", 1}, {3, "", 1}} {
		r := besieged{args: []string{"check", "--json", "home.job.yaml"}, status: c.status, out: c.out, stopped: true}
		if list := faultsOf(&deformed{}, r, "home.job.yaml"); len(list) != c.faults {
			t.Errorf("stopped, status %d, %q: %q, want %d faults", c.status, c.out, list, c.faults)
		}
	}
}

// filesFaults looks through what a pack wrote.
func filesFaults(t testing.TB, x *deformed, folder string, status int) (list []string) {
	t.Helper()
	files := 0
	err := filepath.WalkDir(folder, func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		files++
		b, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		if len(b) == 0 {
			list = append(list, filepath.Base(name)+" is empty")
		}
		switch filepath.Ext(name) {
		case ".json":
			if !json.Valid(b) {
				list = append(list, filepath.Base(name)+" is no JSON")
			}
		case ".svg", ".csv", ".ics", ".txt":
			if m := notAFigure.Find(b); m != nil && !bytes.Contains(x.source, m) {
				list = append(list, fmt.Sprintf("%s: %s", filepath.Base(name), m))
			}
		}
		return nil
	})
	if written := files > 0; written != (status < 2) {
		list = append(list, fmt.Sprintf("status %d and %d files (%v)", status, files, err))
	}
	return list
}

// siege checks one deformed job, and runs one more command on it.
func siege(t testing.TB, cat *catalogue.Catalogue, throws []byte, then string) (x deformed, runs []besieged, faults []string) {
	t.Helper()
	x = deform(t, cat, throws)
	dir := t.TempDir()
	file := filepath.Join(dir, "home.job.yaml")
	if err := os.WriteFile(file, x.source, 0o644); err != nil {
		t.Fatal(err)
	}
	for name, b := range x.files {
		if err := os.WriteFile(filepath.Join(dir, name), b, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	out := filepath.Join(dir, "out")
	lines := [][]string{{"check", "--json", file}}
	switch then {
	case "text":
		lines = append(lines, []string{"check", "--all", "--calc", file})
	case "diagnose":
		lines = append(lines, []string{"diagnose", file})
	case "pack":
		lines = append(lines, []string{"pack", file, "-o", out})
	case "store":
		lines = append(lines, []string{"store", "--json", "--within", "0.3", file})
	case "prove":
		lines = append(lines, []string{"prove", "--json", file})
	}
	for _, line := range lines {
		r := besiege(t, &x, line...)
		runs = append(runs, r)
		for _, f := range faultsOf(&x, r, filepath.Base(file)) {
			faults = append(faults, line[0]+": "+f)
		}
		if line[0] == "pack" {
			for _, f := range filesFaults(t, &x, out, r.status) {
				faults = append(faults, "pack: "+f)
			}
		}
		if r.status == 2 && line[0] == "check" {
			break // refused once is refused by all; each says so in a script of its own
		}
	}
	if now, err := os.ReadFile(file); err != nil || !bytes.Equal(now, x.source) {
		faults = append(faults, "the job file was changed")
	}
	return x, runs, faults
}

// FuzzWhole: a job file deformed by the field table is checked, whatever was done to it.
func FuzzWhole(f *testing.F) {
	cat := rowsOf(f)
	for n := range uint64(4) {
		f.Add(throwsOf(n))
	}
	f.Fuzz(func(t *testing.T, throws []byte) {
		if x, _, faults := siege(t, cat, throws, ""); len(faults) > 0 {
			t.Errorf("%s\n%s\n%s", strings.Join(faults, "\n"), x.did, x.source)
		}
	})
}

var rowsOf = func() func(testing.TB) *catalogue.Catalogue {
	load := sync.OnceValues(catalogue.Load)
	return func(t testing.TB) *catalogue.Catalogue {
		t.Helper()
		cat, err := load()
		if err != nil {
			t.Fatal(err)
		}
		return cat
	}
}()

// throwsOf are the throws of one number.
func throwsOf(n uint64) []byte {
	g, b := rand.New(rand.NewPCG(97, n)), make([]byte, 128)
	for i := range b {
		b[i] = byte(g.Uint32())
	}
	return b
}

// siegeFor says how long the campaign of TestSiege takes, of processor time: "1h"; siegeFrom
// the number it begins with.
const siegeFor, siegeFrom = "TIDEOVER_SIEGE", "TIDEOVER_SIEGE_FROM"

// TestSiege: deformed job files go through check, diagnose, prove, store and pack. What is
// no figure is nowhere printed, JSON is JSON, nothing goes on after it was stopped or holds
// too much, the exit status is as documented, and the job file stays as it was.
func TestSiege(t *testing.T) {
	cat, n, few := rowsOf(t), uint64(0), uint64(6)
	var most time.Duration
	if text := os.Getenv(siegeFor); text != "" {
		var err error
		if most, err = time.ParseDuration(text); err != nil {
			t.Fatal(err)
		}
	}
	if text := os.Getenv(siegeFrom); text != "" {
		if _, err := fmt.Sscan(text, &n); err != nil {
			t.Fatal(err)
		}
	}
	turns := []string{"text", "diagnose", "pack"}
	if most > 0 {
		turns = append(turns, "store", "prove")
	}
	first, count, stops, spent := n, map[string]int{}, map[string]int{}, map[string]time.Duration{}
	for ; n < first+few || processor() < most; n++ {
		if most > 0 {
			t.Logf("%d", n)
		}
		x, runs, faults := siege(t, cat, throwsOf(n), turns[n%uint64(len(turns))])
		for _, r := range runs {
			count[fmt.Sprintf("%s %d", r.args[0], r.status)]++
			spent[r.args[0]] += r.spent.Round(time.Millisecond)
			if r.stopped {
				stops[r.args[0]]++
				t.Logf("input %d: %s stopped after %v, %d MB; %s", n, r.args[0], r.spent.Round(time.Second), r.heap>>20, x.did)
			}
		}
		if len(faults) > 0 {
			t.Errorf("input %d: %s\n%s", n, strings.Join(faults, "\n"), x.did)
			keep(t, n, &x)
		}
	}
	t.Logf("inputs %d to %d, %v of processor time: %v, in %v; stopped at %v: %v", first, n-1, processor().Round(time.Second), count, spent, patience, stops)
}

// processor is the processor time that this process has used.
func processor() time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		return math.MaxInt64 // then the fewest will do
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// keep writes an input that failed where it can be looked at.
func keep(t *testing.T, n uint64, x *deformed) {
	t.Helper()
	name := filepath.Join(os.TempDir(), fmt.Sprintf("tideover-siege-%d.job.yaml", n))
	if err := os.WriteFile(name, x.source, 0o644); err != nil {
		t.Error(err)
	}
	t.Logf("kept as %s", name)
}
