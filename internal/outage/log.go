package outage

import (
	"bytes"
	"cmp"
	"encoding/csv"
	"errors"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"
	_ "time/tzdata" // zones by name, the same on every machine
	"unicode/utf8"

	"tideover/internal/words"
)

// Log is an outage log as read: times in seconds since 1970, in order and apart.
type Log struct {
	Entries []Entry
	Watched []Spell // when somebody kept the log; empty where it does not say
	NoZone  bool    // clocks were taken as they stand, without summer time
	Folded  int     // clocks in an hour that summer time repeats, taken as the first that fits
}

// Entry is one interruption. A Running one had not ended when it was written down.
type Entry struct {
	Spell
	Running bool
	Line    int
	East    float64 // how far the clocks of the place are ahead of the time of the log when it begins [s]
}

// LogError says what is wrong with a log, and where. Its id names the sentence.
type LogError struct {
	ID           string
	Line, Column int // from 1; 0 for the whole file
	Args         words.Args
}

// Error returns the sentence.
func (e *LogError) Error() string {
	args := words.Args{"line": strconv.Itoa(e.Line), "column": strconv.Itoa(e.Column)}
	for k, v := range e.Args {
		args[k] = v
	}
	return words.Say("outage-log."+e.ID, args)
}

// logReader carries what is settled for the whole file.
type logReader struct {
	zone      *time.Location
	start     int // columns
	end       int
	rows      []row
	watched   []row
	withZone  *moment // a clock with an offset, and one without
	bareClock *moment
	log       Log
}

// row is one line: two moments, the second none for what still runs.
type row struct {
	from, to moment
	running  bool
}

// ReadLog reads a log: lines of start and end, parted by commas, semicolons or tabs,
// with a heading in any case or none, in any order. A line "watched, from, to" says when
// somebody kept the log, a line "zone, Africa/Nairobi" in which zone its clocks run. An empty end, "?" or "still" is an outage that goes on. Zone
// is the zone of clocks that carry no offset where the log names none; "" takes them as
// they stand. The error is a *LogError.
func ReadLog(data []byte, zone string) (*Log, error) {
	r := &logReader{start: 0, end: 1, zone: time.UTC}
	r.log.NoZone = true
	if err := r.setZone(zone, 0); err != nil {
		return nil, err
	}
	for _, step := range []func() error{func() error { return r.lines(data) }, r.order, r.zones, r.watch, r.entries} {
		if err := step(); err != nil {
			return nil, err
		}
	}
	return &r.log, nil
}

// setZone takes the zone of clocks without an offset; "" changes nothing. Never the
// machine's own.
func (r *logReader) setZone(name string, line int) error {
	if name == "" {
		return nil
	}
	loc, err := time.LoadLocation(name)
	if err != nil || strings.EqualFold(name, "local") {
		return &LogError{ID: "zone", Line: line, Column: min(line, 1), Args: words.Args{"zone": name}}
	}
	r.zone, r.log.NoZone = loc, false
	return nil
}

// lines parts the file in rows.
func (r *logReader) lines(data []byte) error {
	text := bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	if !utf8.Valid(text) || bytes.IndexByte(text, 0) >= 0 {
		return &LogError{ID: "encoding"}
	}
	if !bytes.ContainsRune(text, '\n') {
		text = bytes.ReplaceAll(text, []byte("\r"), []byte("\n"))
	}
	c := csv.NewReader(bytes.NewReader(text))
	c.Comma, c.Comment, c.FieldsPerRecord, c.LazyQuotes, c.TrimLeadingSpace, c.ReuseRecord = parting(text), '#', -1, true, true, true
	for headed := false; ; {
		fields, err := c.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			var p *csv.ParseError
			errors.As(err, &p)
			return &LogError{ID: "quotes", Line: p.Line, Column: p.Column}
		}
		if blank(fields) {
			continue
		}
		line, _ := c.FieldPos(0)
		if len(fields) > 1 && strings.EqualFold(strings.TrimSpace(fields[0]), "zone") {
			if err := r.setZone(strings.TrimSpace(fields[1]), line); err != nil {
				return err
			}
			continue
		}
		// A heading stands before the first outage; when the log was kept may be said before it.
		if !headed && len(r.rows) == 0 && heading(fields) {
			headed = true
			if err := r.columns(fields, line); err != nil {
				return err
			}
		} else if err := r.row(c, fields); err != nil {
			return err
		}
	}
	if len(r.rows) == 0 && len(r.watched) == 0 {
		return &LogError{ID: "empty"}
	}
	return nil
}

