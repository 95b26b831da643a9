package job

import (
	"math"
	"strings"
	"testing"
)

// TestSuppressed: a use read while water was short reaches half as much again further up than its
// spread, told or taken; one that nobody read does not.
func TestSuppressed(t *testing.T) {
	for name, c := range map[string]struct {
		use, short string
		down, up   float64 // L
	}{
		"read, with its spread":  {"100 L ±20 %", "yes", 20, 70},
		"told, no spread":        {"100 L", "yes", 20, 70},
		"nobody knows":           {"100 L ±20 %", "unknown", 20, 70},
		"water was there":        {"100 L ±20 %", "no", 20, 20},
		"not asked, as in files": {"100 L ±20 %", "", 20, 20},
		"nobody read anything":   {"", "yes", 39, 39},
	} {
		t.Run(name, func(t *testing.T) {
			use := ""
			if c.use != "" {
				use = "  use: " + c.use + "\n"
			}
			if c.short != "" {
				use += "  use-rationed: " + c.short + "\n"
			}
			src := strings.Replace(string(example(t, "kestrel-rise")), "  use: 130 L ±20%\n", use, 1)
			j := mustRead(t, []byte(src)).Job
			for _, l := range j.Inexact() {
				if l.Path != "home.use" {
					continue
				}
				m := l.Moves[0]
				if math.Abs(1000*m.Down-c.down) > 1e-9 || math.Abs(1000*m.Up-c.up) > 1e-9 {
					t.Errorf("%g L down and %g L up, want %g and %g", 1000*m.Down, 1000*m.Up, c.down, c.up)
				}
				return
			}
			t.Error("the use has no spread")
		})
	}
}
