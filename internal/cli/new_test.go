package cli

import (
	"bytes"
	"strings"
	"testing"

	"tideover/internal/catalogue"
	"tideover/internal/interview"
)

// TestAsk: a person at the terminal can ask how, go back, not know, and be told what is
// accepted; an input that ends early writes nothing.
func TestAsk(t *testing.T) {
	cat, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	v := interview.New(cat, "2026-03-02")
	for name, x := range map[string]struct {
		typed string
		want  interview.Answers
		told  string
	}{
		"the call":       {"5\ntwo\n-\n3 d\n3.2 bar ±0.1\nasked\nground\n0.9 m\n2 h\n", interview.Answers{"people": "5", "storeys": "two", "fails": "-", "longest": "3 d", "pressure": "3.2 bar ±0.1"}, ""},
		"how, and again": {"?\n5\n\n\n\n\n\n\n\n\n", interview.Answers{"people": "5"}, "Guests of a week"},
		"back":           {"5\n<\n6\n\n\n\n\n\n\n\n\n", interview.Answers{"people": "6"}, ""},
		"refused, again": {"lots\n4\n\n\n\n\n\n\n\n\n", interview.Answers{"people": "4"}, "not a number"},
		"ends early":     {"5\n", nil, ""},
	} {
		var told bytes.Buffer
		s := streams{in: strings.NewReader(x.typed), err: &told}
		got, err := s.ask(v, interview.Answers{}, true)
		if (err != nil) != (x.want == nil) {
			t.Errorf("%s: %v", name, err)
		}
		for id, want := range x.want {
			if got[id] != want {
				t.Errorf("%s: %s is %q, want %q", name, id, got[id], want)
			}
		}
		if !strings.Contains(told.String(), x.told) {
			t.Errorf("%s: nothing says %q", name, x.told)
		}
	}
}
