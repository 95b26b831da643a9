package outage

import (
	"fmt"
	"strings"
	"testing"
	"time"
)

// TestWatchedWindows: 2,000 towns, each watched for sixty days chosen without regard to
// what happened. The log, with its outages cut at both ends and its times between met
// and unfinished, goes through the reader and the fit; the interval of 95 % of the mean
// time between, and of the mean outage, holds the truth in 93 to 97 of a hundred.
func TestWatchedWindows(t *testing.T) {
	const repeats = 2000
	up, down := 5*Day, 20*Hour
	m := Model{Water: plain(Weibull, up, down, 0.8)}
	heldUp, heldDown := 0, 0
	for r := range uint32(repeats) {
		l, err := ReadLog(watchedLog(m.Future(9, r).Year(nil, 0)), "")
		if err != nil {
			t.Fatal(err)
		}
		d, u, _ := l.lengths(0)
		if within(under(Weibull, u, UpPrior), up) {
			heldUp++
		}
		if within(under(Weibull, d, DownPrior), down) {
			heldDown++
		}
	}
	for name, held := range map[string]int{"between": heldUp, "outages": heldDown} {
		if share := float64(held) / repeats; !(share >= 0.93 && share <= 0.97) {
			t.Errorf("%s: the interval held the mean in %.1f %%", name, 100*share)
		}
	}
}

// within reports that a mean lies in the interval of 95 %.
func within(p *Posterior, mean float64) bool {
	below := p.below(Length.Mean, mean)
	return below >= 0.025 && below <= 0.975
}

// watchedLog writes the log of days 100 to 160 of a year.
func watchedLog(spells []Spell) []byte {
	var b strings.Builder
	begin := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)
	at := func(s float64) string { return begin.Add(time.Duration(s) * time.Second).Format(time.DateTime) }
	fmt.Fprintf(&b, "watched,%s,%s\n", at(100*Day), at(160*Day))
	for _, s := range spells {
		if s.To > 100*Day && s.From < 160*Day {
			fmt.Fprintf(&b, "%s,%s\n", at(s.From), at(s.To))
		}
	}
	return []byte(b.String())
}
