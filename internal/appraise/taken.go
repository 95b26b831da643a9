package appraise

import (
	"slices"
	"strings"

	"tideover/internal/assume"
	"tideover/internal/job"
)

// assumedPath is what the path of a leaf begins with that is an assumption.
const assumedPath = "assume."

// readAgain reports whether an analysis that runs again whenever a figure moves reads an
// assumption, by itself or through what it reads.
func readAgain(a *assume.Assumption) bool {
	return slices.ContainsFunc(a.Use, func(use string) bool {
		_, runs := readBy[use]
		return runs
	})
}

// readBy are the analyses that run again and what they read, with the stage from which on they do.
var readBy = map[string]stage{"site": laying, "circuit": laying, "service": laying, "store": keeping, "base": keeping}

// readFrom is the first analysis that an assumption can change.
func readFrom(a *assume.Assumption) stage {
	first := keeping
	for _, use := range a.Use {
		if s, runs := readBy[use]; runs {
			first = min(first, s)
		}
	}
	return first
}

// taken lists the assumptions as leaves: those that the analyses read which run again, but for
// what the job tells. They are drawn with the inputs, evenly over their ranges: that a figure is
// a judgement of ours and not the reader's makes nothing surer. What we ask of a
// home is not drawn: fine means that it is met as it is told.
func taken(in Input) []job.Leaf {
	var leaves []job.Leaf
	for _, a := range assume.All() {
		if readAgain(a) && a.Strict == 0 && !answered(in, a) {
			leaves = append(leaves, assumedLeaf(a))
		}
	}
	return leaves
}

// assumedLeaf is an assumption as what moves.
func assumedLeaf(a *assume.Assumption) job.Leaf {
	path := assumedPath + a.Key
	return job.Leaf{Path: path, Taken: true, Moves: []job.Move{{Path: path, Down: a.Value - a.Low, Up: a.High - a.Value}}}
}

// takenAt is the assumption that a leaf's path stands for; nil where it is none.
func takenAt(path string) *assume.Assumption {
	key, is := strings.CutPrefix(path, assumedPath)
	if !is {
		return nil
	}
	return assume.ByKey(key)
}
