package job

import (
	"fmt"
	"sort"
	"strconv"
	"strings"
	"unicode/utf8"

	"tideover/internal/words"
)

const (
	minutesADay  = 24 * 60
	minutesAWeek = 7 * minutesADay
)

var dayNames = [...]string{"monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"}

// ParseTimetable reads the weekly times in which the main is on: clauses parted by
// ";", each some days and some times, "Mon Wed 06:00-12:00; Sat 05:00-09:00". Days may
// be a range (Mon-Fri) or "daily"; a time past midnight ends on the next day. Slots
// come back in order from Monday 00:00 and do not overlap. A supply that turns on every
// second day knows no weekdays: "every second day 06:00-12:00", "every 3 days 05:00-08:00";
// its slots count from the first of those days, and it is the whole timetable.
func ParseTimetable(text string) ([]Slot, error) {
	if list, every, err := parseEvery(text); every {
		return list, asError(err)
	}
	var list []Slot
	at := 0
	for _, clause := range strings.Split(text, ";") {
		slots, err := parseClause(clause)
		if err != nil {
			err.At += utf8.RuneCountInString(text[:at])
			return nil, err
		}
		list = append(list, slots...)
		at += len(clause) + 1
	}
	sort.Slice(list, func(i, j int) bool { return list[i].From < list[j].From })
	for i := 1; i < len(list); i++ {
		if list[i].From < list[i-1].To {
			return nil, wrong("slots-overlap", words.Args{"when": list[i].start()})
		}
	}
	return list, nil
}

func parseClause(clause string) ([]Slot, *valueError) {
	var days [7]bool
	var list []Slot
	some := false
	for _, word := range splitWords(clause) {
		err := (*valueError)(nil)
		if word.text[0] >= '0' && word.text[0] <= '9' {
			list, err = addHours(list, days, some, word.text)
		} else if len(list) > 0 {
			err = wrong("slots-days-first", words.Args{"word": word.text})
		} else {
			err = addDays(&days, word.text)
			some = true
		}
		if err != nil {
			err.At += word.at
			return nil, err
		}
	}
	if len(list) == 0 {
		return nil, wrong("slots-empty", words.Args{"clause": strings.TrimSpace(clause)})
	}
	return list, nil
}

type placedWord struct {
	text string
	at   int // in characters
}

// splitWords parts a clause at blanks and commas, each word with its place.
func splitWords(clause string) []placedWord {
	var list []placedWord
	start, column := -1, 0
	for i, r := range clause + " " {
		gap := r == ' ' || r == ',' || r == '\t' || r == '\n'
		if gap && start >= 0 {
			word := clause[start:i]
			list = append(list, placedWord{word, column - utf8.RuneCountInString(word)})
			start = -1
		} else if !gap && start < 0 {
			start = i
		}
		column++
	}
	return list
}

// addDays marks "Mon", "Monday", "Mon-Fri" or "daily".
func addDays(days *[7]bool, word string) *valueError {
	if strings.EqualFold(word, "daily") {
		*days = [7]bool{true, true, true, true, true, true, true}
		return nil
	}
	first, last, ranged := strings.Cut(word, "-")
	a, err := dayOf(first)
	if err != nil {
		return err
	}
	b := a
	if ranged {
		if b, err = dayOf(last); err != nil {
			err.At = utf8.RuneCountInString(first) + 1
			return err
		}
	}
	for d := a; ; d = (d + 1) % 7 {
		days[d] = true
		if d == b {
			return nil
		}
	}
}

func dayOf(word string) (int, *valueError) {
	for i, name := range dayNames {
		if len(word) >= 3 && strings.HasPrefix(name, strings.ToLower(word)) {
			return i, nil
		}
	}
	e := wrong("slots-day", words.Args{"word": word})
	e.Nearest = nearest(word, dayNames[:])
	return 0, e
}

// addHours adds "06:00-12:00" on every marked day.
func addHours(list []Slot, days [7]bool, some bool, word string) ([]Slot, *valueError) {
	if !some {
		return nil, wrong("slots-no-day", words.Args{"hours": word})
	}
	h, err := parseHours(word)
	if err != nil {
		return nil, err
	}
	from, to := h.From, h.end()
	for d, on := range days {
		if !on {
			continue
		}
		s := Slot{From: d*minutesADay + from, To: d*minutesADay + to}
		if s.To > minutesAWeek {
			list = append(list, Slot{To: s.To - minutesAWeek})
			s.To = minutesAWeek
		}
		list = append(list, s)
	}
	return list, nil
}

// ordinals are the words for every how many days.
var ordinals = map[string]int{"second": 2, "other": 2, "third": 3, "fourth": 4, "fifth": 5, "sixth": 6}

// mostDays is the longest round of a timetable: beyond it nobody turns a valve by heart.
const mostDays = 14

// parseEvery reads a timetable that begins with "every". every is false for any other.
func parseEvery(text string) (list []Slot, every bool, err *valueError) {
	all := splitWords(text)
	if len(all) == 0 || !strings.EqualFold(all[0].text, "every") {
		return nil, false, nil
	}
	days := 0
	if len(all) > 2 {
		count, unit := strings.ToLower(all[1].text), strings.ToLower(all[2].text)
		switch n, number := strconv.Atoi(count); {
		case ordinals[count] > 0 && unit == "day":
			days = ordinals[count]
		case number == nil && unit == "days":
			days = n
		}
	}
	if days < 2 || days > mostDays {
		return nil, true, wrong("slots-every", words.Args{"text": strings.TrimSpace(text), "most": itoa(mostDays)})
	}
	if len(all) == 3 {
		return nil, true, wrong("slots-empty", words.Args{"clause": strings.TrimSpace(text)})
	}
	cycle := days * minutesADay
	for _, w := range all[3:] {
		h, err := parseHours(w.text)
		if err != nil {
			err.At += w.at
			return nil, true, err
		}
		list = append(list, Slot{From: h.From, To: h.end(), Cycle: cycle})
	}
	sort.Slice(list, func(i, j int) bool { return list[i].From < list[j].From })
	for i := range list {
		if next := list[(i+1)%len(list)].From; len(list) > 1 && i+1 < len(list) && next < list[i].To || list[i].To > cycle+list[0].From {
			return nil, true, wrong("slots-overlap", words.Args{"when": clock(list[i].From)})
		}
	}
	return list, true, nil
}

// asError keeps a nil *valueError from becoming an error that is not nil.
func asError(err *valueError) error {
	if err == nil {
		return nil
	}
	return err
}

// start names the day and the time at which a slot begins.
func (s Slot) start() string {
	name := dayNames[s.From/minutesADay%7]
	return fmt.Sprintf("%s %02d:%02d", strings.ToUpper(name[:1])+name[1:3], s.From/60%24, s.From%60)
}
