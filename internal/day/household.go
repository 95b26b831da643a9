package day

import (
	"math"
	"sort"

	"tideover/internal/site"
)

// habit is how one kind of outlet is used on a day like any other: its share of the home's
// water (site.Uses), and the litres of one use. An assumption, shown as such: litres a
// use for present-day fittings.
type habit struct {
	site.Use
	litres float64
	phase  float64 // where in the day the first use falls, as a share of the day's water
}

var habits = func() []habit {
	type use struct{ litres, phase float64 }
	of := map[string]use{
		"shower": {45, 0.19}, "wc": {6, 0.07}, "kitchen": {4, 0.31}, "basin": {2, 0.13},
		"washing-machine": {15, 0.43}, "bath": {80, 0.71}, "garden": {40, 0.83},
	}
	var list []habit
	for _, u := range site.Uses {
		list = append(list, habit{u, of[u.Kind].litres, of[u.Kind].phase})
	}
	return list
}()

// hours is the share of a day's water drawn in each hour, midnight first, not yet summing
// to one: low at night, peaks at 6 to 9 and 18 to 21. An assumption in the shape the
// studies agree on.
var hours = [24]float64{1.5, 0.7, 0.6, 0.6, 0.7, 2.5, 8, 9.5, 8, 5.5, 4.5, 4, 4.5, 4, 3.5, 3.5, 4, 5.5, 7.5, 7.5, 6, 4.5, 2.5, 1.4}

// golden spreads uses evenly over the day whatever their number (Weyl sequence).
const golden = 0.6180339887498949

// Using is one outlet of the home as the typical day sees it.
type Using struct {
	Kind string
	Flow float64 // it gives [m³/s]
}

// TypicalDay makes the draw-offs of a day on which the home asks for so many m³: every
// kind of outlet gets its share (of those there are), in uses of their usual litres,
// spread over the hours as homes draw. Starts and durations are whole seconds; what is
// asked, flow times duration, adds up to the day's water within a second of each
// kind's flow. there is the share of each hour in which somebody is in: in the rest nothing is
// drawn. No chance is in it: the same home gives the same day.
func TypicalDay(outlets []Using, daily float64, there [24]float64) []Draw {
	when := hoursOf(there)
	total := 0.0
	for _, h := range habits {
		if len(of(outlets, h.Kind)) > 0 {
			total += h.Share
		}
	}
	var list []Draw
	for _, h := range habits {
		if at := of(outlets, h.Kind); len(at) > 0 {
			list = append(list, h.uses(outlets, at, daily*h.Share/total, when)...)
		}
	}
	sort.SliceStable(list, func(i, j int) bool { return list[i].Start < list[j].Start })
	return apart(list, len(outlets))
}

func of(outlets []Using, kind string) []int {
	var list []int
	for n, o := range outlets {
		if o.Kind == kind && o.Flow > 0 {
			list = append(list, n)
		}
	}
	return list
}

// uses spreads a kind's water over its uses, and those over its outlets in turn.
func (h *habit) uses(outlets []Using, at []int, water float64, when [24]float64) []Draw {
	n := max(1, int(math.Round(water/(h.litres/1000))))
	list := make([]Draw, 0, n)
	asked := 0.0
	for i := range n {
		outlet := at[i%len(at)]
		flow := outlets[outlet].Flow
		// What is still due up to this use, to the second.
		due := water*float64(i+1)/float64(n) - asked
		seconds := math.Round(due / flow)
		if seconds < 1 {
			continue
		}
		asked += seconds * flow
		_, part := math.Modf(h.phase + golden*float64(i))
		list = append(list, Draw{Outlet: outlet, Start: clockOf(part, when), Duration: seconds})
	}
	return list
}

// hoursOf is hours with those left out in which nobody is in; as they are where that leaves
// none, for somebody draws the day's water.
func hoursOf(there [24]float64) (when [24]float64) {
	sum := 0.0
	for h := range hours {
		when[h] = hours[h] * there[h]
		sum += when[h]
	}
	if sum == 0 {
		return hours
	}
	return when
}

// clockOf is the whole second of the day by which a share of its water is drawn.
func clockOf(share float64, when [24]float64) float64 {
	sum := 0.0
	for _, w := range when {
		sum += w
	}
	left := share * sum
	for h, w := range when {
		if left < w {
			return math.Floor(3600 * (float64(h) + left/w))
		}
		left -= w
	}
	return 86399
}

// apart keeps two uses of one outlet from running at once: the later waits.
func apart(list []Draw, outlets int) []Draw {
	free := make([]float64, outlets)
	for i := range list {
		d := &list[i]
		if free[d.Outlet] > d.Start {
			d.Start = free[d.Outlet]
		}
		free[d.Outlet] = d.Start + d.Duration + 10
	}
	return list
}
