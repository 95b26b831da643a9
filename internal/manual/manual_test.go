package manual

import (
	"bytes"
	"flag"
	"os"
	"testing"

	"tideover/internal/calc"
)

var update = flag.Bool("update", false, "write docs/theory.md")

const theory = "../../docs/theory.md"

func TestTheoryIsFresh(t *testing.T) {
	want := Theory()
	if *update {
		if err := os.WriteFile(theory, want, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	got, err := os.ReadFile(theory)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Error("docs/theory.md is not what the registered equations give; run go test ./internal/manual -update")
	}
}

func TestEquationsAreComplete(t *testing.T) {
	for _, e := range calc.Equations() {
		if e.Result.Name == "" {
			t.Errorf("%s: the result has no symbol", e.Key)
		}
		if e.Fn != nil && len(e.Args) == 0 {
			t.Errorf("%s: it can be evaluated but names no argument", e.Key)
		}
		for _, s := range append(e.Args, e.Result) {
			if s.Meaning == "" {
				t.Errorf("%s: symbol %s has no meaning", e.Key, s.Name)
			}
		}
	}
}
