package outage

import (
	"math"
	"testing"

	"tideover/internal/job"
	"tideover/internal/quantity"
)

// TestNoticeOfEachFuture: a notice told comes in every future, as long as it was told with its
// doubt; of one that nobody knows of there is none in half of them; told as none, or with rationing
// by a timetable, there never is.
func TestNoticeOfEachFuture(t *testing.T) {
	const n = 600
	for name, c := range map[string]struct {
		told        job.Answer
		slots       string
		share, mean float64 // h, of those that have one
	}{
		"told": {job.Yes, "", 1, 36}, "none": {job.No, "", 0, 0}, "unknown": {job.Unknown, "", 0.5, 36}, "rationed": {job.Yes, "daily 06:00-12:00", 0, 0},
	} {
		habit := "about 12 a year, 3 to 12 h"
		if c.slots != "" {
			habit = ""
		}
		j := home(t, habit, c.slots, "")
		j.Interruptions.Notice = c.told
		j.Interruptions.NoticeLasts = quantity.Val[quantity.Time]{V: 36 * 3600, Half: 12 * 3600}
		m, err := Read(j, Logs{}, "")
		if err != nil {
			t.Fatal(err)
		}
		if has(m, "outage.notice-unknown") != (name == "unknown") {
			t.Errorf("%s: said %v", name, m.Notes)
		}
		with, sum := 0.0, 0.0
		for k := range uint32(n) {
			v := m.Future(5, k).Noticed()
			if v != 0 && (v < 24*Hour || v > 48*Hour) {
				t.Fatalf("%s: %v h", name, v/Hour)
			}
			if v > 0 {
				with, sum = with+1, sum+v/Hour
			}
		}
		if math.Abs(with/n-c.share) > 4*math.Sqrt(c.share*(1-c.share)/n) || with > 0 && math.Abs(sum/with-c.mean) > 4*24/math.Sqrt(12*with) {
			t.Errorf("%s: in %.2f of the futures, %.1f h; want %v, %v", name, with/n, sum/math.Max(1, with), c.share, c.mean)
		}
	}
}