func blank(fields []string) bool {
	return strings.TrimSpace(strings.Join(fields, "")) == ""
}

// parting is the sign that parts the fields of the first line that has one.
func parting(text []byte) rune {
	for line := range bytes.Lines(text) {
		if len(line) > 0 && line[0] == '#' {
			continue
		}
		for _, sign := range "\t;," {
			if bytes.ContainsRune(line, sign) {
				return sign
			}
		}
	}
	return ','
}

// heading reports a line without any digit.
func heading(fields []string) bool {
	return !strings.ContainsAny(strings.Join(fields, ""), "0123456789")
}

var startWords = []string{"start", "from", "off", "begin", "began", "started", "water off", "out", "down"}
var endWords = []string{"end", "to", "on", "until", "ended", "back", "water on", "restored", "up"}

// columns finds start and end in a heading.
func (r *logReader) columns(fields []string, line int) error {
	r.start, r.end = -1, -1
	for i, f := range fields {
		name := strings.ToLower(strings.TrimSpace(f))
		if slices.Contains(startWords, name) && r.start < 0 {
			r.start = i
		}
		if slices.Contains(endWords, name) && r.end < 0 {
			r.end = i
		}
	}
	if r.start < 0 || r.end < 0 {
		return &LogError{ID: "heading", Line: line, Column: 1, Args: words.Args{"heading": strings.Join(fields, ", ")}}
	}
	return nil
}

// row reads one line.
func (r *logReader) row(c *csv.Reader, fields []string) error {
	start, end := r.start, r.end
	watched := strings.EqualFold(strings.TrimSpace(fields[0]), "watched")
	if watched {
		start, end = 1, 2
	}
	line, _ := c.FieldPos(0)
	if start >= len(fields) {
		return &LogError{ID: "few", Line: line, Column: 1}
	}
	var n row
	var err error
	if n.from, err = at(c, fields, start, watched); err != nil {
		return err
	}
	if end >= len(fields) || slices.Contains([]string{"", "?", "-", "still", "running"}, strings.ToLower(strings.TrimSpace(fields[end]))) {
		n.running = true
	} else if n.to, err = at(c, fields, end, watched); err != nil {
		return err
	}
	if watched && n.running {
		return &LogError{ID: "watch-open", Line: line, Column: 1}
	}
	if watched {
		if n.to.clock < 0 {
			n.to.clock = 86400
		}
		r.watched = append(r.watched, n)
		return nil
	}
	r.rows = append(r.rows, n)
	return nil
}

// at reads the moment in a field; a bare date will do for when the log was kept.
func at(c *csv.Reader, fields []string, i int, dateWillDo bool) (moment, error) {
	line, column := c.FieldPos(i)
	text := strings.TrimSpace(fields[i])
	m, id := readMoment(text)
	m.line, m.column = line, column
	if id == "" && m.clock < 0 && !dateWillDo {
		id = "no-clock"
	}
	if id != "" {
		return m, m.wrong(id)
	}
	return m, nil
}

func (m *moment) wrong(id string) error {
	return &LogError{ID: id, Line: m.line, Column: m.column, Args: words.Args{"text": m.text}}
}

// each calls f for every moment of the file, in order.
func (r *logReader) each(f func(*moment) error) error {
	for _, list := range [][]row{r.watched, r.rows} {
		for i := range list {
			if err := f(&list[i].from); err != nil {
				return err
			}
			if list[i].running {
				continue
			}
			if err := f(&list[i].to); err != nil {
				return err
			}
		}
	}
	return nil
}

// order settles for the whole file whether the day or the month comes first.
func (r *logReader) order() error {
	var day, month, either *moment
	_ = r.each(func(m *moment) error {
		switch {
		case m.settled:
		case m.first > 12:
			day = cmp.Or(day, m)
		case m.second > 12:
			month = cmp.Or(month, m)
		case m.first != m.second:
			either = cmp.Or(either, m)
		}
		return nil
	})
	switch {
	case day != nil && month != nil:
		return month.wrong("two-orders")
	case day == nil && month == nil && either != nil:
		return either.wrong("ambiguous")
	}
	return r.each(func(m *moment) error {
		if !m.settled && day != nil {
			m.first, m.second = m.second, m.first
		}
		if !m.exists() {
			return m.wrong("no-such-date")
		}
		return nil
	})
}

