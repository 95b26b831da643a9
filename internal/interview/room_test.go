package interview

import (
	"context"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"

	"tideover/internal/appraise"
	"tideover/internal/catalogue"
	"tideover/internal/finding"
	"tideover/internal/quantity"
)

// TestRoom: a home that an interview makes, with nothing to fix, has at most two lines that
// are too close to call, and few fine ones with little room. TIDEOVER_HOMES says how many
// interviews are drawn; about three in eight come to a home.
func TestRoom(t *testing.T) {
	interviews := 16
	if n, err := strconv.Atoi(os.Getenv("TIDEOVER_HOMES")); err == nil {
		interviews = n
	}
	v := interview(t)
	rows, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	sound, draws, lines, marks := 0, 0, map[string]int{}, map[string]int{}
	for n := range interviews {
		r := rand.New(rand.NewPCG(7, uint64(n)))
		a := Answers{}
		for _, q := range v.all {
			a[q.ID] = answer(q, r)
		}
		d, err := v.Build(context.Background(), a)
		if err != nil {
			continue
		}
		sound++
		var close []string
		most := 0
		for _, f := range appraisedOf(t, rows, d.Source) {
			most = max(most, f.Tried)
			switch {
			case f.Close && f.Verdict != finding.Fine:
				lines[f.ID]++
				_, sentence := finding.Text(&f, quantity.Metric)
				close = append(close, f.ID+": "+sentence)
			case f.Close:
				marks[f.ID]++
			}
		}
		draws += most
		if len(close) > 2 {
			t.Errorf("interview %d: %d lines are too close to call:\n%s", n, len(close), strings.Join(close, "\n"))
		}
	}
	if sound < interviews/5 {
		t.Errorf("only %d of %d interviews come to a home", sound, interviews)
	}
	t.Logf("%d homes, %d draws each; too close to call: %v; marked: %v", sound, draws/max(1, sound), lines, marks)
}

func appraisedOf(t *testing.T, rows *catalogue.Catalogue, src []byte) []finding.Finding {
	t.Helper()
	doc, faults := appraise.ReadDoc(rows, "home", src)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	in, err := appraise.NewInput(rows, doc)
	if err != nil {
		t.Fatal(err)
	}
	a, err := appraise.Run(context.Background(), in, nil)
	if err != nil {
		t.Fatal(err)
	}
	return a.Findings
}
