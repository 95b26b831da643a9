package commission

import "math"

// How often a test that is judged by eye and ear is misread: a pump that fails to stop taken
// for one that stops, and the other way round. Judgement: of what people tell to a question with yes
// or no for an answer, 2 to 10 of a hundred are wrong; here somebody waits for one thing alone.
// At 3 of a hundred two tries would no longer pass a sound part in nineteen cases of twenty.
const (
	overlooked = 0.05
	imagined   = 0.02
	mildFails  = 0.6 // share of the tries in which the mildest of what comes and goes fails
	tries      = 2   // as often is a test made that costs nothing to make again: more take sound parts for failures
)

// Seen is a test of the hand-over that passes or fails, with no figure to be read: how often
// it is made, and in which share of the tries the mildest failure it is made for shows.
type Seen struct {
	ID    string // "level", "alarm", "dry", "inlet", "turns"
	Times int
	Mild  float64
}

// seenTests are those tests. A pump that runs dry wears at every try, so that it is tried once, and
// finds only a stop that never works; a float is lifted and a pump switched off at no cost.
func seenTests() []Seen {
	return []Seen{{"level", tries, mildFails}, {"alarm", tries, mildFails}, {"turns", tries, mildFails}, {"dry", 1, 1}, {"inlet", 1, 1}}
}

// SeenOf is the test of an id; nil where there is none.
func (r *Result) SeenOf(id string) *Seen {
	for i := range r.Seen {
		if r.Seen[i].ID == id {
			return &r.Seen[i]
		}
	}
	return nil
}

// Out is the probability that at least one try is taken for a failure, of a part that fails in
// a share of its tries; 0: of a sound one.
func (s *Seen) Out(fails float64) float64 {
	each := fails*(1-overlooked) + (1-fails)*imagined
	return 1 - math.Pow(1-each, float64(s.Times))
}

// Proven reports whether the test finds its mildest failure, and passes a sound part.
func (s *Seen) Proven() bool { return s.Out(s.Mild) >= surelyFound && s.Out(0) <= falseAlarm }
