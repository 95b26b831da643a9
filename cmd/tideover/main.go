// Command tideover plans a home's backup water supply from one job file: it checks it,
// and writes the pack that goes to site.
package main

import (
	"os"

	_ "tideover/cmd/tideover/collector" // before what fills tables
	"tideover/internal/cli"
)

func main() {
	os.Exit(cli.Main(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}
