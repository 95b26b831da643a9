// Package demo hands the demo jobs under examples/ to the tests, read and with the
// catalogue tables they name.
//
// Stage: tests only. It takes the name of an example and gives its bytes, its job, rows
// and profile; whatever cannot be read ends the test. It joins nothing and computes
// nothing: each package builds on a job what its own tests need.
package demo

import (
	"os"
	"testing"

	"tideover/internal/catalogue"
	"tideover/internal/job"
)

// Source returns the bytes of an example's job file. Tests run in their own package's
// folder, two below the root.
func Source(t testing.TB, name string) []byte {
	t.Helper()
	src, err := os.ReadFile("../../examples/" + name + ".job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return src
}

// Doc returns an example as it was read.
func Doc(t testing.TB, name string) *job.Doc {
	t.Helper()
	doc, faults := job.Read(name, Source(t, name))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return doc
}

// Job returns an example's job; each call reads it anew, so a test may change it.
func Job(t testing.TB, name string) *job.Job {
	t.Helper()
	return Doc(t, name).Job
}

// Rows returns the built-in catalogue and one of its profiles.
func Rows(t testing.TB, profile string) (*catalogue.Catalogue, *catalogue.Profile) {
	t.Helper()
	c, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	p, err := c.Profile(profile)
	if err != nil {
		t.Fatal(err)
	}
	return c, p
}
