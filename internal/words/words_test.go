package words

import (
	"strings"
	"testing"
)

func TestSay(t *testing.T) {
	parse("test", "a.b = You have {n} things\n\tto do, {who}.\n# a note\nc = plain\n", table())
	for _, c := range []struct {
		id   string
		args Args
		want string
	}{
		{"a.b", Args{"n": "2", "who": "fitter"}, "You have 2 things to do, fitter."},
		{"c", nil, "plain"},
		{"a.b", Args{"n": "2"}, "You have 2 things to do, ‹a.b: who›."},
		{"no.such", nil, "‹no.such›"},
	} {
		if got := Say(c.id, c.args); got != c.want {
			t.Errorf("Say(%q) = %q, want %q", c.id, got, c.want)
		}
	}
	if got := strings.Join(Places("a.b"), " "); got != "n who" {
		t.Errorf("Places = %q", got)
	}
}

func TestParseRefuses(t *testing.T) {
	for name, text := range map[string]string{
		"twice": "a = b\na = c\n", "no sign": "just words\n", "continuation of nothing": "\tmore\n",
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s: parse took it", name)
				}
			}()
			parse("test", text, map[string]string{})
		}()
	}
}

// TestMessagesAreClean: no message is empty, none has a place that is not closed, and none
// ends in a blank.
func TestMessagesAreClean(t *testing.T) {
	for _, id := range IDs() {
		msg := table()[id]
		if msg == "" || strings.Count(msg, "{") != strings.Count(msg, "}") || strings.TrimSpace(msg) != msg {
			t.Errorf("%s = %q", id, msg)
		}
	}
}
