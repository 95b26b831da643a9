package outage

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"tideover/internal/words"
)

// unix is an instant in seconds since 1970.
func unix(text string) float64 {
	t, err := time.Parse(time.RFC3339, text)
	if err != nil {
		panic(err)
	}
	return float64(t.Unix())
}

func TestReadsLogs(t *testing.T) {
	const from, to = "2026-04-13T06:30:00Z", "2026-04-13T19:00:00Z"
	for name, c := range map[string]struct{ text, zone string }{
		"plain":           {"2026-04-13 06:30,2026-04-13 19:00\n", ""},
		"heading":         {"Start,END\n2026-04-13 06:30,2026-04-13 19:00", ""},
		"swapped":         {"end;note;start\n2026-04-13 19:00;burst, again;2026-04-13 06:30\n", ""},
		"tabs, CRLF, BOM": {"\xef\xbb\xbfFrom\tTo\r\n2026-04-13 06:30:00\t2026-04-13 19:00\r\n\r\n", ""},
		"old line ends":   {"2026-04-13 06:30,2026-04-13 19:00\r", ""},
		"quotes, note":    {"# kept on the fridge\n\"2026-04-13 06:30\",\"2026-04-13T19:00\",\"no, none\"\n", ""},
		"dots":            {"13.4.2026 6:30;13.04.2026 19:00\n", ""},
		"day first":       {"13/04/2026 06:30,13/04/2026 19:00\n", ""},
		"month first":     {"04/13/2026 6:30 am,04/13/2026 7:00 PM\n", ""},
		"named":           {"13 Apr 2026 06:30;April 13, 2026 7:00 pm\n", ""},
		"offsets":         {"2026-04-13T08:30+02:00,2026-04-13T14:00-0500\n", ""},
		"greenwich":       {"2026-04-13T06:30Z,2026-04-13T19:00Z\n", ""},
		"zone":            {"2026-04-13 09:30,2026-04-13 22:00\n", "Africa/Nairobi"},
		"zone in the log": {"zone,Africa/Nairobi\nstart,end\n2026-04-13 09:30,2026-04-13 22:00\n", "America/Denver"},
		"summer time":     {"2026-04-13 00:30,2026-04-13 13:00\n", "America/Denver"},
	} {
		l, err := ReadLog([]byte(c.text), c.zone)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if len(l.Entries) != 1 || l.Entries[0].From != unix(from) || l.Entries[0].To != unix(to) {
			t.Errorf("%s: %+v", name, l.Entries)
		}
	}
}

// TestSummerTime: over the night of the change the outage has the length that passed,
// not the one the clocks show; the hour that comes twice is taken so that it fits.
func TestSummerTime(t *testing.T) {
	for _, c := range []struct {
		text   string
		hours  float64
		folded int
	}{
		{"2026-03-07 22:00,2026-03-08 06:00", 7, 0},
		{"2026-10-31 22:00,2026-11-01 06:00", 9, 0},
		{"2026-11-01 01:30,2026-11-01 03:00", 2.5, 1},
		{"2026-11-01 01:45,2026-11-01 01:15", 0.5, 2}, // the clock went back between
	} {
		l, err := ReadLog([]byte(c.text), "America/Denver")
		if err != nil {
			t.Fatal(err)
		}
		if got := l.Entries[0].Length() / Hour; got != c.hours || l.Folded != c.folded {
			t.Errorf("%s: %g h, %d clocks twice; want %g, %d", c.text, got, l.Folded, c.hours, c.folded)
		}
	}
}

