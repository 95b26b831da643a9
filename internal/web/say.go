package web

import (
	"errors"
	"net/url"
	"strings"

	"tideover/internal/shelf"
	"tideover/internal/words"
)

// say fills a message's places with name, value…; sayOr has something to stand for a
// message that is not there.
var say, sayOr = words.Fill, words.SayOr

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
