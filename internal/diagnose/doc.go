// Package diagnose asks, before anything is bought, whether the home needs a store at
// all: is something in the way of the water between street and house, and would a cleaned
// pipe, or a few cans in the kitchen, do instead?
//
// Stage: an analysis. It takes the survey's figures and what was found on site, and gives
// a Result; findings are read off it. Each cause is tried in the circuit of what stands
// between street and house: how badly would this valve, pipe or strainer have to be
// blocked, or how much would a neighbour have to draw, for the house to get just what was
// measured? What was looked at rules causes out. It does not say how likely a cause is:
// one reading cannot; it says what was seen, what could be, and in which order to look.
//
// It leaves out air in the pipe, a slipped non-return valve and a meter that sticks.
package diagnose
