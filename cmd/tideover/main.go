// Command tideover plans a home's backup water supply from one job file: it checks it,
// and writes the pack that goes to site.
package main

import (
	"os"
	"runtime/debug"

	"tideover/internal/cli"
)

func main() {
	// A run ends before it has used much memory; collecting it early would only cost time.
	debug.SetGCPercent(800)
	os.Exit(cli.Main(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}
