package quantity

import "tideover/internal/words"

// ParseError says why a text is not the quantity asked for: what was wrong, why, and
// what would be accepted, with both readings where there are two.
type ParseError struct {
	ID   string            // message id, "quantity.comma"
	Args map[string]string // what fills the message's places
	At   int               // where in the text the fault stands, in runes from 0
}

// Error returns the message in words.
func (e *ParseError) Error() string { return words.Say(e.ID, e.Args) }