func TestLogErrors(t *testing.T) {
	const ok = "2026-04-01 06:00,2026-04-01 09:00\n"
	for _, c := range []struct {
		text, zone, id string
		line, column   int
	}{
		{"", "", "empty", 0, 0},
		{"start,end\n", "", "empty", 0, 0},
		{"a,b\n" + ok, "", "heading", 1, 1},
		{"\xff\xfes\x00", "", "encoding", 0, 0},
		{ok, "Mars/Olympus", "zone", 0, 0},
		{ok, "Local", "zone", 0, 0},
		{"# a log\nZone; local\n" + ok, "", "zone", 2, 1},
		{ok + "soon 1,2026-05-01 10:00\n", "", "not-a-date", 2, 1},
		{ok + "2026-05-01 06:00,2026-05-01 25:10\n", "", "bad-clock", 2, 18},
		{ok + "2026-05-01 06:00,2026-05-01 13:10 pm\n", "", "bad-clock", 2, 18},
		{ok + "2026-05-01,2026-05-02\n", "", "no-clock", 2, 1},
		{ok + "2026-02-30 06:00,2026-03-01 06:00\n", "", "no-such-date", 2, 1},
		{"03/04/2026 06:00,03/04/2026 09:00\n", "", "ambiguous", 1, 1},
		{"13/04/2026 06:00,04/13/2026 09:00\n", "", "two-orders", 1, 18},
		{"2026-03-08 02:30,2026-03-08 04:00\n", "America/Denver", "no-such-hour", 1, 1},
		{"2026-03-08T02:30Z,2026-03-08 04:00\n", "", "mixed-zones", 1, 19},
		{ok + "2026-05-01 06:00,2026-05-01 06:00\n", "", "end-before-start", 2, 18},
		{ok + "2026-05-01 06:00,2026-04-30 07:00\n", "", "end-before-start", 2, 18},
		{"2026-03-01 06:00,?\n" + ok, "", "running-not-last", 1, 1},
		{ok + "2026-04-01 08:00,2026-04-01 12:00\n", "", "overlap", 2, 1},
		{"watched,2026-05-01,2026-06-01\n" + ok, "", "outside", 2, 1},
		{"watched,2026-01-01,\n" + ok, "", "watch-open", 1, 1},
		{"watched,2026-01-01,2026-05-01\nwatched,2026-04-01,2026-06-01\n" + ok, "", "watch-overlap", 2, 9},
		{";;\nx;2026-04-01 09:00;3\n", "", "not-a-date", 2, 1},
	} {
		_, err := ReadLog([]byte(c.text), c.zone)
		var e *LogError
		if !errors.As(err, &e) || e.ID != c.id || e.Line != c.line || e.Column != c.column {
			t.Errorf("%q: %+v (%v), want %s at %d:%d", c.text, e, err, c.id, c.line, c.column)
			continue
		}
		if !words.Has("outage-log."+e.ID) || strings.Contains(err.Error(), "‹") {
			t.Errorf("%s says %q", e.ID, err)
		}
	}
}

// TestSortsAndKeeps: lines may stand in any order; the last may still run; watches part.
func TestSortsAndKeeps(t *testing.T) {
	l, err := ReadLog([]byte("watched,2026-05-01,2026-05-31\nwatched,2026-01-01,2026-03-01\n2026-05-30 06:00,\n2026-02-01 06:00,2026-02-01 10:00\n"), "")
	if err != nil {
		t.Fatal(err)
	}
	if len(l.Entries) != 2 || !l.Entries[1].Running || l.Entries[0].Line != 4 || !l.NoZone {
		t.Errorf("%+v", l)
	}
	if len(l.Watched) != 2 || l.Watched[0].Length() != 60*Day || l.Watched[1].To != unix("2026-06-01T00:00:00Z") {
		t.Errorf("watched %+v", l.Watched)
	}
	none, err := ReadLog([]byte("watched,2026-05-01,2026-05-31\n"), "")
	if err != nil || len(none.Entries) != 0 {
		t.Errorf("a quiet month: %+v, %v", none, err)
	}
}

func longLog(n int) []byte {
	var b strings.Builder
	b.WriteString("start,end\n")
	t := time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)
	for range n {
		fmt.Fprintf(&b, "%s,%s\n", t.Format("2006-01-02 15:04"), t.Add(90*time.Minute).Format("2006-01-02 15:04"))
		t = t.Add(4 * time.Hour)
	}
	return []byte(b.String())
}

func TestLongLogReads(t *testing.T) {
	l, err := ReadLog(longLog(100_000), "")
	if err != nil || len(l.Entries) != 100_000 {
		t.Fatal(err)
	}
}

func FuzzReadLog(f *testing.F) {
	f.Add([]byte("start,end\n2026-04-13 06:30,2026-04-13 19:00\n"), "Africa/Nairobi")
	f.Add([]byte("watched;2026-04-01;2026-04-30\n13.4.2026 6:30;?\n"), "")
	f.Add([]byte("\"13 Apr 2026 6:30 pm\"\tstill"), "America/Denver")
	f.Fuzz(func(t *testing.T, data []byte, zone string) {
		l, err := ReadLog(data, zone)
		var e *LogError
		if err != nil && !errors.As(err, &e) {
			t.Fatalf("an error without a place: %v", err)
		}
		if err != nil {
			return
		}
		last := -1e18
		for _, o := range l.Entries {
			if o.From < last || !o.Running && o.To <= o.From {
				t.Fatalf("out of order: %+v", l.Entries)
			}
			last = o.To
		}
	})
}

func BenchmarkReadLog(b *testing.B) {
	text := longLog(100_000)
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		if _, err := ReadLog(text, "America/Denver"); err != nil && !strings.Contains(err.Error(), "summer") {
			b.Fatal(err)
		}
	}
}

