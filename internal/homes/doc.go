// Package homes draws random homes, as job files that a person could have written.
//
// Stage: tests only. It takes a seed and a number and gives the bytes of a job file and of
// the logs it names: every arrangement in turn and lists of parts, 3 to 60 outlets, 1 to 22
// hand valves in a list, an outage log, a timetable or a habit, metric and US customary
// units, values that were measured, told, guessed and left out. The same seed and number
// give the same bytes. Such a home need not be a good one: many have something to fix, some
// cannot be laid out, and then the tool must say so. It reads no file, joins nothing and
// computes nothing of engineering.
package homes
