package catalogue

// Standing is what a figure is to the place a profile is for. Certainty says only how well
// it was seen: a figure read at its source is still no rule elsewhere.
type Standing uint8

// The standings. The zero value is Ours: what says nothing of itself is no rule.
const (
	Ours        Standing = iota // our own default
	Told                        // the user's own file gives it and says no more
	RuleHere                    // law, or a code adopted there
	Recommended                 // a standard or guidance there that binds nobody by itself
	Borrowed                    // a rule elsewhere, or of one town alone: ask
	Uncited                     // a blank: nobody could cite a figure
)

// standings are the words of a file.
var standings = map[string]Standing{"default": Ours, "told": Told, "rule": RuleHere,
	"recommendation": Recommended, "borrowed": Borrowed, "none": Uncited}

// ID is the standing's word in files and JSON, and the end of its message id.
func (s Standing) ID() string {
	return [...]string{"default", "told", "rule", "recommendation", "borrowed", "none"}[s]
}

// standing reads the column; a file without it, or with a blank, was told by its user.
func (r *record) standing() Standing {
	text := r.maybe("standing")
	if text == "" {
		return Told
	}
	s, known := standings[text]
	if !known {
		r.fail("standing", "catalogue.standing", nil)
	}
	return s
}
