package assembly

import (
	"flag"
	"os"
	"testing"

	"tideover/internal/catalogue"
	"tideover/internal/job"
)

var update = flag.Bool("update", false, "rewrite the golden files")

func readJob(t testing.TB, name string) *job.Job {
	t.Helper()
	src, err := os.ReadFile("../../examples/" + name + ".job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	doc, faults := job.Read(name, src)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return doc.Job
}

func rows(t testing.TB) (*catalogue.Catalogue, *catalogue.Profile) {
	t.Helper()
	c, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	p, err := c.Profile("generic")
	if err != nil {
		t.Fatal(err)
	}
	return c, p
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
	for _, name := range []string{"kestrel-rise", "juniper-flat", "lantern-row"} {
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
			if other == ThroughStore {
				golden(t, name+"-through-store", b.Dump())
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
