package pack

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"strings"
	"testing"

	"tideover/internal/finding"
	"tideover/internal/takeoff"
	"tideover/internal/words"
)

// TestSameBytes: same job, same bytes, in every file.
func TestSameBytes(t *testing.T) {
	for _, name := range examples {
		a, b := made(t, fresh(t, source(t, name)), Options{}), made(t, fresh(t, source(t, name)), Options{})
		for file, data := range a {
			if !bytes.Equal(data, b[file]) {
				t.Errorf("%s: %s differs between two runs", name, file)
			}
		}
		if n := len(a["pack.pdf"]); n > 600_000 {
			t.Errorf("%s: pack.pdf is %d bytes, more than 600,000", name, n)
		}
	}
}

// TestEveryPage: each page names its sheet, the job, the date, the tool and its place;
// each sheet's question stands on its first page; no message is missing.
func TestEveryPage(t *testing.T) {
	for _, name := range examples {
		for _, paper := range []Paper{A4, Letter} {
			a := run(t, source(t, name))
			all := pages(t, made(t, a, Options{Paper: paper})["pack.pdf"])
			text := strings.Join(all, "\n")
			for i, p := range all {
				want := []string{"Sheet ", a.Job.Name, a.Job.Date, "Tideover 0.1.0", fmt.Sprintf("page %d of %d", i+1, len(all))}
				for _, w := range want {
					if !strings.Contains(p, w) {
						t.Errorf("%s %s page %d lacks %q", name, paper, i+1, w)
					}
				}
			}
			for _, s := range Sheets() {
				if (sheet{name: s}).apart() {
					continue
				}
				if q := words.Say("sheet."+s+".question", nil); !strings.Contains(text, q) {
					t.Errorf("%s %s: sheet %s does not ask %q", name, paper, s, q)
				}
			}
			if i := strings.IndexAny(text, "‹�"); i >= 0 {
				t.Errorf("%s %s: a message or a letter is missing near %q", name, paper, text[max(0, i-40):min(len(text), i+60)])
			}
		}
	}
}

// TestSameFigures: each finding's title, and of those that are not fine the sentence and
// the figure, stand in the PDF as they stand in the JSON.
func TestSameFigures(t *testing.T) {
	for _, name := range examples {
		files := made(t, run(t, source(t, name)), Options{})
		text := squeezed(strings.Join(inOrder(t, files["pack.pdf"]), " "))
		var j struct {
			Findings []struct {
				Title, Sentence, Verdict string
				Figure                   *struct{ Text string }
			}
		}
		if err := json.Unmarshal(files["findings.json"], &j); err != nil {
			t.Fatal(err)
		}
		if len(j.Findings) == 0 {
			t.Fatal("no findings")
		}
		checked := 0
		for _, f := range j.Findings {
			if f.Verdict == finding.Fine.ID() {
				continue
			}
			if !strings.Contains(text, squeezed(f.Title)) {
				t.Errorf("%s: the PDF lacks the finding %q", name, f.Title)
			}
			if f.Figure != nil && f.Figure.Text != "" {
				checked++
				if !strings.Contains(text, squeezed(f.Figure.Text)) {
					t.Errorf("%s: %s: the PDF lacks the figure %q", name, f.Title, f.Figure.Text)
				}
			}
		}
		if checked == 0 {
			t.Errorf("%s: no figure was compared", name)
		}
	}
}

// TestWalksClose: in each walk the printed changes lead from head to head to the last digit.
func TestWalksClose(t *testing.T) {
	a := run(t, source(t, "kestrel-rise"))
	rows := 0
	for i := range a.Findings {
		for _, st := range a.Findings[i].Calc {
			if st.Key != "" {
				continue
			}
			rows++
			var n [3]int64
			for j, c := range walkRow(st)[2:] {
				n[j] = thousandths(t, c.Text)
			}
			if n[0]+n[1] != n[2] {
				t.Errorf("%s: %s: %d %+d is not %d", a.Findings[i].ID, st.Part, n[0], n[1], n[2])
			}
		}
	}
	if rows == 0 {
		t.Error("no walk was printed")
	}
}

func thousandths(t *testing.T, text string) int64 {
	t.Helper()
	text = strings.NewReplacer("−", "-", "+", "", ".", "").Replace(text)
	var n int64
	if _, err := fmt.Sscanf(text, "%d", &n); err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	return n
}

