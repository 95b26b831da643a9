package outage

import (
	"regexp"
	"strconv"
	"strings"
	"sync"
	"time"
)

// moment is a date and a clock as written, before it is known which of two numbers is
// the day and in which zone the clock runs.
type moment struct {
	line, column  int
	text          string
	year          int
	first, second int  // as written; month and day where settled
	settled       bool // first is the month, second the day
	clock         int  // seconds of the day, −1 where none was written
	zoned         bool
	offset        int // seconds east of Greenwich, where zoned
}

const clockForm = `(?:[T ,]\s*(\d{1,2})[:h](\d{2})(?::(\d{2})(?:[.,]\d+)?)?\s*([aApP][mM])?)?\s*(Z|z|UTC|[+-]\d{2}:?\d{2})?$`

var (
	isoForm   = form(`^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})` + clockForm)
	localForm = form(`^(\d{1,2})([-/.])(\d{1,2})[-/.](\d{4})` + clockForm)
	dayFirst  = form(`^(\d{1,2})\.?[- ]([A-Za-z]{3,9})\.?,?[- ](\d{4})` + clockForm)
	nameFirst = form(`^([A-Za-z]{3,9})\.? (\d{1,2}),? (\d{4})` + clockForm)
)

// form is a regular expression that is compiled when it is first asked for: most runs read
// no log, and all of them start.
func form(text string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(text) })
}

var monthNames = [...]string{"january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november", "december"}

// monthOf is the month (1 to 12) a word of three letters or more begins, 0 for none.
func monthOf(word string) int {
	for i, name := range monthNames {
		if len(word) >= 3 && (strings.HasPrefix(name, strings.ToLower(word)) || strings.EqualFold(word, "sept") && i == 8) {
			return i + 1
		}
	}
	return 0
}

// readMoment reads a date and clock. The error is the id of what is wrong.
func readMoment(text string) (moment, string) {
	m := moment{text: text}
	var rest []string
	if g := isoForm().FindStringSubmatch(text); g != nil {
		m.year, m.first, m.second, m.settled, rest = number(g[1]), number(g[2]), number(g[3]), true, g[4:]
	} else if g := localForm().FindStringSubmatch(text); g != nil {
		m.year, m.first, m.second, rest = number(g[4]), number(g[1]), number(g[3]), g[5:]
		if g[2] == "." { // days come first wherever dots part them
			m.first, m.second, m.settled = m.second, m.first, true
		}
	} else if g := dayFirst().FindStringSubmatch(text); g != nil {
		m.year, m.first, m.second, m.settled, rest = number(g[3]), monthOf(g[2]), number(g[1]), true, g[4:]
	} else if g := nameFirst().FindStringSubmatch(text); g != nil {
		m.year, m.first, m.second, m.settled, rest = number(g[3]), monthOf(g[1]), number(g[2]), true, g[4:]
	} else {
		return m, "not-a-date"
	}
	return m, m.readClock(rest)
}

// readClock takes hours, minutes, seconds, half of the day and zone as the forms found them.
func (m *moment) readClock(g []string) string {
	m.clock = -1
	if g[0] != "" {
		h, min, s := number(g[0]), number(g[1]), number(g[2])
		if g[3] != "" {
			if h < 1 || h > 12 {
				return "bad-clock"
			}
			h %= 12
			if strings.EqualFold(g[3], "pm") {
				h += 12
			}
		}
		if m.clock = h*3600 + min*60 + s; h > 24 || min > 59 || s > 59 || m.clock > 86400 {
			return "bad-clock"
		}
	}
	if g[4] == "" {
		return ""
	}
	m.zoned = true
	if z := strings.ReplaceAll(g[4], ":", ""); len(z) == 5 {
		east := number(z[1:3])*3600 + number(z[3:5])*60
		if east > 14*3600 {
			return "bad-clock"
		}
		if z[0] == '-' {
			east = -east
		}
		m.offset = east
	}
	return ""
}

// number reads digits the forms have vouched for; nothing is 0.
func number(digits string) int {
	n, _ := strconv.Atoi(digits)
	return n
}

// exists reports that the settled date is one of the calendar.
func (m *moment) exists() bool {
	d := time.Date(m.year, time.Month(m.first), m.second, 0, 0, 0, 0, time.UTC)
	return m.year >= 1900 && m.first >= 1 && m.first <= 12 && d.Day() == m.second && d.Month() == time.Month(m.first)
}

// instants returns the moments, in seconds since 1970, at which clocks in the zone show
// this: none in the hour that summer time skips, two in the hour it repeats.
func (m *moment) instants(zone *time.Location) []int64 {
	wall := time.Date(m.year, time.Month(m.first), m.second, 0, 0, max(m.clock, 0), 0, time.UTC).Unix()
	if m.zoned {
		return []int64{wall - int64(m.offset)}
	}
	var list []int64
	for _, near := range [...]int64{-86400, 86400} {
		_, east := time.Unix(wall+near, 0).In(zone).Zone()
		at := wall - int64(east)
		if _, there := time.Unix(at, 0).In(zone).Zone(); there == east && (len(list) == 0 || list[0] != at) {
			list = append(list, at)
		}
	}
	return list
}
