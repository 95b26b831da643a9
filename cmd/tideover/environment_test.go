package main

import (
	"bytes"
	"os"
	"os/exec"
	"testing"
)

// TestEnvironment: what is printed depends on the job file and on nothing around it.
func TestEnvironment(t *testing.T) {
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	const file = "../../examples/juniper-flat.job.yaml"
	run := func(env []string, args ...string) []byte {
		cmd := exec.Command(self, args...)
		cmd.Args[0] = "tideover"
		cmd.Env = env
		var said bytes.Buffer
		cmd.Stderr = &said
		out, err := cmd.Output()
		if status := cmd.ProcessState.ExitCode(); status > 1 || len(out) == 0 {
			t.Fatalf("%v with %v: %v, %s", args, env, err, said.Bytes())
		}
		return out
	}
	for _, args := range [][]string{{"check", "--json", file}, {"check", "--all", file}} {
		want := run(os.Environ(), args...)
		for _, env := range [][]string{
			{"EMPTY=yes"},
			{"TZ=Pacific/Apia", "LANG=tr_TR.UTF-8", "LC_ALL=tr_TR.UTF-8", "COLUMNS=1", "TERM=dumb", "NO_COLOR=1"},
			{"TZ=nowhere", "LANG=C", "HOME=/nonexistent", "COLUMNS=100000", "GOMAXPROCS=1", "TMPDIR=/nonexistent"},
		} {
			if got := run(env, args...); !bytes.Equal(got, want) {
				t.Errorf("%v prints something else with %v", args, env)
			}
		}
	}
}
