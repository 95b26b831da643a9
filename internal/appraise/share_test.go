package appraise

import (
	"context"
	"math"
	"math/rand/v2"
	"os"
	"runtime"
	"strconv"
	"testing"

	"tideover/internal/finding"
	"tideover/internal/homes"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// rates works out by recursion over every count, without a draw, how often the rule comes to
// each answer where the true share is p, and how many draws it takes on average.
func rates(p float64) (says [4]float64, draws float64) {
	now := map[int]float64{0: 1} // chance of so many failed draws
	for n := 1; len(now) > 0; n++ {
		next := map[int]float64{}
		for failed, chance := range now {
			next[failed] += chance * p
			next[failed+1] += chance * (1 - p)
		}
		for failed, chance := range next {
			if s := (count{held: n - failed, tried: n}).stands(); s != open {
				says[s] += chance
				draws += chance * float64(n)
				delete(next, failed)
			}
		}
		now = next
	}
	return says, draws
}

// TestRuleRates: the rule errs as seldom as share.go says, worked out exactly: above nine
// tenths is said of a share of nine tenths or less in at most 5 of 100, below of one of nine
// tenths or more likewise, and what holds nearly always passes.
func TestRuleRates(t *testing.T) {
	for p := 0.0; p <= 1; p += 0.01 {
		says, draws := rates(p)
		switch {
		case math.Abs(says[above]+says[below]+says[unsure]-1) > 1e-12 || draws > mostDraws || says[open] != 0:
			t.Errorf("%.2f: %v in %.1f draws", p, says, draws)
		case p <= enough+1e-9 && says[above] > risk, p >= enough-1e-9 && says[below] > risk:
			t.Errorf("%.2f: above in %.4f, below in %.4f", p, says[above], says[below])
		}
	}
	for _, c := range []struct{ p, least, most float64 }{{0.85, 0, 0.007}, {0.9, 0, 0.05}, {0.98, 0.94, 0.96}, {0.99, 0.995, 1}, {1, 1, 1}} {
		if says, draws := rates(c.p); says[above] < c.least || says[above] > c.most {
			t.Errorf("%.2f passes in %.4f (%.1f draws), want %g to %g", c.p, says[above], draws, c.least, c.most)
		}
	}
}

// TestRuleBySimulation plays the rule with drawn numbers: a true 0.85 passes in at most 5 of
// 100, which the 32 fixed draws of old let through in more than 20.
func TestRuleBySimulation(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 1))
	const games = 20000
	for _, c := range []struct{ p, most float64 }{{0.85, 0.05}, {0.9, 0.055}} {
		passed := 0
		for range games {
			var n count
			for n.stands() == open {
				n.add(rng.Float64() < c.p)
			}
			if n.stands() == above {
				passed++
			}
		}
		if got := float64(passed) / games; got > c.most {
			t.Errorf("%g passes in %g", c.p, got)
		} else if want, _ := rates(c.p); math.Abs(got-want[above]) > 0.006 {
			t.Errorf("%g passes in %g, worked out %g", c.p, got, want[above])
		}
	}
}

// TestCountEnds: a count that has its answer takes no more draws, and the least run of draws
// that hold is one fewer than enough without its last.
func TestCountEnds(t *testing.T) {
	if s := (count{held: leastDraws, tried: leastDraws}).stands(); s != above {
		t.Errorf("%d of %d: %d", leastDraws, leastDraws, s)
	}
	if s := (count{held: leastDraws - 1, tried: leastDraws - 1}).stands(); s != open {
		t.Errorf("one fewer: %d", s)
	}
	if s := (count{held: leastDraws - 1, tried: leastDraws}).stands(); s != open {
		t.Errorf("one failed: %d", s)
	}
	if s := (count{tried: leastDraws}).stands(); s != below {
		t.Errorf("none of %d: %d", leastDraws, s)
	}
}