// TestBuyingCSV: the list parses back with one row a line, a count a merchant can read,
// and no cell a spreadsheet would run.
func TestBuyingCSV(t *testing.T) {
	a := fresh(t, source(t, "kestrel-rise"))
	a.Buying.Lines = append(a.Buying.Lines, takeoff.Line{Row: "@x", Words: `=HYPERLINK("x"), "quoted"` + "\nsecond line", Size: "+1", Count: 2, Tags: []string{"-V1"}})
	data := made(t, a, Options{})["buying-list.csv"]
	if !bytes.Contains(data, []byte("\r\n")) {
		t.Error("lines do not end in CR LF")
	}
	rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != len(a.Buying.Lines)+1 {
		t.Fatalf("%d rows, want %d and a head", len(rows), len(a.Buying.Lines))
	}
	for i, row := range rows[1:] {
		if row[0] != fmt.Sprint(a.Buying.Lines[i].Count) {
			t.Errorf("row %d: count %q, want %d", i, row[0], a.Buying.Lines[i].Count)
		}
		for _, c := range row {
			if c != "" && strings.ContainsRune("=+-@", rune(c[0])) {
				t.Errorf("row %d: %q would run in a spreadsheet", i, c)
			}
		}
	}
}

// TestMustFixOnTheCover: the banner stands on the first page when, and only when,
// something must be fixed.
func TestMustFixOnTheCover(t *testing.T) {
	bad := fixture(t, "kestrel-rise")
	first := pages(t, made(t, bad, Options{})["pack.pdf"])[0]
	banner := say("verdict.banner", "n", "1")
	if !strings.Contains(squeezed(first), squeezed(banner)) {
		t.Errorf("the cover lacks %q", banner)
	}
	fine := fixture(t, "kestrel-rise")
	for i := range fine.Findings {
		fine.Findings[i].Verdict = finding.Fine
	}
	fine.Verdict = finding.Fine
	first = pages(t, made(t, fine, Options{})["pack.pdf"])[0]
	if strings.Contains(first, "Must fix") || !strings.Contains(first, say("verdict.line.fine")) {
		t.Errorf("the cover of a fine job reads %q", first)
	}
}

// TestCardHasTwoSides and turns what the assembly has: the sheet may be alone in a pack.
func TestCardHasTwoSides(t *testing.T) {
	for _, name := range examples {
		a := run(t, source(t, name))
		for _, size := range []Paper{A4, Letter} {
			all := pages(t, made(t, a, Options{Paper: size, Sheets: []string{"card"}})["pack.pdf"])
			if len(all) != 2 {
				t.Errorf("%s %s: the card takes %d pages", name, size, len(all))
			}
			off := a.Assembly.Setting("off")
			for _, turn := range (&pack{Appraisal: a}).turns(&a.Assembly.Settings[0], off) {
				if !strings.Contains(all[0], turn.tag) {
					t.Errorf("%s: the card does not name %s", name, turn.tag)
				}
			}
		}
	}
}

// TestTurnsShutFirst: no movement opens a valve before every one that must be shut is.
func TestTurnsShutFirst(t *testing.T) {
	for _, name := range examples {
		a := run(t, source(t, name))
		p := &pack{Appraisal: a}
		for i := range a.Assembly.Settings {
			for j := range a.Assembly.Settings {
				opened := false
				for _, turn := range p.turns(&a.Assembly.Settings[i], &a.Assembly.Settings[j]) {
					if opened && turn.to == "shut" {
						t.Errorf("%s: %s to %s shuts %s after opening", name, a.Assembly.Settings[i].Name, a.Assembly.Settings[j].Name, turn.tag)
					}
					opened = opened || turn.to == "open"
				}
			}
		}
	}
}

// TestKeyIsWhole: every line and symbol the drawing's legend explains stands on the sheet,
// each with a mark beside it.
func TestKeyIsWhole(t *testing.T) {
	for _, name := range examples {
		a := run(t, source(t, name))
		p, err := newPack(a, Options{})
		if err != nil {
			t.Fatal(err)
		}
		_, key := apart(p.schematic(a.Assembly.Settings[0].Name))
		set := reset(key.Items)
		var before, after, marks int
		for _, it := range key.Items {
			if isWords(it) {
				before++
			}
		}
		for _, it := range set.Items {
			if isWords(it) {
				after++
			} else {
				marks++
			}
			if it.Box[0] < 0 || it.Box[2] > set.Width || it.Box[1] < -1 || it.Box[3] > set.Height {
				t.Errorf("%s: %q reaches %v outside the key", name, it.Text, it.Box)
			}
		}
		if before < 10 || after != before || marks < before/2 {
			t.Errorf("%s: the key has %d lines of words and %d marks, want %d lines", name, after, marks, before)
		}
	}
}

