package interview

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"tideover/internal/appraise"
	"tideover/internal/catalogue"
	"tideover/internal/finding"
	"tideover/internal/quantity"
)

// TestRoom: of homes that an interview makes, with nothing to fix, hardly one has more than
// two lines that are too close to call. TIDEOVER_HOMES says how many are tried.
func TestRoom(t *testing.T) {
	homes := 12
	if n, err := strconv.Atoi(os.Getenv("TIDEOVER_HOMES")); err == nil {
		homes = n
	}
	v := interview(t)
	rows, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	sound, over, lines, marks := 0, 0, map[string]int{}, map[string]int{}
	drawn := 0
	for n := range homes {
		r := rand.New(rand.NewPCG(7, uint64(n)))
		a := Answers{}
		for _, q := range v.all {
			a[q.ID] = answer(q, r)
		}
		d, err := v.Build(context.Background(), a)
		if err != nil {
			continue
		}
		doc, faults := appraise.ReadDoc(rows, "home", d.Source)
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		in, err := appraise.NewInput(rows, doc)
		if err != nil {
			t.Fatal(err)
		}
		x, err := appraise.Run(context.Background(), in, nil)
		if err != nil {
			t.Fatal(err)
		}
		sound++
		close, marked := 0, 0
		var ids []string
		most := 0
		for i := range x.Findings {
			f := &x.Findings[i]
			most = max(most, f.Tried)
			switch {
			case f.Close && f.Verdict != finding.Fine:
				close++
				lines[f.ID]++
				ids = append(ids, f.ID+" "+f.Where+" "+f.Mode+" "+strconv.Itoa(f.Held)+"/"+strconv.Itoa(f.Tried)+" "+quantity.Format(f.Figure, quantity.Metric)+" of "+quantity.Format(f.Limit, quantity.Metric)+" by "+fmt.Sprint(f.Moves[:min(3, len(f.Moves))]))
			case f.Close:
				marked++
				marks[f.ID]++
			}
		}
		drawn += most
		if close > 2 {
			over++
			t.Logf("home %d: %d lines too close to call: %v; %d marks", n, close, ids, marked)
		}
	}
	t.Logf("%d homes, %d with more than two; draws %d each; look at: %v; marked: %v", sound, over, drawn/max(1, sound), lines, marks)
}
