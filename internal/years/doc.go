// Package years puts a job into the seasons run and reads the odds off it: how many
// interruptions each size of store rides out, how old its water gets, and where both hold.
//
// Stage: an analysis. It takes a job, its assembly and circuit, and the outage log's bytes;
// it gives the input of the run (Make), lives one future at a time (the caller fans out),
// and gives a Result from which findings are read. It writes nothing and starts no worker.
//
// What it assumes beside what demand and outage say: the refill flow is that of the home's
// own float valve and feed for every size of store; a store is mixed; the water that comes
// in has no age and, until somebody reads a strip, no chlorine.
package years
