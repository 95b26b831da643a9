// Package procedure works out what hands do: which handles, taps and plugs, in which order,
// what has to be there before and what is seen after.
//
// Stage: after the assembly, before the papers. It takes an Assembly and gives lists of steps
// as data: parts by index, acts, message ids. It prints nothing and solves nothing; a replay
// walks every list through the assembly, and its tests through the solver.
package procedure
