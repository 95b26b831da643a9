package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"tideover/internal/cli"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"tideover": func() { os.Exit(cli.Main(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) },
	})
}

// TestScripts runs the command lines under testdata/script; they are the description of
// how the commands behave, exit statuses and clean streams included.
func TestScripts(t *testing.T) {
	examples, err := filepath.Abs("../../examples")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script",
		Setup: func(e *testscript.Env) error {
			e.Setenv("EXAMPLES", examples)
			return nil
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			"status":    status,
			"edit":      edit,
			"big":       big,
			"nest":      nest,
			"crlf":      crlf,
			"wrong":     wrong,
			"wide":      wide,
			"unchanged": unchanged,
		},
	})
}

// status N command…: the command must end with exactly that exit status.
func status(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: status N command…")
	}
	err := ts.Exec(args[1], args[2:]...)
	got := "0"
	if err != nil {
		got = strings.TrimPrefix(err.Error(), "exit status ")
	}
	if got != args[0] {
		ts.Fatalf("exit status %s, want %s", got, args[0])
	}
}

// wrong COMMAND… -> PATTERN: tideover called so ends with status 2, prints nothing to
// standard output and says on standard error what matches.
func wrong(ts *testscript.TestScript, neg bool, args []string) {
	n := len(args) - 2
	if neg || n < 1 || args[n] != "->" {
		ts.Fatalf("usage: wrong COMMAND… -> PATTERN")
	}
	status(ts, false, append([]string{"2", "tideover"}, args[:n]...))
	if out := ts.ReadFile("stdout"); out != "" {
		ts.Fatalf("standard output: %q", out)
	}
	said := ts.ReadFile("stderr")
	if !regexp.MustCompile(args[n+1]).MatchString(said) {
		ts.Fatalf("says %q", said)
	}
}

// wide FILE: makes @@@@ a line of half a million.
func wide(ts *testscript.TestScript, _ bool, args []string) {
	write(ts, args[0], strings.Replace(ts.ReadFile(args[0]), "@@@@", strings.Repeat("x", 500_000), 1))
}

// edit FILE OLD NEW: replaces the one place where OLD stands.
func edit(ts *testscript.TestScript, neg bool, args []string) {
	text := ts.ReadFile(args[0])
	plain := strings.NewReplacer(`\n`, "\n", `\t`, "\t")
	old, want := plain.Replace(args[1]), plain.Replace(args[2])
	if n := strings.Count(text, old); neg || n != 1 {
		ts.Fatalf("edit: %q stands %d times in %s", old, n, args[0])
	}
	write(ts, args[0], strings.Replace(text, old, want, 1))
}

// big FILE MEGABYTES: writes a file of that size.
func big(ts *testscript.TestScript, _ bool, args []string) {
	f, err := os.Create(ts.MkAbs(args[0]))
	ts.Check(err)
	ts.Check(f.Truncate(50 << 20))
	ts.Check(f.Close())
}

// nest FILE: writes a job nested far too deep.
func nest(ts *testscript.TestScript, _ bool, args []string) {
	var b strings.Builder
	for i := range 400 {
		b.WriteString(strings.Repeat(" ", i) + "a:\n")
	}
	write(ts, args[0], b.String())
}

// crlf FILE: gives a file Windows line ends and a byte order mark.
func crlf(ts *testscript.TestScript, _ bool, args []string) {
	write(ts, args[0], "\ufeff"+strings.ReplaceAll(ts.ReadFile(args[0]), "\n", "\r\n"))
}

// unchanged A B: two files are the same but for the lines that hold the given words.
func unchanged(ts *testscript.TestScript, _ bool, args []string) {
	a, b := strings.Split(ts.ReadFile(args[0]), "\n"), strings.Split(ts.ReadFile(args[1]), "\n")
	if len(a) != len(b) {
		ts.Fatalf("%d lines became %d", len(a), len(b))
	}
	differ := 0
	for i := range a {
		if a[i] != b[i] {
			differ++
		}
	}
	if differ != 1 {
		ts.Fatalf("%d lines differ, want 1", differ)
	}
}

func write(ts *testscript.TestScript, name, text string) {
	ts.Check(os.WriteFile(ts.MkAbs(name), []byte(text), 0o644))
}
