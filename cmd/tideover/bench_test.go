package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"
)

// built compiles the program as it is released: static, without cgo.
func built(b *testing.B) string {
	b.Helper()
	name := filepath.Join(b.TempDir(), "tideover")
	build := exec.Command("go", "build", "-trimpath", "-o", name, ".")
	build.Env = append(os.Environ(), "CGO_ENABLED=0")
	if out, err := build.CombinedOutput(); err != nil {
		b.Fatalf("%v: %s", err, out)
	}
	return name
}

// run times whole commands, process start included, and reports the largest resident set.
func run(b *testing.B, args func(i int) []string) {
	name := built(b)
	resident := int64(0)
	b.ResetTimer()
	for i := 0; b.Loop(); i++ {
		c := exec.Command(name, args(i)...)
		if out, err := c.CombinedOutput(); err != nil {
			b.Fatalf("%v: %s", err, out)
		}
		resident = max(resident, c.ProcessState.SysUsage().(*syscall.Rusage).Maxrss)
	}
	b.ReportMetric(float64(b.Elapsed().Milliseconds())/float64(b.N), "ms/run")
	b.ReportMetric(float64(resident)/1024, "MB-resident")
}

func BenchmarkCheckKestrelRise(b *testing.B) {
	run(b, func(int) []string { return []string{"check", "../../examples/kestrel-rise.job.yaml"} })
}

func BenchmarkPackKestrelRise(b *testing.B) {
	out := filepath.Join(b.TempDir(), "out")
	run(b, func(int) []string {
		return []string{"pack", "../../examples/kestrel-rise.job.yaml", "-o", out}
	})
}

func BenchmarkStart(b *testing.B) {
	run(b, func(int) []string { return []string{"--version"} })
}
