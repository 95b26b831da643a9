package proof

import (
	"os"
	"runtime/debug"
	"testing"
)

// TestMain lets garbage lie longer than usual: the tests make very many short-lived spaces
// and answers.
func TestMain(m *testing.M) {
	debug.SetGCPercent(400)
	os.Exit(m.Run())
}
