// Package collector sets the heap for a program that mostly ends before it has used much
// memory: collecting early, and asking the system for one small page after another, would
// only cost time. It is imported for that effect.
//
// It is a package of its own, and imports next to nothing, so that it comes before the
// tables of the larger libraries: a collection in the middle of a check is a tenth of it,
// and its small pages, some five thousand, are another.
package collector

import (
	"runtime"
	"runtime/debug"
)

// usual is what a check takes from the heap, all in all, with room for more [bytes].
const usual = 48 << 20

// most is where memory is collected however seldom it is otherwise: a soft limit on what nobody
// uses any more. What is in use stays far below it, for a job is refused that would need more.
const most = 400 << 20

func init() {
	debug.SetGCPercent(1600)
	debug.SetMemoryLimit(most)
	if large(make([]byte, usual)) {
		runtime.GC() // it goes back to the heap; there is next to nothing to look through yet
	}
}
