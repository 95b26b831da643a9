package appraise

import (
	"math"
	"slices"
)

// The rule by which draws tell whether a verdict holds in nine tenths of what the inputs may
// be. Each draw moves every input that is not known exactly to a point of its range, evenly
// and independently of every other draw; a verdict holds in it or does not.
//
// Two sequential probability ratio tests run side by side on the draws in their order (Wald
// 1945, "Sequential tests of statistical hypotheses", Ann. Math. Stat. 16): nine tenths
// against 0.99, and nine tenths against 0.75. While the true share is nine tenths or less,
// the first ratio is a supermartingale that begins at 1, so it ever comes to 1/0.05 with a
// chance of at most 0.05, however often it is looked at and whenever the draws end (Ville
// 1939, "Étude critique de la notion de collectif"); the second likewise while it is nine
// tenths or more. So "above" and "below" each are wrong in at most 5 of 100. What neither
// says within mostDraws counts as below, and draws end as soon as nothing that could still
// come would make it "above". share_test.go works the true rates out: a share of 0.85 passes
// as above in 0.6 of 100, one of 0.98 in 95.
const (
	enough    = 0.9  // the share a verdict has to hold in
	better    = 0.99 // the alternatives the ratios are built for
	worseOff  = 0.75
	risk      = 0.05
	mostDraws = 160
)

var (
	holdsUp, failsUp     = math.Log(better / enough), math.Log((1 - better) / (1 - enough))
	holdsDown, failsDown = math.Log(worseOff / enough), math.Log((1 - worseOff) / (1 - enough))
	proved               = -math.Log(risk) * (1 - 1e-12) // a ratio that comes to it but for the last bits does
)

// leastDraws is how many must hold in a row for "above": no fewer tell it.
var leastDraws = int(math.Ceil(proved / holdsUp))

// count is how often a verdict held in how many draws, and in which it did not.
type count struct {
	held, tried int
	failed      []int // numbers of draws, in order
}

// standing is what a count says.
type standing uint8

const (
	open   standing = iota // more draws may tell
	above                  // it holds in more than nine tenths, with 95 % confidence
	below                  // in fewer, with 95 % confidence
	unsure                 // within mostDraws neither can be told any more: counts as below
)

// stands applies the rule. Before leastDraws, which are made anyway, it is not asked: a count
// of a few is no news to a reader.
func (c count) stands() standing {
	failed := float64(c.tried - c.held)
	held := float64(c.held)
	switch left := float64(mostDraws - c.tried); {
	case c.tried < leastDraws:
		return open
	case held*holdsUp+failed*failsUp >= proved:
		return above
	case held*holdsDown+failed*failsDown >= proved:
		return below
	case (held+left)*holdsUp+failed*failsUp < proved:
		return unsure
	}
	return open
}

// add counts one more draw.
func (c *count) add(holds bool) {
	if holds {
		c.held++
	} else {
		c.failed = append(c.failed, c.tried)
	}
	c.tried++
}

// Two findings are one matter where the one that fails more seldom does so, in three quarters of
// its failed draws, together with the other, and those are two fifths of the other's.
const (
	together = 0.75
	much     = 0.4
)

// with reports whether two findings are one matter, by the draws that both were tried in.
func (c *count) with(other *count) bool {
	until := min(c.tried, other.tried)
	one, two, both := 0, 0, 0
	for _, i := range other.failed {
		if i < until {
			two++
		}
	}
	for _, i := range c.failed {
		if i >= until {
			continue
		}
		one++
		if _, fails := slices.BinarySearch(other.failed, i); fails {
			both++
		}
	}
	return both > 0 && float64(both) >= together*float64(min(one, two)) && float64(both) >= much*float64(max(one, two))
}