// TestDrawsHold: the draws are spread evenly over each range, whatever its shape, are
// independent of each other, and are the same whatever else is moved.
func TestDrawsHold(t *testing.T) {
	leaves := []job.Leaf{
		{Path: "a", Moves: []job.Move{{Path: "a", Down: 3, Up: 1}}},
		{Path: "b", Moves: []job.Move{{Path: "b", Down: 0, Up: 1}}},
		{Path: "c", Moves: []job.Move{{Path: "c", Down: 2, Up: 2}}},
	}
	const n = 40000
	draws := drawn(leaves, n, 5)
	for k := range leaves {
		l := &leaves[k]
		mean, lag := 0.0, 0.0
		var values []float64
		for _, d := range draws {
			v := l.At(d[l.Path])[0].V
			if v < -l.Moves[0].Down-1e-12 || v > l.Moves[0].Up+1e-12 {
				t.Fatalf("%s: %g is out of its range", l.Path, v)
			}
			values = append(values, v)
			mean += v / n
		}
		width := l.Moves[0].Down + l.Moves[0].Up
		middle := (l.Moves[0].Up - l.Moves[0].Down) / 2
		for i := 1; i < n; i++ {
			lag += (values[i] - middle) * (values[i-1] - middle) / n
		}
		if math.Abs(mean-middle) > 0.01*width || math.Abs(lag) > 0.02*width*width/12 {
			t.Errorf("%s: mean %g, want %g; from draw to draw %g", l.Path, mean, middle, lag)
		}
	}
	for i, d := range drawn(leaves[2:], 50, 5) {
		if d["c"] != draws[i]["c"] {
			t.Fatal("what else is moved changes a draw")
		}
	}
}

// TestWorkers: shares and verdicts are the same on one core and on several.
func TestWorkers(t *testing.T) {
	of := func(cores int) []finding.Finding {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(cores))
		return appraised(t, input(t, "juniper-flat")).Findings
	}
	one, many := of(1), of(5)
	for i := range one {
		a, b := &one[i], &many[i]
		if a.Key() != b.Key() || a.Verdict != b.Verdict || a.Held != b.Held || a.Tried != b.Tried || a.Figure != b.Figure {
			t.Errorf("%s: %d of %d, then %d of %d", a.Key(), a.Held, a.Tried, b.Held, b.Tried)
		}
	}
}

// TestNotRerunHasNoShare: what is not run again shows no share, in no output; and something
// does show one.
func TestNotRerunHasNoShare(t *testing.T) {
	for _, name := range []string{"kestrel-rise", "osprey-house", "juniper-flat", "lantern-row"} {
		in := input(t, name)
		in.Proof = NamedProof
		a, shown := appraised(t, in), 0
		base, err := evaluate(in, true)
		if err != nil {
			t.Fatal(err)
		}
		again := in
		again.atOnce, again.moving = atOnce(base), true
		rerun, err := evaluate(again, false)
		if err != nil {
			t.Fatal(err)
		}
		still := map[key]bool{}
		for i := range rerun.Findings {
			still[keyOf(&rerun.Findings[i])] = true
		}
		for i := range a.Findings {
			f := &a.Findings[i]
			if f.Tried > 0 {
				shown++
			}
			if f.Tried > 0 && (!still[keyOf(f)] || f.Tried < leastDraws || f.Held > f.Tried) {
				t.Errorf("%s: %s shows %d of %d", name, f.Key(), f.Held, f.Tried)
			}
		}
		if shown < 40 {
			t.Errorf("%s: only %d findings show a share", name, shown)
		}
	}
}

// firmness orders what may be said of something fine.
func firmness(f *finding.Finding) int {
	switch {
	case f.Verdict == finding.Fine && !f.Close:
		return 2
	case f.Close:
		return 1
	}
	return 0
}

