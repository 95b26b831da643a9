package catalogue

import (
	"errors"
	"strings"
	"testing"

	"tideover/internal/quantity"
)

const pumpHead = "key,kind,thread,words,power kW,shutoff m,q1 L/min,h1 m,q2 L/min,h2 m,npsh m,wire %,starts 1/h,band %,rating bar,source,certainty\n"

func TestMerge(t *testing.T) {
	c := loaded(t)
	own := "# mine\ntable,pumps\n" + pumpHead +
		"jet-0.55,jet,1,\"my pump, measured\",0.6,42,30,28,48,14,3,20,20,5,8,own,checked\n" +
		"jet-9,jet,1,another,0.6,42,30,28,48,14,3,20,20,5,8,own,recalled\n"
	m, err := c.Merge("mine.csv", []byte(own))
	if err != nil {
		t.Fatal(err)
	}
	if got := m.Pumps["jet-0.55"]; got.Shutoff != 42 || got.Words != "my pump, measured" || got.Certainty != Checked {
		t.Errorf("merged row = %+v", got)
	}
	if got := m.Pumps["jet-9"].Q1; got < 0.000499 || got > 0.000501 {
		t.Errorf("q1 = %v m³/s, want 30 L/min", got)
	}
	if c.Pumps["jet-0.55"].Shutoff != 40 || len(c.Pumps)+1 != len(m.Pumps) {
		t.Error("Merge changed the catalogue it started from")
	}
	if old, err := c.Merge("old.csv", []byte("table,profiles\nprofile,key,value,source,edition,certainty\nusa,min-run,90 s,own,2019,checked\n")); err != nil || old.Profiles["usa"].Rules["min-run"].Set {
		t.Errorf("a rule that nothing reads any more: %v", err) // read without it
	}
	rules := "table,profiles\nprofile,key,value,source,edition,certainty\ngeneric,npsh-margin,,own,2026,checked\ncoast,title,Coast,own,2026,checked\n"
	m, err = c.Merge("rules.csv", []byte(rules))
	if err != nil {
		t.Fatal(err)
	}
	if p, _ := m.Profile("generic"); p.Rule("npsh-margin").Set || !p.Rule("test-time").Set {
		t.Error("a blank rule is not set, the others stay")
	}
	if p, _ := c.Profile("generic"); !p.Rule("npsh-margin").Set {
		t.Error("Merge changed the profile it started from")
	}
	if p, err := m.Profile("coast"); err != nil || p.Words != "Coast" || p.Rule("test-time").Set {
		t.Errorf("new profile = %+v, %v", p, err)
	}
}

