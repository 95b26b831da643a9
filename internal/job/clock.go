package job

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"tideover/internal/quantity"
	"tideover/internal/words"
)

// Clock is a time of day as somebody told it. The zero Clock was not told: midnight was told
// is another value.
type Clock struct {
	Minute int // from midnight; 24:00 is 1440, the end of the day
	Told   bool
}

// String is the one spelling of a time of day, "07:30"; "" where it was not told.
func (c Clock) String() string {
	if !c.Told {
		return ""
	}
	return clock(c.Minute)
}

// Hours are hours of every day, in minutes from midnight. To at or before From is on the day
// after: 14:00-02:00 are twelve hours. The zero Hours were not told.
type Hours struct{ From, To int }

// HoursOf are the hours from one time of day to another; none where either was not told, or
// both are one moment.
func HoursOf(from, to Clock) Hours {
	h := Hours{from.Minute % minutesADay, to.Minute}
	if !from.Told || !to.Told || h.From == h.To {
		return Hours{}
	}
	return h
}

// Told reports whether there are such hours.
func (h Hours) Told() bool { return h.From != h.To }

// end is To in minutes from the midnight before From.
func (h Hours) end() int {
	if h.To < h.From {
		return h.To + minutesADay
	}
	return h.To
}

// Lasts is how long they are in a day. [s]
func (h Hours) Lasts() quantity.Time { return quantity.Time(60 * (h.end() - h.From)) }

// Holds reports whether a moment lies in them: seconds from any midnight, before it too. The
// moment they begin is in, the moment they end is not.
func (h Hours) Holds(t float64) bool {
	const day = 60 * minutesADay
	at, from, to := t-day*math.Floor(t/day), float64(60*h.From), float64(60*h.To)
	if h.From <= h.To {
		return at >= from && at < to
	}
	return at >= from || at < to
}

// String is the one spelling of the hours, "07:30-18:00"; "" where they were not told.
func (h Hours) String() string {
	if !h.Told() {
		return ""
	}
	return clock(h.From) + "-" + clock(h.To)
}

// clock spells minutes from midnight; the end of the day is 24:00, what lies beyond is told
// as on the next day.
func clock(minutes int) string {
	if minutes != minutesADay {
		minutes %= minutesADay
	}
	return fmt.Sprintf("%02d:%02d", minutes/60, minutes%60)
}

// parseHours reads "08:00-18:00".
func parseHours(text string) (h Hours, err *valueError) {
	a, b, ok := strings.Cut(text, "-")
	if !ok {
		return h, wrong("hours", words.Args{"text": text})
	}
	if h.From, ok = parseClock(a); !ok || h.From == minutesADay {
		return Hours{}, wrong("hours", words.Args{"text": text})
	}
	if h.To, ok = parseClock(b); !ok || h.To == h.From {
		e := wrong("hours", words.Args{"text": text})
		e.At = utf8.RuneCountInString(a) + 1
		return Hours{}, e
	}
	return h, nil
}

// parseClock reads "17:30" (or 24:00) into minutes from midnight.
func parseClock(text string) (int, bool) {
	h, m, ok := strings.Cut(strings.TrimSpace(text), ":")
	if !ok || len(h) == 0 || len(h) > 2 || len(m) != 2 {
		return 0, false
	}
	hours, err1 := strconv.ParseUint(h, 10, 8)
	minutes, err2 := strconv.ParseUint(m, 10, 8)
	total := int(hours)*60 + int(minutes)
	return total, err1 == nil && err2 == nil && minutes < 60 && total <= minutesADay
}
