package proof

import (
	"bytes"
	"context"
	flags "flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/job"
	"tideover/internal/words"
)

var updateTable = flags.Bool("update-table", false, "rewrite docs/verification-proof.md and docs/verification-mishaps.md")

// laid is the proof's input for an example job in an arrangement.
func laid(t testing.TB, name, arrangement string, edit func(*job.Job)) Input {
	t.Helper()
	src, err := os.ReadFile("../../examples/" + name + ".job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	doc, faults := job.Read(name, src)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	rows, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	p, err := rows.Profile("generic")
	if err != nil {
		t.Fatal(err)
	}
	j := doc.Job
	if arrangement != "" {
		j.Choices.Arrangement = arrangement
	}
	if j.Choices.LockLow.V == 0 {
		j.Choices.LockLow.V, j.Choices.LockHigh.V = 1.2e5, 1.8e5
	}
	if edit != nil {
		edit(j)
	}
	a, err := assembly.Build(j, rows, p)
	if err != nil {
		t.Fatal(err)
	}
	return inputOf(t, j, a, p)
}

func inputOf(t testing.TB, j *job.Job, a *assembly.Assembly, p *catalogue.Profile) Input {
	t.Helper()
	c, err := circuit.NewWithMishaps(a, circuit.Read(j))
	if err != nil {
		t.Fatal(err)
	}
	return Input{Assembly: a, Circuit: c, Job: j, Profile: p}
}

// only is the input with these mishaps and no others.
func only(in Input, list ...circuit.Mishap) Input {
	c := *in.Circuit
	c.Mishaps = list
	in.Circuit = &c
	return in
}

// mutated says what a mutation does: remove, reverse or jam.
var mutated = map[string]string{
	"check-left-out": "removed", "check-reversed": "reversed", "check-stuck-open": "jammed open", "check-stuck-shut": "jammed shut",
	"float-submerged": "air gap removed", "vessel-flat": "removed", "vessel-shut-off": "shut off",
	"lock-out-stuck-on": "removed: always lets", "lock-out-stuck-off": "jammed: always bars",
}

// breaks is one promise a mutation breaks where it was kept before.
type breaks struct {
	id    string
	named bool // in a setting the card names
}

// worsened proves every promise with the mutation alone and lists those broken in more
// cases than without it.
func worsened(t testing.TB, in Input, list ...circuit.Mishap) []breaks {
	t.Helper()
	in = only(in, list...)
	in.Pairs = len(list) == 2
	r, err := Prove(context.Background(), in, nil)
	if err != nil {
		t.Fatal(err)
	}
	n := len(list)
	var out []breaks
	for i := range r.Results {
		x := &r.Results[i]
		b := breaks{id: x.About.ID}
		switch {
		case x.Named[n].Broken > x.Named[0].Broken:
			b.named = true
		case x.Other[n].Broken > x.Other[0].Broken:
		default:
			continue
		}
		out = append(out, b)
	}
	return out
}

// mutations are the mishaps of an assembly that stand for removing, reversing or jamming
// one of the parts that keep water apart or in bounds.
func mutations(in *Input) []circuit.Mishap {
	var list []circuit.Mishap
	for _, m := range in.Circuit.Mishaps {
		if mutated[m.ID] != "" {
			list = append(list, m)
		}
	}
	return list
}

// TestMutations removes, reverses or jams each part that holds something: a promise must
// break by name in cases where it was kept, or with one other part gone as well, which
// says why it is redundant. The table is docs/verification-proof.md.
func TestMutations(t *testing.T) {
	t.Parallel()
	var b bytes.Buffer
	b.WriteString("# The proof, tested by breaking what it rests on\n\n" + words.Say("verification.proof.head", nil) + "\n")
	const file = "../../docs/verification-proof.md"
	if !*updateTable && os.Getenv("TIDEOVER_PROOF") == "" { // the whole table takes a minute: of the quick run, one section
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if got := section(t, "juniper-flat", assembly.ByHand); !bytes.Contains(want, []byte(got)) {
			t.Errorf("%s does not hold\n%s\nif the change is meant, run go test ./internal/proof -run Mutations -update-table", file, got)
		}
		return
	}
	for _, name := range []string{"kestrel-rise", "juniper-flat"} {
		for _, arrangement := range assembly.Arrangements() {
			b.WriteString(section(t, name, arrangement))
		}
	}
	golden(t, file, b.Bytes())
}

// section is the table of one example in one arrangement.
func section(t *testing.T, name, arrangement string) string {
	t.Helper()
	var b strings.Builder
	in := laid(t, name, arrangement, nil)
	fmt.Fprintf(&b, "\n## %s, %s\n\n%s\n|---|---|---|\n", name, arrangement, words.Say("verification.proof.columns", nil))
	for _, m := range mutations(&in) {
		fmt.Fprintf(&b, "| %s | %s | %s |\n", m.Tag, mutated[m.ID], verdictOf(t, in, m))
	}
	return b.String()
}

// verdictOf says in a cell of the table what a mutation breaks.
func verdictOf(t testing.TB, in Input, m circuit.Mishap) string {
	if list := worsened(t, in, m); len(list) > 0 {
		return said(list)
	}
	for _, n := range mutations(&in) {
		if n.Tag == m.Tag || n.ID != "check-left-out" && n.ID != "float-submerged" {
			continue
		}
		alone := map[string]bool{}
		barriers := in
		barriers.Promises = []Promise{mainClean{}, noLoop{}}
		for _, x := range worsened(t, barriers, n) {
			alone[x.id] = true
		}
		var list []breaks
		for _, x := range worsened(t, barriers, m, n) {
			if !alone[x.id] {
				list = append(list, x)
			}
		}
		if len(list) > 0 {
			return words.Say("verification.proof.redundant", words.Args{"other": n.Tag, "breaks": said(list)})
		}
	}
	name := string(in.Assembly.Parts[m.Parts[0]].Purpose)
	if why := "verification.proof.why." + m.ID + "." + name; words.Has(why) {
		return words.Say(why, nil)
	}
	t.Errorf("%s in %s breaks no promise and no reason is written", m.Key(), in.Assembly.Arrangement)
	return "?"
}

func said(list []breaks) string {
	var cells []string
	for _, x := range list {
		id := "verification.proof.hands"
		if x.named {
			id = "verification.proof.named"
		}
		cells = append(cells, words.Say(id, words.Args{"promise": words.Say("promise."+x.id+".title", nil)}))
	}
	return strings.Join(cells, "; ")
}

func golden(t *testing.T, file string, got []byte) {
	t.Helper()
	if *updateTable {
		if err := os.WriteFile(file, got, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s differs; if the change is meant, run go test ./internal/proof -run 'Mutations|ShowsAFigure' -update-table", file)
	}
}
