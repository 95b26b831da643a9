package appraise

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"tideover/internal/demo"
	"tideover/internal/job"
)

// input reads one of the example jobs.
func input(tb testing.TB, name string) Input {
	tb.Helper()
	return inputFrom(tb, filepath.Join("../../examples", name+".job.yaml"))
}

func inputFrom(tb testing.TB, path string) Input {
	tb.Helper()
	src, err := os.ReadFile(path)
	if err != nil {
		tb.Fatal(err)
	}
	return inputOf(tb, path, src)
}

func inputOf(tb testing.TB, name string, src []byte) Input {
	tb.Helper()
	doc, faults := job.Read(name, src)
	if len(faults) > 0 {
		tb.Fatal(faults)
	}
	cat, p := demo.Rows(tb, doc.Job.Profile)
	return Input{Doc: doc, Job: doc.Job, Catalogue: cat, Profile: p}
}

func appraised(tb testing.TB, in Input) *Appraisal {
	tb.Helper()
	a, err := Run(context.Background(), in, nil)
	if err != nil {
		tb.Fatal(err)
	}
	return a
}

func BenchmarkEvaluate(b *testing.B) {
	in := input(b, "kestrel-rise")
	for b.Loop() {
		if _, err := evaluate(in, false); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRun(b *testing.B) {
	in := input(b, "kestrel-rise")
	for b.Loop() {
		appraised(b, in)
	}
}
