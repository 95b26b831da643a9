package interview

import (
	"strings"

	"tideover/internal/words"
)

// Fault is an answer that cannot be read, by its question.
type Fault struct {
	Question string
	Err      error
}

// Error says which question, and why its answer cannot be read.
func (f *Fault) Error() string {
	return words.Say("ask.fault.at", words.Args{"question": f.Question, "why": f.Err.Error()})
}

// Unwrap returns what is wrong with the text.
func (f *Fault) Unwrap() error { return f.Err }

func unasked(id string) error {
	return &Fault{Question: id, Err: errText(words.Say("ask.fault.question", nil))}
}

type errText string

// Error is the text itself.
func (e errText) Error() string { return string(e) }

// Conflict is a set of answers that no design can meet together.
type Conflict struct {
	Fight []string // questions whose answers fight, the one to change first in front
	ID    string   // of the sentence that says so
	Args  words.Args
}

// Error says which answers fight, and what would end it.
func (c *Conflict) Error() string { return words.Say(c.ID, c.Args) }

// names are the questions in words, for a sentence.
func (v *Interview) names(ids ...string) string {
	var list []string
	for _, id := range ids {
		list = append(list, words.Say("ask."+id+".name", nil))
	}
	return strings.Join(list, ", ")
}
