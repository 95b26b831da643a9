package job

import (
	"slices"
	"testing"
)

// TestEvery: a supply that turns on every so many days knows no weekdays.
func TestEvery(t *testing.T) {
	const two, three = 2 * minutesADay, 3 * minutesADay
	for text, want := range map[string][]Slot{
		"every second day 06:00-12:00":                  {{360, 720, two}},
		"Every Other day 06:00-12:00":                   {{360, 720, two}},
		"every 3 days 05:00-08:00, 18:00-20:00":         {{300, 480, three}, {1080, 1200, three}},
		"every second day 20:00-02:00":                  {{1200, 1560, two}},
		"every third day 18:00-20:00 05:00-08:00":       {{300, 480, three}, {1080, 1200, three}},
		"every 1 day 06:00-12:00":                       nil,
		"every 2 day 06:00-12:00":                       nil,
		"every 15 days 06:00-12:00":                     nil,
		"every second day":                              nil,
		"every":                                         nil,
		"every second day 06:00-12:00 11:00-13:00":      nil,
		"every second day 06:00-12:00; Mon 06:00-12:00": nil,
		"every second Monday 06:00-12:00":               nil,
	} {
		got, err := ParseTimetable(text)
		if (err != nil) != (want == nil) || !slices.Equal(got, want) {
			t.Errorf("%q: %v, %v; want %v", text, got, err, want)
		}
	}
}