// zones refuses clocks of which some have an offset and others nothing to go by.
func (r *logReader) zones() error {
	_ = r.each(func(m *moment) error {
		if m.zoned {
			r.withZone = cmp.Or(r.withZone, m)
		} else if m.clock >= 0 {
			r.bareClock = cmp.Or(r.bareClock, m)
		}
		return nil
	})
	if r.withZone != nil && r.bareClock != nil && r.log.NoZone {
		return r.bareClock.wrong("mixed-zones")
	}
	if r.bareClock == nil {
		r.log.NoZone = false
	}
	return nil
}

// watch reads when the log was kept.
func (r *logReader) watch() error {
	type watch struct {
		Spell
		row *row
	}
	var list []watch
	for i := range r.watched {
		s, err := r.spell(r.watched[i])
		if err != nil {
			return err
		}
		list = append(list, watch{s, &r.watched[i]})
	}
	slices.SortStableFunc(list, func(a, b watch) int { return cmp.Compare(a.From, b.From) })
	for i, w := range list {
		if i > 0 && w.From < list[i-1].To {
			later := w.row
			if other := list[i-1].row; other.from.line > later.from.line { // the one that came second in the file is at fault
				later = other
			}
			return later.from.wrong("watch-overlap")
		}
		r.log.Watched = append(r.log.Watched, w.Spell)
	}
	return nil
}

// spell finds the instants of a row: the first end after the start.
func (r *logReader) spell(n row) (Spell, error) {
	from := n.from.instants(r.zone)
	if len(from) == 0 {
		return Spell{}, n.from.wrong("no-such-hour")
	}
	s := Spell{From: float64(from[0])}
	r.log.Folded += len(from) - 1
	if n.running {
		return s, nil
	}
	to := n.to.instants(r.zone)
	if len(to) == 0 {
		return s, n.to.wrong("no-such-hour")
	}
	r.log.Folded += len(to) - 1
	for _, t := range to {
		if s.To = float64(t); s.To > s.From {
			return s, nil
		}
	}
	return s, n.to.wrong("end-before-start")
}

// entries puts the outages in order and refuses what cannot be.
func (r *logReader) entries() error {
	for _, n := range r.rows {
		s, err := r.spell(n)
		if err != nil {
			return err
		}
		r.log.Entries = append(r.log.Entries, Entry{s, n.running, n.from.line, r.east(&n.from, s.From)})
	}
	slices.SortStableFunc(r.log.Entries, func(a, b Entry) int { return cmp.Compare(a.From, b.From) })
	for i, e := range r.log.Entries {
		if i+1 < len(r.log.Entries) {
			next := r.log.Entries[i+1]
			args := words.Args{"other": strconv.Itoa(e.Line)}
			if e.Running {
				return &LogError{ID: "running-not-last", Line: e.Line, Column: 1, Args: words.Args{"other": strconv.Itoa(next.Line)}}
			}
			if next.From < e.To {
				return &LogError{ID: "overlap", Line: next.Line, Column: 1, Args: args}
			}
		}
		if !r.log.kept(e) {
			return &LogError{ID: "outside", Line: e.Line, Column: 1}
		}
	}
	return nil
}

// east is how far the clock of a beginning runs ahead: that of the zone where one is named, else as
// it is written.
func (r *logReader) east(m *moment, at float64) float64 {
	switch {
	case !r.log.NoZone && r.zone != time.UTC:
		_, east := time.Unix(int64(at), 0).In(r.zone).Zone()
		return float64(east)
	case m.zoned:
		return float64(m.offset)
	}
	return 0
}

// farApart is the longest time between two outages that is taken for no slip of the pen. [s]
const farApart = 20 * Year

// dated refuses outages that had not begun when the job was dated (asOf, the end of that day
// in seconds since 1970; a clock may run up to 14 hours ahead of Greenwich), and years so far
// apart that one of them is a slip of the pen. asOf 0: nobody knows when that was.
func (l *Log) dated(asOf float64) error {
	for i, e := range l.Entries {
		switch {
		case asOf > 0 && e.From > asOf+14*Hour:
			return &LogError{ID: "future", Line: e.Line, Column: 1}
		case i > 0 && e.From-l.Entries[i-1].From > farApart:
			return &LogError{ID: "far-apart", Line: e.Line, Column: 1, Args: words.Args{"other": strconv.Itoa(l.Entries[i-1].Line)}}
		}
	}
	return nil
}

// kept reports that an outage touches a time in which the log was kept.
func (l *Log) kept(e Entry) bool {
	for _, w := range l.Watched {
		if e.From < w.To && (e.Running || e.To > w.From) {
			return true
		}
	}
	return len(l.Watched) == 0
}
