package web

import (
	"errors"
	"net/url"
	"strings"

	"tideover/internal/shelf"
	"tideover/internal/words"
)

// say fills a message's places with name, value, name, value…
func say(id string, pairs ...string) string {
	args := words.Args{}
	for i := 0; i+1 < len(pairs); i += 2 {
		args[pairs[i]] = pairs[i+1]
	}
	return words.Say(id, args)
}

// sayOr returns the message, or what stands for it when there is none.
func sayOr(id, other string) string {
	if words.Has(id) {
		return words.Say(id, nil)
	}
	return other
}

func listed(list []string) string {
	if len(list) == 0 {
		return say("web.none")
	}
	return strings.Join(list, ", ")
}

func sayArgs(id string, args words.Args) string { return words.Say(id, args) }

func pathEscape(name string) string { return url.PathEscape(name) }

// isTaken reports whether a name was refused because there is such a job.
func isTaken(err error) bool {
	var e *shelf.Error
	return errors.As(err, &e) && e.ID == "shelf.taken"
}
