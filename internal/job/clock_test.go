package job

import "testing"

// TestClock: one spelling of a time of day, whatever was typed; midnight told is not silence.
func TestClock(t *testing.T) {
	field, _ := FieldFor("supply.peak.from")
	for text, want := range map[string]string{"7:30": "07:30", "07:30": "07:30", " 0:00 ": "00:00", "24:00": "24:00", "23:59": "23:59"} {
		v, err := field.value(text, 0)
		if err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		if c := v.(Clock); c.String() != want || !c.Told {
			t.Errorf("%q is %q, told %v; want %q", text, c, c.Told, want)
		}
	}
	if (Clock{}).String() != "" {
		t.Error("a time nobody told has a spelling")
	}
	for _, text := range []string{"730", "7:3", "25:00", "24:01", "7:60", "-1:00", "007:30", ""} {
		if v, err := field.value(text, 0); err == nil {
			t.Errorf("%q is read as %v", text, v)
		}
	}
}

// TestHours: hours over midnight go on the next day; what they last and hold, by hand.
func TestHours(t *testing.T) {
	field, _ := FieldFor("home.away")
	for text, want := range map[string]struct {
		spelt   string
		hours   float64
		in, out float64 // h
	}{
		"8:00-18:00":  {"08:00-18:00", 10, 8, 18},
		"14:00-2:00":  {"14:00-02:00", 12, 1.99, 2},
		"22:30-06:15": {"22:30-06:15", 7.75, 24 + 3, 12},
		"0:00-24:00":  {"00:00-24:00", 24, 23.999, 99},
		"17:30-24:00": {"17:30-24:00", 6.5, -1, 0},
	} {
		v, err := field.value(text, 0)
		if err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		h := v.(Hours)
		if h.String() != want.spelt || float64(h.Lasts()) != 3600*want.hours || !h.Told() {
			t.Errorf("%q is %q of %g h", text, h, float64(h.Lasts())/3600)
		}
		if !h.Holds(3600*want.in) || want.out != 99 && h.Holds(3600*want.out) {
			t.Errorf("%q: holds %g h %v, %g h %v", text, want.in, h.Holds(3600*want.in), want.out, h.Holds(3600*want.out))
		}
	}
	if h := (Hours{}); h.Told() || h.Holds(0) || h.Lasts() != 0 || h.String() != "" {
		t.Error("hours nobody told hold something")
	}
	from, to := Clock{7*60 + 30, true}, Clock{9*60 + 30, true}
	if HoursOf(from, to).Lasts() != 7200 || HoursOf(to, from).Lasts() != 22*3600 || HoursOf(from, from).Told() || HoursOf(from, Clock{}).Told() {
		t.Error("hours of two times of day")
	}
	if whole := HoursOf(Clock{0, true}, Clock{1440, true}); whole.Lasts() != 86400 {
		t.Error("from midnight to the end of the day is a day")
	}
}
