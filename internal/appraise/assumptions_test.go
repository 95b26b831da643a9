package appraise

import (
	"context"
	"flag"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"tideover/internal/assume"
	"tideover/internal/finding"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

var updateAssumptions = flag.Bool("update-assumptions", false, "write docs/assumptions.md anew")

const assumptionsPreface = `# Assumptions

What the figures rest on that nobody measured and no rule fixes. Made from the code
(` + "`go test ./internal/appraise -run AssumptionsAreFresh -update-assumptions`" + `); a test fails when it is
not fresh, and one when a figure enters an analysis that is neither here nor among the figures of
physics, arithmetic and rules (` + "`internal/assume/testdata/constants.txt`" + `);
decimals inside functions are in the list beside it, ` + "`literals.txt`" + `.

*Moves* is what each does to the four examples when it is put to the ends of its range, alone: the
verdicts of taps, store, base and day that turn, or how much of its limit the figure that moves
most moves by. Of what the years use, what it does to the headline of the job's own store, in eight
futures of ten years each (of Juniper Flat and Lantern Row, whose years are soon lived): the same ones at both ends. Where a job tells what takes its place it moves nothing.

`

// quick are the examples whose years take no time worth telling.
var quick = []string{"juniper-flat", "lantern-row"}

// examplesOf is what moves in the examples, in words, by key.
func examplesOf(t *testing.T) map[string][]string {
	t.Helper()
	moves := map[string][]string{}
	for _, name := range []string{"kestrel-rise", "juniper-flat", "osprey-house", "lantern-row"} {
		in := input(t, name)
		list, err := Assumptions(context.Background(), in)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range list {
			switch {
			case len(r.Turns) > 0:
				var told []string
				for _, turn := range r.Turns {
					told = append(told, turnText(&r, &turn, in.Job.System()))
				}
				moves[r.Key] = append(moves[r.Key], name+": "+strings.Join(told, "; "))
			case r.Felt:
				moves[r.Key] = append(moves[r.Key], fmt.Sprintf("%s: %.2g", name, r.Moves))
			}
		}
		if !slices.Contains(quick, name) {
			continue
		}
		for _, a := range assume.All() {
			if said := livedOf(t, name, in, a); said != "" {
				moves[a.Key] = append(moves[a.Key], said)
			}
		}
	}
	return moves
}

func turnText(r *Rests, turn *Turn, sys quantity.System) string {
	title, _ := finding.Text(turn.Finding, sys)
	at := quantity.Format(r.Quantity(turn.At), quantity.Metric)
	if turn.Gone {
		return fmt.Sprintf("%s no longer arises at %s", title, at)
	}
	return fmt.Sprintf("%s %s to %s at %s", title, turn.Finding.Verdict.ID(), turn.To.ID(), at)
}

// TestAssumptionsAreFresh: docs/assumptions.md is what the code says, with the examples run anew.
func TestAssumptionsAreFresh(t *testing.T) {
	moves := examplesOf(t)
	var b strings.Builder
	b.WriteString(assumptionsPreface)
	for _, a := range assume.All() {
		range_ := quantity.Format(a.Quantity(a.Low), quantity.Metric) + " to " + quantity.Format(a.Quantity(a.High), quantity.Metric)
		fmt.Fprintf(&b, "## %s\n\n%s.\n\n", a.Key, upperFirst(words.Say("assume."+a.Key, nil)))
		fmt.Fprintf(&b, "- Taken: %s; range %s.\n", quantity.Format(a.Quantity(a.Value), quantity.Metric), range_)
		fmt.Fprintf(&b, "- Used in: %s.\n", strings.Join(a.Use, ", "))
		fmt.Fprintf(&b, "- Errs: %s\n", words.Say("assume."+a.Key+".errs", nil))
		fmt.Fprintf(&b, "- Settled by: %s", words.Say("assume."+a.Key+".settle", nil))
		if len(a.Settles) > 0 {
			fmt.Fprintf(&b, " (`%s`)", strings.Join(a.Settles, "`, `"))
		}
		source := a.Source
		if source == "" {
			source = "judgement"
		}
		fmt.Fprintf(&b, "\n- Source: %s.\n", source)
		if list := moves[a.Key]; len(list) > 0 {
			fmt.Fprintf(&b, "- Moves: %s.\n\n", strings.Join(list, ". "))
		} else {
			b.WriteString("- Moves: none of the examples.\n\n")
		}
	}
	const name = "../../docs/assumptions.md"
	text := strings.TrimRight(b.String(), "\n") + "\n"
	if *updateAssumptions {
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	was, err := os.ReadFile(name)
	if err != nil || string(was) != text {
		t.Errorf("%s is not what the code says; if the change is meant: go test ./internal/appraise -run AssumptionsAreFresh -update-assumptions (%v)", name, err)
	}
}

func upperFirst(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// TestAssumptionsMoveWhatTheySay: an assumption is read where it says it is: moved out of the way, it moves
// a figure of one of the examples or of a job made for it. What only the years use has its own test.
func TestAssumptionsMoveWhatTheySay(t *testing.T) {
	in := input(t, "juniper-flat")
	list, err := Assumptions(context.Background(), in)
	if err != nil {
		t.Fatal(err)
	}
	by := map[string]Rests{}
	for _, r := range list {
		by[r.Key] = r
	}
	// By hand: 3 min between two starts are asked; with no charge lost the pump of Juniper Flat
	// starts every 2.94 min, with half of it gone every (0.5·28 psi + air)/(28 psi + air) of that.
	r := by["charge-lost"]
	if !r.Felt || r.Moves <= 0 {
		t.Errorf("charge lost moves nothing: %+v", r)
	}
	if r := by["weak-main"]; !r.Told || r.Felt {
		t.Error("the flow test is told: no weak main is taken")
	}
	if r := by["chlorine-decay"]; !r.Years || r.Felt {
		t.Error("decay is the years' matter")
	}
}
