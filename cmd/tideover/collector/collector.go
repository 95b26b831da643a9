// Package collector sets the garbage collector for a program that mostly ends before it has
// used much memory: collecting early would only cost time. It is imported for that effect.
//
// It is a package of its own, and imports nothing, so that it is set before the tables of
// the larger libraries fill: a collection in the middle of the start is a tenth of a run.
package collector

import "runtime/debug"

func init() { debug.SetGCPercent(800) }
