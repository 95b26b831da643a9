package main

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"
)

var update = flag.Bool("update", false, "write the picture of the README again")

// TestPictureIsFresh: the picture in the README is one the program draws.
func TestPictureIsFresh(t *testing.T) {
	const picture = "../../docs/kestrel-rise.svg"
	out := filepath.Join(t.TempDir(), "out")
	command(t, "pack", "../../examples/kestrel-rise.job.yaml", "-o", out)
	want, err := os.ReadFile(filepath.Join(out, "schematic-on-main.svg"))
	if err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile(picture, want, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(picture)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Error("docs/kestrel-rise.svg is not what the program draws; run go test ./cmd/tideover -run Picture -update")
	}
}
