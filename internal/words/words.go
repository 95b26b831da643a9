// Package words holds every sentence a user reads, by id: findings, faults, labels,
// sheet text. Code passes ids and arguments, never sentences, so that a second
// language is a second file.
//
// Stage: a leaf. It takes an id and already formatted arguments and gives text.
package words

import (
	"embed"
	"fmt"
	"sort"
	"strings"
	"sync"
)

//go:embed en/*.txt
var files embed.FS

// table reads the message files once: lines "id = text", "#" comments, and
// continuation lines that begin with a blank.
var table = sync.OnceValue(func() map[string]string {
	names, err := files.ReadDir("en")
	if err != nil {
		panic("words: " + err.Error())
	}
	t := make(map[string]string, 4096) // some more than there are
	for _, n := range names {
		b, err := files.ReadFile("en/" + n.Name())
		if err != nil {
			panic("words: " + err.Error())
		}
		parse(n.Name(), string(b), t)
	}
	return t
})

// No run goes without its words: they are read while the other packages start.
func init() { go table() }

func parse(name, text string, t map[string]string) {
	last, i := "", -1
	for line := range strings.SplitSeq(text, "\n") {
		i++
		trimmed := strings.TrimSpace(line)
		switch {
		case trimmed == "" || trimmed[0] == '#':
			last = ""
		case line[0] == ' ' || line[0] == '\t':
			if last == "" {
				panic(fmt.Sprintf("words: %s:%d: continuation of nothing", name, i+1))
			}
			t[last] += " " + trimmed
		default:
			id, msg, ok := strings.Cut(line, "=")
			id = strings.TrimSpace(id)
			if _, twice := t[id]; !ok || twice {
				panic(fmt.Sprintf("words: %s:%d: %q is not a new \"id = text\"", name, i+1, id))
			}
			t[id], last = strings.TrimSpace(msg), id
		}
	}
}

// Has reports whether the message file holds id.
func Has(id string) bool { _, ok := table()[id]; return ok }

// IDs returns every id in order; tests walk it.
func IDs() []string {
	ids := make([]string, 0, len(table()))
	for id := range table() {
		ids = append(ids, id)
	}
	sort.Strings(ids)
	return ids
}

// Args are the named values put into a message's {name} places, already formatted.
type Args map[string]string

// Say returns the message with its {name} places filled. An unknown id, or a place
// without a value, comes back in angle brackets: visible, never silent, and caught by tests.
func Say(id string, args Args) string {
	msg, ok := table()[id]
	if !ok {
		return "‹" + id + "›"
	}
	if !strings.Contains(msg, "{") {
		return msg
	}
	var b strings.Builder
	for {
		before, rest, open := strings.Cut(msg, "{")
		b.WriteString(before)
		if !open {
			return b.String()
		}
		name, after, closed := strings.Cut(rest, "}")
		v, given := args[name]
		if !closed || !given {
			v = "‹" + id + ": " + name + "›"
		}
		b.WriteString(v)
		msg = after
	}
}

// Places returns the {name} places of a message in order of appearance.
func Places(id string) []string {
	var names []string
	msg := table()[id]
	for {
		_, rest, open := strings.Cut(msg, "{")
		if !open {
			return names
		}
		name, after, closed := strings.Cut(rest, "}")
		if !closed {
			return names
		}
		names, msg = append(names, name), after
	}
}

// Fill is Say with its places as name, value, name, value…
func Fill(id string, pairs ...string) string {
	args := Args{}
	for i := 0; i+1 < len(pairs); i += 2 {
		args[pairs[i]] = pairs[i+1]
	}
	return Say(id, args)
}

// SayOr returns the message, or what stands for it when there is none.
func SayOr(id, other string) string {
	if Has(id) {
		return Say(id, nil)
	}
	return other
}
