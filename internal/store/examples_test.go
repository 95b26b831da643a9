package store

import (
	"os"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/finding"
	"tideover/internal/job"
)

// judged reads an example, changes it, and returns its result and findings by id.
func judged(t testing.TB, name string, change func(*job.Job)) (*Result, map[string]finding.Finding, Context) {
	t.Helper()
	src, err := os.ReadFile("../../examples/" + name + ".job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	doc, faults := job.Read(name, src)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	if change != nil {
		change(doc.Job)
	}
	cat, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	p, err := cat.Profile(doc.Job.Profile)
	if err != nil {
		t.Fatal(err)
	}
	a, err := assembly.Build(doc.Job, cat, p)
	if err != nil {
		t.Fatal(err)
	}
	c := Context{Job: doc.Job, Assembly: a, Profile: p, Work: &Work{}}
	in, ok := Read(doc.Job, a, p)
	if !ok {
		t.Fatal("no store in the assembly")
	}
	r := Analyse(in, c.Work)
	found := map[string]finding.Finding{}
	for _, f := range Findings(r, c) {
		found[f.ID] = f
	}
	return r, found, c
}

func TestShow(t *testing.T) {
	for _, name := range []string{"kestrel-rise", "juniper-flat"} {
		r, found, c := judged(t, name, nil)
		t.Logf("%+v", *r)
		for _, k := range finding.Kinds() {
			if f, ok := found[k.ID]; ok {
				title, text := finding.Text(&f, c.Job.System())
				t.Logf("%s · %s\n   %s", f.Verdict.ID(), title, text)
				for _, line := range finding.Unfold(f.Calc, c.Job.System()) {
					t.Log("      " + line)
				}
			}
		}
	}
}