// TestGuessIsNeverFirmer: turning every measured value of a home into a guess makes no
// verdict firmer, but for what the chance of the draws can do (three standard errors of the
// two shares). TIDEOVER_HOMES says how many random homes are tried beside the examples.
func TestGuessIsNeverFirmer(t *testing.T) {
	tried, softer := 0, 0
	try := func(t *testing.T, name string, in Input) {
		guessed := guessedAll(t, in)
		in.Doc, guessed.Doc = nil, nil // no cures
		a, err := Run(context.Background(), in, nil)
		if err != nil {
			return // a home that cannot be laid out
		}
		b, err := Run(context.Background(), guessed, nil)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		of := map[key]*finding.Finding{}
		for i := range a.Findings {
			of[keyOf(&a.Findings[i])] = &a.Findings[i]
		}
		for i := range b.Findings {
			g := &b.Findings[i]
			f := of[keyOf(g)]
			if f == nil || firmness(f) == 0 || f.Tried == 0 {
				continue
			}
			tried++
			if firmness(g) < firmness(f) {
				softer++
			}
			if firmness(g) > firmness(f) && (g.Tried == 0 || rise(f, g) > 3) {
				t.Errorf("%s: %s: %d of %d measured, %d of %d guessed", name, f.Key(), f.Held, f.Tried, g.Held, g.Tried)
			}
		}
	}
	for _, name := range []string{"kestrel-rise", "osprey-house", "juniper-flat", "lantern-row"} {
		try(t, name, input(t, name))
	}
	n := 3
	if told, err := strconv.Atoi(os.Getenv("TIDEOVER_HOMES")); err == nil {
		n = told
	}
	homes.Each(t, 14, n, func(t *testing.T, h homes.Home) { try(t, h.Name, inputOf(t, h.Name, h.Source)) })
	if tried < 200 || softer == 0 {
		t.Errorf("%d findings were compared, of which %d became less firm", tried, softer)
	}
	t.Logf("%d findings compared, %d became less firm", tried, softer)
}

// rise is how many standard errors the share of g is above that of f.
func rise(f, g *finding.Finding) float64 {
	a, b := float64(f.Held)/float64(f.Tried), float64(g.Held)/float64(g.Tried)
	both := float64(f.Held+g.Held) / float64(f.Tried+g.Tried)
	return (b - a) / math.Sqrt(both*(1-both)*(1/float64(f.Tried)+1/float64(g.Tried)))
}

// guessedAll turns every "±" of a job file into "?".
func guessedAll(t *testing.T, in Input) Input {
	t.Helper()
	var edits []job.Edit
	for _, path := range in.Doc.Paths() {
		if q, ok := in.Job.Quantity(path); ok && q.Basis == quantity.Measured {
			q.Basis, q.Half = quantity.Assumed, 0
			edits = append(edits, job.Edit{Op: job.Set, Path: path, Text: quantity.FormatFile(q, in.Job.System())})
		}
	}
	if len(edits) == 0 {
		return in
	}
	doc, _, err := in.Doc.Apply(edits...)
	if err != nil {
		t.Fatal(err)
	}
	in.Doc, in.Job = doc, doc.Job
	return in
}

// TestWhatHasNoDoubtIsNotFelt: a quantity that has no row in the table of doubts changes
// nothing that is judged when it moves, so that a guess of it cannot be firmer than a reading.
func TestWhatHasNoDoubtIsNotFelt(t *testing.T) {
	without := 0
	for _, name := range []string{"kestrel-rise", "osprey-house", "juniper-flat", "lantern-row"} {
		in := input(t, name)
		base, err := evaluate(in, true)
		if err != nil {
			t.Fatal(err)
		}
		in.atOnce, in.starts, in.moving = atOnce(base), base.Service.Answers, true
		still := rerunsOf(base, nil).move(in, move{}, rooms())
		for _, f := range job.Fields() {
			_, doubted := job.DoubtOf(f.Path)
			q, known := in.Job.Quantity(f.Path)
			if f.Shape != job.Quantity || f.Whole || doubted || !known || q.SI == 0 {
				continue
			}
			without++
			r := rerunsOf(base, []job.Leaf{{Path: f.Path, Moves: []job.Move{{Path: f.Path, Down: 0.05 * math.Abs(q.SI), Up: 0.05 * math.Abs(q.SI)}}}})
			for x := -1.0; x <= 1; x += 2 {
				if got := r.move(in, move{f.Path: x}, rooms()); !alike(got, still) {
					t.Errorf("%s: %s has no row and is felt", name, f.Path)
				}
			}
		}
	}
	if without < 8 {
		t.Errorf("only %d quantities have no row: nothing was tried", without)
	}
}