// TestHeadingAfterWatch: when the log was kept, and its zone, may be said before the heading.
func TestHeadingAfterWatch(t *testing.T) {
	for _, head := range []string{"watched,2026-01-01,2026-06-30\n", "zone,Africa/Nairobi\n", "watched,2026-01-01,2026-06-30\nzone,Africa/Nairobi\n"} {
		l, err := ReadLog([]byte(head+"end,start\n2026-04-01 09:00,2026-04-01 06:00\n"), "")
		if err != nil || len(l.Entries) != 1 || l.Entries[0].Length() != 3*Hour {
			t.Errorf("%q: %+v, %v", head, l, err)
		}
	}
	if _, err := ReadLog([]byte("start,end\nfrom,to\n2026-04-01 06:00,2026-04-01 09:00\n"), ""); err == nil {
		t.Error("a second heading was taken")
	}
}

// TestWatchOverlapNamesItsLine: of three times of watching out of order the line is named that
// overlaps, and no other.
func TestWatchOverlapNamesItsLine(t *testing.T) {
	_, err := ReadLog([]byte("start,end\n2024-03-01 06:00,2024-03-01 09:00\nwatched,2025-06-01,2025-12-31\nwatched,2025-01-01,2025-07-31\nwatched,2024-01-01,2024-07-31\n"), "")
	var e *LogError
	if !errors.As(err, &e) || e.ID != "watch-overlap" || e.Line != 4 {
		t.Errorf("%+v, want line 4", e)
	}
}

// TestDatesOfALog: an outage after the date of the job, and years too far apart for one log,
// are refused by their line.
func TestDatesOfALog(t *testing.T) {
	asOf := unix("2026-06-01T00:00:00Z")
	for text, want := range map[string]LogError{
		"2026-04-01 06:00,2026-04-01 09:00\n2026-06-02 06:00,2026-06-02 09:00\n": {ID: "future", Line: 2},
		"2099-04-01 06:00,2099-04-01 09:00\n":                                    {ID: "future", Line: 1},
		"1901-04-01 06:00,1901-04-01 09:00\n2025-04-01 06:00,2025-04-01 09:00\n": {ID: "far-apart", Line: 2},
		"2026-04-01 06:00,2026-04-01 09:00\n2026-06-01 08:00,2026-06-01 12:00\n": {}, // a clock ahead of Greenwich
	} {
		l, err := ReadLog([]byte(text), "")
		if err != nil {
			t.Fatal(err)
		}
		_, _, err = l.Fitted(asOf)
		var e *LogError
		if want.ID == "" {
			if err != nil {
				t.Errorf("%q: %v", text, err)
			}
			continue
		}
		if !errors.As(err, &e) || e.ID != want.ID || e.Line != want.Line || strings.Contains(err.Error(), "‹") {
			t.Errorf("%q: %v, want %+v", text, err, want)
		}
	}
}

// TestLastStillRunning: an outage that still runs at the end of a log that does not say when
// it was kept counts, with the time before it, to the date of the job; where that is not
// known the time before it counts.
func TestLastStillRunning(t *testing.T) {
	const log = "2025-01-10 06:00,2025-01-10 09:00\n2025-02-20 09:00,still\n"
	l, err := ReadLog([]byte(log), "")
	if err != nil {
		t.Fatal(err)
	}
	before := unix("2025-02-20T09:00:00Z") - unix("2025-01-10T09:00:00Z")
	down, up, notes := l.lengths(unix("2025-02-22T00:00:00Z"))
	if len(up) != 1 || up[0].Length != before {
		t.Errorf("times between: %+v, want one of %g s", up, before)
	}
	if len(down) != 2 || down[1].How != Running || down[1].Length != 39*Hour {
		t.Errorf("outages: %+v, want the second running for 39 h", down)
	}
	said := false
	for _, n := range notes {
		said = said || n.ID == "outage.still-runs" && n.Args["length"] == 39*Hour
	}
	if !said {
		t.Errorf("the notes do not tell of it: %+v", notes)
	}
	if down, up, _ = l.lengths(0); len(down) != 1 || len(up) != 1 || up[0].Length != before {
		t.Errorf("with no date: %+v, %+v", down, up)
	}
	one, err := ReadLog([]byte("2024-02-20 09:00,\n"), "")
	if err != nil {
		t.Fatal(err)
	}
	with, _, err := one.Fitted(unix("2025-02-20T00:00:00Z"))
	if err != nil {
		t.Fatal(err)
	}
	prior, err := one.bare()
	if err != nil {
		t.Fatal(err)
	}
	if a, b := with.Seasons[0].Down.Survival(60*Day), prior.Survival(60*Day); a <= 2*b {
		t.Errorf("an outage of a year makes one of 60 d likely to %.3g, with nothing seen %.3g", a, b)
	}
}

// bare is what is known of outages before anything is seen.
func (l *Log) bare() (*Posterior, error) { return fitOrPrior(nil, DownPrior) }
