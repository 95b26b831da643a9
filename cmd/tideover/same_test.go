package main

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"tideover/internal/cli"
)

// command runs one command line and returns what it printed.
func command(t *testing.T, args ...string) string {
	t.Helper()
	var out, err bytes.Buffer
	if status := cli.Main(args, strings.NewReader(""), &out, &err); status > 1 {
		t.Fatalf("%v: status %d: %s", args, status, err.String())
	}
	return out.String()
}

// flat folds every kind of white space into single blanks.
func flat(s string) string {
	s = strings.NewReplacer("\u00a0", " ", "\u202f", " ", "\u2009", " ").Replace(s)
	return strings.Join(strings.Fields(s), " ")
}

// TestSameFigureSameString: a figure reads the same in the text, the JSON, the PDF and
// the drawing.
func TestSameFigureSameString(t *testing.T) {
	if _, err := exec.LookPath("pdftotext"); err != nil {
		t.Skip("pdftotext is not installed (Debian: poppler-utils); ./check installs it where it can")
	}
	for _, name := range []string{"kestrel-rise", "juniper-flat"} {
		file := filepath.Join("../../examples", name+".job.yaml")
		out := filepath.Join(t.TempDir(), "out")
		command(t, "pack", file, "-o", out)
		raw, err := exec.Command("pdftotext", "-raw", filepath.Join(out, "pack.pdf"), "-").Output()
		if err != nil {
			t.Fatal(err)
		}
		paper := flat(string(raw))
		text := flat(command(t, "check", "--all", file))
		compareFindings(t, name, text, paper, command(t, "check", "--json", file), filepath.Join(out, "findings.json"))
		compareDrawing(t, name, paper, filepath.Join(out, "schematic-on-main.svg"))
		compareCommissioning(t, name, file, command(t, "check", "--json", file))
	}
}

// lived are the findings of plain arithmetic whose place years take in a pack: its figures are
// others, and a figure of check is on its sheets by chance only.
var lived = []string{"carry-time", "turnover"}

func compareFindings(t *testing.T, name, text, paper, asJSON, packed string) {
	t.Helper()
	inPack := figuresOf(t, packed)
	var doc struct {
		Findings []struct {
			Key, ID, Sentence string
			Figure            *struct{ Text string }
		}
	}
	if err := json.Unmarshal([]byte(asJSON), &doc); err != nil {
		t.Fatal(err)
	}
	figures := 0
	for _, f := range doc.Findings {
		if !strings.Contains(text, flat(f.Sentence)) {
			t.Errorf("%s: %s: the text has not %q", name, f.Key, f.Sentence)
		}
		if f.Figure == nil || !strings.Contains(f.Sentence, f.Figure.Text) {
			continue
		}
		said, is := inPack[f.Key]
		if !is {
			if !slices.Contains(lived, f.ID) {
				t.Errorf("%s: %s is in check and not in the pack", name, f.Key)
			}
			continue
		}
		figures++
		if said != f.Figure.Text {
			t.Errorf("%s: %s is %q in check and %q in the pack", name, f.Key, f.Figure.Text, said)
		}
		if !strings.Contains(paper, flat(f.Figure.Text)) {
			t.Errorf("%s: %s: the PDF has not %q", name, f.Key, f.Figure.Text)
		}
	}
	if figures < 30 {
		t.Errorf("%s: only %d figures compared", name, figures)
	}
}

// figuresOf is the text of every figure in a pack's file of findings, by key.
func figuresOf(t *testing.T, file string) map[string]string {
	t.Helper()
	src, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var doc struct {
		Findings []struct {
			Key    string
			Figure *struct{ Text string }
		}
	}
	if err := json.Unmarshal(src, &doc); err != nil {
		t.Fatal(err)
	}
	texts := map[string]string{}
	for _, f := range doc.Findings {
		texts[f.Key] = ""
		if f.Figure != nil {
			texts[f.Key] = f.Figure.Text
		}
	}
	return texts
}

// aLength is a length of pipe as the schematic labels it: "· 13 m".
var aLength = regexp.MustCompile(`>([^<>]*· )?([0-9.]+ (?:m|ft|in|mm))<`)

func compareDrawing(t *testing.T, name, paper, svg string) {
	t.Helper()
	b, err := os.ReadFile(svg)
	if err != nil {
		t.Fatal(err)
	}
	lengths := aLength.FindAllStringSubmatch(string(b), -1)
	if len(lengths) < 8 {
		t.Fatalf("%s: only %d lengths on the schematic", name, len(lengths))
	}
	for _, m := range lengths {
		if !strings.Contains(paper, flat(m[2])) {
			t.Errorf("%s: the schematic says %q, the PDF does not", name, m[2])
		}
	}
}

// compareCommissioning: what each tap is expected to give at the hand-over, alone and on
// the sheet for flushing, is the figure of its finding.
func compareCommissioning(t *testing.T, name, file, asJSON string) {
	t.Helper()
	var doc struct {
		Findings []struct {
			Key, ID, Mode string
			Figure        *struct{ Text string }
		}
	}
	if err := json.Unmarshal([]byte(asJSON), &doc); err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(t.TempDir(), "taps")
	command(t, "pack", file, "-o", out, "--sheets", "commission")
	raw, err := exec.Command("pdftotext", "-raw", filepath.Join(out, "pack.pdf"), "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	sheet, compared := flat(string(raw)), 0
	for _, f := range doc.Findings {
		if f.ID != "outlet-flow" || f.Mode != "on-store" || f.Figure == nil {
			continue
		}
		compared++
		if !strings.Contains(sheet, flat(f.Figure.Text)) {
			t.Errorf("%s: %s: the commissioning sheet has not %q", name, f.Key, f.Figure.Text)
		}
	}
	if compared == 0 {
		t.Errorf("%s: no tap was compared", name)
	}
}