func TestFaults(t *testing.T) {
	sources := "table,sources\nkey,citation\n"
	row := "x,jet,1,w,0.6,42,30,28,48,14,3,20,20,5,8,own,checked\n"
	swap := func(old, new string) string {
		return "table,pumps\n" + pumpHead + strings.Replace(row, old, new, 1)
	}
	for _, tc := range []struct {
		name, csv, id string
		line, column  int
	}{
		{"nothing", "", "catalogue.empty", 1, 1},
		{"comments alone", "# a\n\n", "catalogue.empty", 1, 1},
		{"no table line", pumpHead + row, "catalogue.no-table", 1, 1},
		{"unknown table", "table,pump\n" + pumpHead, "catalogue.which-table", 1, 7},
		{"no header", "table,pumps\n", "catalogue.empty", 1, 1},
		{"open quote", sources + "a,\"b\n", "catalogue.csv", 3, 6},
		{"unknown column", "table,sources\nkey,citation,colour\n", "catalogue.column", 2, 14},
		{"column twice", "table,sources\nkey,citation,key\n", "catalogue.column", 2, 14},
		{"column missing", "table,sources\nkey\n", "catalogue.missing-column", 2, 1},
		{"unit of another dimension", "table,vessels\nkey,thread,words,volume bar,rating bar,source,certainty\n", "catalogue.unit", 2, 18},
		{"gallon of no country", "table,vessels\nkey,thread,words,volume gal,rating bar,source,certainty\n", "catalogue.unit", 2, 18},
		{"no unit", "table,vessels\nkey,thread,words,volume,rating bar,source,certainty\n", "catalogue.unit", 2, 18},
		{"cells", sources + "a,b,c\n", "catalogue.cells", 3, 1},
		{"blank", sources + "a,\n", "catalogue.blank", 3, 3},
		{"twice", sources + "a,b\na,c\n", "catalogue.twice", 4, 1},
		{"no source", swap("own", ""), "catalogue.blank", 3, 42},
		{"unknown source", swap("own", "hearsay"), "catalogue.source", 3, 42},
		{"one unknown source", swap("own", "own;hearsay"), "catalogue.source", 3, 42},
		{"no certainty", swap("checked", ""), "catalogue.blank", 3, 46},
		{"odd certainty", swap("checked", "sure"), "catalogue.certainty", 3, 46},
		{"decimal comma", swap("0.6", "\"0,6\""), "catalogue.number", 3, 11},
		{"not a number", swap("0.6", "NaN"), "catalogue.number", 3, 11},
		{"infinite", swap("0.6", "Inf"), "catalogue.number", 3, 11},
		{"too big", swap("0.6", "600"), "catalogue.range", 3, 11},
		{"negative", swap("42", "-42"), "catalogue.range", 3, 15},
		{"rising curve", swap("28,48", "45,48"), "catalogue.pump-curve", 3, 21},
		{"drooping curve", swap("28,48", "41.9,48"), "catalogue.pump-curve", 3, 21},
		{"curve bent upwards", swap("28,48", "16,48"), "catalogue.pump-curve", 3, 21},
		{"pipe with no wall", "table,pipes\nfamily,mark,thread,joint,words,outside mm,bore mm,roughness mm,rating bar,stock m,clip m,indoors,source,certainty\n" +
			"a,1,1,press,w,20,20,0,10,5,1,yes,own,checked\n", "catalogue.bore", 3, 18},
		{"neither yes nor no", "table,pipes\nfamily,mark,thread,joint,words,outside mm,bore mm,roughness mm,rating bar,stock m,clip m,indoors,source,certainty\n" +
			"a,1,1,press,w,20,16,0,10,5,1,maybe,own,checked\n", "catalogue.yes-no", 3, 30},
		{"k and kinf", "table,fittings\nkey,kind,family,mark,thread,words,k1,kinf,k,insert mm,source,certainty\na,elbow,,,,w,800,1,1,,own,checked\n", "catalogue.one-k", 3, 20},
		{"store without gap", "table,stores\nkey,thread,words,nominal L,diameter m,height m,inlet m,overflow m,outlet m,mass kg,source,certainty\n" +
			"a,1,w,500,0.8,1.2,1.0,1.0,0.1,10,own,checked\n", "catalogue.store-heights", 3, 23},
		{"outlet that never serves", "table,outlets\nkey,kind,words,open L/min,limit L/min,need L/s,design L/s,pressure bar,units,source,certainty\n" +
			"a,shower,w,20,6,0.15,0.2,1,2,own,checked\n", "catalogue.limit", 3, 15},
		{"curve that does not rise", "table,simultaneity\nkey,units,flow L/s,source,certainty\nmine,10,0.3,own,checked\n", "catalogue.simultaneity", 1, 1},
		{"unknown rule", "table,profiles\nprofile,key,value,source,edition,certainty\ng,npsh-margins,1 m,own,1,checked\n", "catalogue.rule", 3, 3},
		{"rule of another dimension", "table,profiles\nprofile,key,value,source,edition,certainty\ng,npsh-margin,1 bar,own,1,checked\n", "catalogue.rule-value", 3, 15},
		{"rule that is no choice", "table,profiles\nprofile,key,value,source,edition,certainty\ng,by-pass-allowed,perhaps,own,1,checked\n", "catalogue.rule-choice", 3, 19},
		{"negative rule", "table,profiles\nprofile,key,value,source,edition,certainty\ng,npsh-margin,-1 m,own,1,checked\n", "catalogue.rule-value", 3, 15},
	} {
		t.Run(tc.name, func(t *testing.T) {
			_, err := loaded(t).Merge("mine.csv", []byte(tc.csv))
			var f *Fault
			if !errors.As(err, &f) {
				t.Fatalf("error = %v, want a fault %s", err, tc.id)
			}
			if f.ID != tc.id || f.Line != tc.line || f.Column != tc.column || f.File != "mine.csv" {
				t.Errorf("fault = %s at %d:%d, want %s at %d:%d", f.ID, f.Line, f.Column, tc.id, tc.line, tc.column)
			}
			if strings.ContainsAny(err.Error(), "‹{") {
				t.Errorf("message has an unfilled place: %s", err)
			}
		})
	}
}

