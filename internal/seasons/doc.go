// Package seasons lives through years of a household and its supply, again and again, and
// counts what the store did: the odds behind "is it big enough".
//
// Stage: numerics under appraise. It takes bare SI figures (Input): who draws (demand), how
// the main and the power fail (a Supply), how the home is joined to the store, and any
// number of stores to be tried at once. It gives counts (Tally) chunk by chunk, one future
// to a chunk, and reads answers with intervals off their sum (Answer). It knows no job and
// no file, starts no worker and stops when its context does.
//
// The balance is exact from event to event: between two events every flow is constant, and
// moments of crossing (dry, full, an edge of the refill table) are worked out, not
// stepped over. An hour's draws are summed first and laid out one by one only where their
// order can matter. Hours in which the store neither gives nor takes are not lived at all.
//
// Left out: what a pump cannot lift (the day run judges that), water that runs back from
// the store to the main, and evaporation.
package seasons
