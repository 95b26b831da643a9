package assembly

import (
	"flag"
	"os"
	"testing"

	"tideover/internal/catalogue"
	"tideover/internal/demo"
	"tideover/internal/job"
)

var update = flag.Bool("update", false, "rewrite the golden files")

func readJob(t testing.TB, name string) *job.Job {
	t.Helper()
	return demo.Job(t, name)
}

func rows(t testing.TB) (*catalogue.Catalogue, *catalogue.Profile) {
	t.Helper()
	return demo.Rows(t, "generic")
}

func golden(t *testing.T, name, got string) {
	t.Helper()
	file := "testdata/" + name + ".golden"
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s differs; if the change is meant, run go test -update\n%s", file, got)
	}
}

func TestExamples(t *testing.T) {
	c, p := rows(t)
	for _, name := range []string{"kestrel-rise", "juniper-flat", "lantern-row", "osprey-house"} {
		j := readJob(t, name)
		a, err := Build(j, c, p)
		if err != nil {
			t.Fatal(err)
		}
		golden(t, name, a.Dump())
		for _, other := range Arrangements() {
			j.Choices.Arrangement = other
			b, err := Build(j, c, p)
			if err != nil {
				t.Fatalf("%s as %s: %v", name, other, err)
			}
			if other == ThroughStore || (other == Raised || other == HeaderTank) && name == "kestrel-rise" {
				golden(t, name+"-"+other, b.Dump())
			}
		}
	}
}

func BenchmarkBuild(b *testing.B) {
	j := readJob(b, "kestrel-rise")
	c, p := rows(b)
	for b.Loop() {
		if _, err := Build(j, c, p); err != nil {
			b.Fatal(err)
		}
	}
}
