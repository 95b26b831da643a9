package pack

import (
	"context"
	"os"
	"testing"

	"tideover/internal/appraise"
	"tideover/internal/catalogue"
	"tideover/internal/job"
)

// real is the appraisal of an example as the command runs it.
func real(t testing.TB, name string) *appraise.Appraisal {
	t.Helper()
	src, err := os.ReadFile("../../examples/" + name + ".job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	c, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	doc, faults := job.Read(name, src)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	profile, err := c.Profile(doc.Job.Profile)
	if err != nil {
		t.Fatal(err)
	}
	a, err := appraise.Run(context.Background(), appraise.Input{Doc: doc, Job: doc.Job, Catalogue: c, Profile: profile}, nil)
	if err != nil {
		t.Fatal(err)
	}
	return a
}