// TestCrowded: a name of 200 letters and 60 outlets do not break a sheet.
func TestCrowded(t *testing.T) {
	a := fixture(t, "kestrel-rise")
	a.Job.Name = strings.Repeat("Long name of a house ", 10)
	draws := a.Service.Modes[0].Alone
	for i := range a.Service.Modes {
		for n := len(draws); n < 60; n++ {
			d := draws[n%len(draws)]
			d.Outlet = fmt.Sprintf("outlet-with-a-very-long-tag-number-%d", n)
			a.Service.Modes[i].Alone = append(a.Service.Modes[i].Alone, d)
		}
	}
	o := a.Job.Outlets[0]
	for n := range 60 {
		o.Tag = fmt.Sprintf("outlet-with-a-very-long-tag-number-%d", n)
		a.Job.Outlets = append(a.Job.Outlets, o)
	}
	for _, size := range []Paper{A4, Letter} {
		text := squeezed(strings.Join(pages(t, made(t, a, Options{Paper: size})["pack.pdf"]), " "))
		for _, want := range []string{"number-59", "LongnameofahouseLongname", "…"} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: the pack lacks %q", size, want)
			}
		}
	}
}

// TestNothingWorkedOut: a job without store, service or bottle still makes its sheets.
func TestNothingWorkedOut(t *testing.T) {
	a := fixture(t, "juniper-flat")
	a.Store, a.Service, a.Disinfect, a.Findings, a.Base, a.Power = nil, nil, nil, nil, nil, nil
	handOver(a)
	a.Buying = &takeoff.List{}
	text := strings.Join(pages(t, made(t, a, Options{})["pack.pdf"]), "\n")
	if !strings.Contains(squeezed(text), squeezed(say("disinfect.none"))) {
		t.Error("the disinfection sheet does not say what is missing")
	}
	if strings.Contains(text, "‹") {
		t.Error("a message is missing")
	}
}

func TestRefusals(t *testing.T) {
	a := fixture(t, "kestrel-rise")
	for want, o := range map[string]Options{
		`"cover"`:       {Sheets: []string{"cover"}},
		`"3 May 2026"`:  {Date: "3 May 2026"},
		"verdict, surv": {Sheets: []string{""}},
	} {
		if _, err := Make(a, o); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("Make(%+v) = %v, want an error naming %s", o, err, want)
		}
	}
	if _, err := ParsePaper("foolscap"); err == nil || !strings.Contains(err.Error(), "a4 or letter") {
		t.Errorf("ParsePaper(foolscap) = %v", err)
	}
	if p, err := ParsePaper(" Letter "); p != Letter || err != nil {
		t.Errorf("ParsePaper(Letter) = %v, %v", p, err)
	}
}

func TestNumber(t *testing.T) {
	for _, c := range []struct {
		v    float64
		want string
	}{
		{0, "0"}, {1080, "1080"}, {0.05, "0.05"}, {-0.002909, "−0.002909"}, {3542400, "3542400"},
		{7.96394e-4, "0.000796394"}, {9.4034e-7, "9.4034·10^−7"}, {2.1e11, "2.1·10^11"}, {-1.5e-9, "−1.5·10^−9"},
	} {
		if got := number(c.v); got != c.want {
			t.Errorf("number(%v) = %q, want %q", c.v, got, c.want)
		}
	}
}

// TestShow writes the packs to $PACK_SHOW for looking at.
func TestShow(t *testing.T) {
	dir := os.Getenv("PACK_SHOW")
	if dir == "" {
		t.Skip("PACK_SHOW names no folder: nothing is written")
	}
	for _, name := range examples {
		for file, data := range made(t, run(t, source(t, name)), Options{}) {
			if err := os.WriteFile(dir+"/"+name+"-"+file, data, 0o600); err != nil {
				t.Fatal(err)
			}
		}
		for _, b := range []struct {
			as string
			o  Options
		}{{"letter", Options{Paper: Letter}}} {
			if err := os.WriteFile(dir+"/"+name+"-"+b.as+".pdf", made(t, fixture(t, name), b.o)["pack.pdf"], 0o600); err != nil {
				t.Fatal(err)
			}
		}
	}
}

func BenchmarkMake(b *testing.B) {
	a := run(b, source(b, "kestrel-rise"))
	for b.Loop() {
		if _, err := Make(a, Options{Version: "0.1.0"}); err != nil {
			b.Fatal(err)
		}
	}
}
