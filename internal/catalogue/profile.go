package catalogue

// Rule is one field of a local-rules profile: a limit or default with its source.
// A blank one (Set false) makes whatever needs it "not judged", by name.
type Rule struct {
	Key       string // "max-velocity"
	Set       bool
	Value     float64 // SI; yes/no rules are 1/0
	Text      string  // as written in the file
	Source    string
	Edition   string
	Certainty Certainty
}

// Profile is one set of local rules. The tool never claims compliance with it: it says
// what it checked and defers to the local code and licensed practice.
type Profile struct {
	Key   string
	Words string
	Rules map[string]Rule
}
