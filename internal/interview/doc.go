// Package interview turns a dozen plain answers into a whole job file that already works.
//
// Stage: before the job file. It holds the questions as data, checks one answer at a time,
// and builds from all of them the bytes of a job file with a comment wherever something
// was assumed. The choices in it are sized by published rules, then checked by the
// appraisal and put right by trying what the findings themselves suggest, until nothing
// must be fixed. Where the answers cannot be reconciled it says which of them fight.
//
// It asks nobody, prints nothing and writes no file: a command line or a page shows
// Questions(answers) one at a time, keeps each text that Check lets pass, and calls Build.
//
// Two ways of not knowing differ. An answer nobody was asked for takes the ordinary value.
// "Don't know" (the text "-") takes the cautious value of practice. Both are written as
// assumed.
package interview
