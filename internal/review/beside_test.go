package review

import (
	"context"
	"encoding/csv"
	"strconv"
	"strings"
	"testing"

	"tideover/internal/appraise"
	"tideover/internal/finding"
	"tideover/internal/pack"
	"tideover/internal/proposal"
	"tideover/internal/quantity"
)

// beside holds to check what other commands and files say of the same home: the promises as
// prove has them, the job as it is in the table of propose, and the buying list.
func beside(t *testing.T, name string, in appraise.Input, checked *appraise.Appraisal, count map[string]int) {
	t.Helper()
	in.Proof = appraise.NamedProof
	a, err := appraise.Run(context.Background(), in, nil)
	if err != nil {
		t.Fatal(err)
	}
	promises(t, name, in, a, count)
	present(t, name, in, checked, count)
	bought(t, name, in, checked, count)
}

// promises proves a job at the depth of check, and with every position of the valves: the
// first says what check says, word for word, and the second never less of what it broke.
func promises(t *testing.T, name string, in appraise.Input, a *appraise.Appraisal, count map[string]int) {
	t.Helper()
	for _, depth := range []appraise.Depth{appraise.NamedProof, appraise.SoundProof} {
		p, err := appraise.Prove(context.Background(), in, depth, nil)
		if err != nil {
			t.Fatal(err)
		}
		for i := range p.Findings {
			f := &p.Findings[i]
			g := byPlace(a, f.ID, f.Where, f.Mode)
			switch {
			case g == nil && depth == appraise.SoundProof && f.Verdict == finding.Fine:
				continue // it cannot arise as the cards set the valves, which is as far as check looks
			case g == nil:
				if said := worst(a, twins[f.ID]); f.Verdict == finding.NotJudged || said < f.Verdict {
					t.Errorf("%s: prove says %s of %s, check nothing, and %s of what is told in its place", name, f.Verdict.ID(), f.ID, said.ID())
				}
				count["prove, told by another name"]++
				continue
			case depth == appraise.SoundProof && g.Verdict == finding.MustFix && f.Verdict != finding.MustFix:
				t.Errorf("%s: %s is broken in check and %s in prove", name, f.ID, f.Verdict.ID())
			case depth == appraise.NamedProof || f.Names["case"] != "" && f.Names["case"] == g.Names["case"]:
				_, one := finding.Text(f, in.Job.System())
				_, other := finding.Text(g, in.Job.System())
				if f.Figure.SI != g.Figure.SI || f.Verdict != g.Verdict && depth == appraise.NamedProof || one != other && depth == appraise.NamedProof {
					t.Errorf("%s: %s %s in prove: %s, %q; in check: %s, %q", name, f.ID, f.Where, f.Verdict.ID(), one, g.Verdict.ID(), other)
				}
			}
			count["prove"]++
		}
	}
	// One question that both ask: the gap of the float valve's mouth, in its worst case.
	gap, promise := byPlace(a, "air-gap", "F1", ""), promiseOf(a, "air-gap")
	if gap != nil && promise != nil && gap.Figure.Dim == promise.Figure.Dim && gap.Figure.SI != promise.Figure.SI {
		t.Errorf("%s: the air gap is %v as a finding and %v as a promise", name, gap.Figure.SI, promise.Figure.SI)
	}
}

// twins are the findings that check tells in place of a promise, of the same danger.
var twins = map[string]string{"promise-heater-boosted": "vented-heater-boosted", "promise-notice-shut": "boil-notice", "promise-no-hunting": "refill-takes-main"}

// worst is the worst verdict of a finding's places.
func worst(a *appraise.Appraisal, id string) (v finding.Verdict) {
	for i := range a.Findings {
		if a.Findings[i].ID == id {
			v = max(v, a.Findings[i].Verdict)
		}
	}
	return v
}

func promiseOf(a *appraise.Appraisal, id string) *finding.Finding {
	for i := range a.Findings {
		if a.Findings[i].ID == "promise-"+id {
			return &a.Findings[i]
		}
	}
	return nil
}

// present sets the job as it is into the table of propose: each figure of it that check has
// too is the same text.
func present(t *testing.T, name string, in appraise.Input, a *appraise.Appraisal, count map[string]int) {
	t.Helper()
	now := proposal.Present(in, a)
	sys := in.Job.System()
	text := map[string]string{}
	for _, l := range proposal.Table([]proposal.Alternative{now}, sys) {
		text[l.ID] = l.Texts[0]
	}
	same := func(row string, want string) {
		if got, has := text[row]; has {
			count["propose"]++
			if got != want {
				t.Errorf("%s: %s is %q in propose and %q in check", name, row, got, want)
			}
		}
	}
	for row, id := range map[string]string{"carry": "carry-time", "fresh": "turnover"} {
		var of []*finding.Finding
		for i := range a.Findings {
			if a.Findings[i].ID == id && a.Findings[i].Verdict != finding.NotJudged {
				of = append(of, &a.Findings[i])
			}
		}
		if len(of) == 1 {
			figure := of[0].Figure
			if id == "carry-time" { // propose says how long a full one lasts
				figure = of[0].Args["full"]
			}
			same(row, quantity.Format(bare(figure), sys))
		}
	}
	looks := 0
	for i := range a.Findings {
		if a.Findings[i].Verdict == finding.LookAt {
			looks++
		}
	}
	same("look", strconv.Itoa(looks))
	for row, mode := range map[string]string{"on-main": "on-main", "on-store": "on-store"} {
		low, all := 0, 0
		for i := range a.Findings {
			if f := &a.Findings[i]; f.ID == "outlet-flow" && f.Mode == mode && f.Verdict != finding.NotJudged {
				all++
				if f.Verdict == finding.MustFix {
					low++
				}
			}
		}
		if n, of, ok := now.Served(mode); ok && of == all && n != all-low {
			t.Errorf("%s: %d of %d taps are served %s in propose; check says of %d that they must be put right", name, n, of, row, low)
		}
	}
}

// bare is a figure without its spread.
func bare(q quantity.Quantity) quantity.Quantity {
	q.Half = 0
	return q
}

// bought holds the pack's list to the one that propose counts, and the sheet to both.
func bought(t *testing.T, name string, in appraise.Input, a *appraise.Appraisal, count map[string]int) {
	t.Helper()
	files, err := pack.Make(a, pack.Options{Version: "0", Sheets: []string{"buying"}})
	if err != nil {
		t.Fatal(err)
	}
	pieces, sheet := 0, ""
	var asked []string
	for _, f := range files {
		switch f.Name {
		case "buying-list.csv":
			rows, err := csv.NewReader(strings.NewReader(string(f.Data))).ReadAll()
			if err != nil {
				t.Fatal(err)
			}
			for _, row := range rows[1:] {
				if n, err := strconv.Atoi(row[0]); err == nil && row[6] == "no" {
					pieces += n
					asked = append(asked, row[1])
				}
			}
		case "pack.pdf":
			text, ok := textOf(t, f.Data)
			if !ok {
				return
			}
			sheet = plain(text)
		}
	}
	now := proposal.Present(in, a)
	if pieces != now.Pieces || pieces == 0 {
		t.Errorf("%s: %d pieces on the buying list and %d in propose", name, pieces, now.Pieces)
	}
	for _, what := range asked {
		count["buying list"]++
		if first, _, _ := strings.Cut(plain(what), ","); !strings.Contains(sheet, first) {
			t.Errorf("%s: the sheet does not ask for %q", name, what)
		}
	}
}
