// Package examples carries the demo jobs, so that one can be tried without looking for it.
//
// Stage: data. It holds the bytes of the job files of this folder and knows nothing of them.
package examples

import _ "embed"

// KestrelRise is the job file of the main demo.
//
//go:embed kestrel-rise.job.yaml
var KestrelRise []byte