func TestMergeTakesByteOrderMarkAndCRLF(t *testing.T) {
	_, err := loaded(t).Merge("mine.csv", []byte("\ufefftable,sources\r\nkey,citation\r\nshop,\"The shop, 2026\"\r\n"))
	if err != nil {
		t.Error(err)
	}
}

func TestHas(t *testing.T) {
	c := loaded(t)
	for _, tc := range []struct {
		table, key string
		ok         bool
		near       string
	}{
		{"pumps", "jet-0.55", true, ""},
		{"pumps", "jet-0.5", false, "jet-0.55"},
		{"pumps", "windmill", false, ""},
		{"meters", "meter-q3-2.5", true, ""},
		{"meters", "ball-25", false, ""},
		{"stop-valves", "ball-26", false, "ball-2"},
		{"pipes", "multilayer 20", true, ""},
		{"pipes", "multilayr 20", false, "multilayer 20"},
		{"profiles", "genric", false, "generic"},
		{"valves", "", false, ""},
	} {
		if ok, near := c.Has(tc.table, tc.key); ok != tc.ok || near != tc.near {
			t.Errorf("Has(%q, %q) = %v, %q, want %v, %q", tc.table, tc.key, ok, near, tc.ok, tc.near)
		}
	}
}

func FuzzMerge(f *testing.F) {
	for i := range tables {
		b, _ := data.ReadFile("data/" + tables[i].name + ".csv")
		f.Add([]byte("table," + tables[i].name + "\n" + string(b[:min(len(b), 900)])))
	}
	f.Add([]byte("table,pumps\r\n" + pumpHead + "\"a\n,b"))
	f.Add([]byte("\ufefftable,sources\nkey,citation\n;,\x00"))
	f.Fuzz(func(t *testing.T, text []byte) {
		c := loaded(t)
		m, err := c.Merge("f.csv", text)
		if (m == nil) == (err == nil) {
			t.Fatalf("catalogue %v, error %v", m != nil, err)
		}
		var fault *Fault
		if err != nil && (!errors.As(err, &fault) || fault.Line < 1 || fault.Column < 1 || strings.Contains(fault.Error(), "‹")) {
			t.Fatalf("error without a place or with an unfilled one: %v", err)
		}
		if err == nil {
			for _, p := range m.Pumps {
				if !p.falls() {
					t.Fatalf("pump %s rises", p.Key)
				}
			}
			for _, p := range m.Pipes {
				if p.Bore >= p.Outside || p.Source == "" {
					t.Fatalf("pipe %+v", p)
				}
			}
		}
	})
}

func TestLookups(t *testing.T) {
	c := loaded(t)
	var m *Missing
	if _, err := c.Pump("jet-0.5"); !errors.As(err, &m) || m.Table != "pumps" || m.Near != "jet-0.55" {
		t.Errorf("Pump = %v", err)
	}
	if _, err := c.Meter("ball-25"); !errors.As(err, &m) {
		t.Error("a ball valve is no meter")
	}
	if _, err := c.Pipe(quantity.Size{Family: "PE100-SDR11", Mark: "26"}); !errors.As(err, &m) || m.Near == "" {
		t.Errorf("Pipe = %v", err)
	}
	if _, err := c.Profile("nowhere"); !errors.As(err, &m) {
		t.Error("a profile that is not there")
	}
}
