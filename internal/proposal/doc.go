// Package proposal makes two or three complete alternatives of a job, side by side: the
// least that serves, a balanced one, the most assured. It also tells what a swapped part
// makes better and worse.
//
// Stage: above the appraisal. Each alternative is a set of edits of the customer's own
// file, put right by mend and appraised; limits of space, floor, money and of what may be
// joined are kept, or the alternative says that it does not keep them. It prints nothing
// and writes no file. Same file and prices, same alternatives, on any number of workers.
package proposal
