package outage

import (
	"math"

	"tideover/internal/stream"
)

// chain lives one supply of one future, year after year. Each year draws from a stream
// of its own; what passes from one year into the next is only the moment of the next
// failure and the end of the last spell, so a year asked for out of order is reached by
// living those before it again, and comes out the same.
type chain struct {
	seasons []drawn
	slots   *Timetable
	key     stream.Key
	next    int     // year to be lived next; the first is −1, in which the start is forgotten
	fail    float64 // s, when the supply fails next, were every hour alike
	back    float64 // s, when it came back
	byDay   float64 // share of the failures that come by day
	last    float64 // s, end of the last spell given
	held    float64 // s, end of the last spell before the year lived last
	room    []Spell
}

// drawn is a season with this future's parameters.
type drawn struct {
	name     string
	from, to float64
	weak     float64
	never    bool
	up, down Length
	reach    float64 // share of the law of down below the longest
	short    float64 // of two kinds: share of all that is short, and below the longest
}

// length is how long a spell lasts, by a uniform number, never above the longest. Of two kinds
// the number says which, and what is left of it how long: as likely as the law's own inverse,
// and many times as fast.
func (d *drawn) length(u float64) float64 {
	u *= d.reach
	if d.down.Law != TwoKinds {
		return d.down.Quantile(u)
	}
	short, long, often, seldom := d.down.kinds()
	if u < d.short {
		return short.Quantile(u / often)
	}
	return long.Quantile((u - d.short) / seldom)
}

const (
	before  = -1          // the year before the run
	forEver = 1000 * Year // a supply that runs so long is taken never to fail
)

func (p Process) draw(s *stream.Stream, key stream.Key) chain {
	c := chain{slots: p.Timetable, key: key}
	for _, season := range p.Seasons {
		d := drawn{name: season.Name, from: season.From, to: season.To, weak: season.Weak, never: season.Up == nil || season.Down == nil}
		if !d.never {
			d.up, d.down = season.Up.Draw(s), season.Down.Draw(s)
			d.reach = 1 - d.down.Survival(season.Longest)
			if d.down.Law == TwoKinds {
				short, _, often, _ := d.down.kinds()
				d.short = often * (1 - short.Survival(season.Longest))
			}
		}
		c.seasons = append(c.seasons, d)
	}
	c.byDay = p.Hours.draw(s)
	c.reset()
	return c
}

func (c *chain) reset() {
	c.next, c.last, c.back = before, math.Inf(-1), math.Inf(-1)
	s := c.stream(before - 1)
	c.fail = c.until(before*Year, s.Exp())
}

func (c *chain) stream(year int) stream.Stream {
	k := c.key
	k.Year = uint32(int32(year))
	return stream.Of(k)
}

// year appends the spells that begin in a year.
func (c *chain) year(dst []Spell, year int) []Spell {
	if year < 0 {
		panic("outage: year: must be 0 or above")
	}
	if year < c.next {
		c.reset()
	}
	for c.next < year {
		c.room = c.live(c.room[:0])
	}
	return c.live(dst)
}

// live appends the spells of the next year and steps on. The end of the year before the
// run is kept for year 0.
func (c *chain) live(dst []Spell) []Spell {
	year := c.next
	begin := len(dst)
	c.held = c.last
	if year == 0 && c.last > 0 {
		dst = append(dst, Spell{0, c.last})
	}
	dst = c.random(dst, year)
	if c.slots != nil {
		dst = c.slots.off(dst, float64(year)*Year, float64(year+1)*Year)
		dst = union(dst, begin, c.last)
	}
	if len(dst) > begin {
		c.last = dst[len(dst)-1].To
	}
	c.next++
	return dst
}

// random appends the year's spells of the alternating renewal process.
func (c *chain) random(dst []Spell, year int) []Spell {
	end := float64(year+1) * Year
	if !(c.fail < end) {
		return dst
	}
	s := c.stream(year)
	for c.fail < end {
		d := &c.seasons[c.season(c.fail)]
		from := math.Max(c.back, clocked(c.fail, c.byDay))
		c.back = from + d.length(s.Uniform())
		dst = append(dst, Spell{from, c.back})
		c.fail = c.until(c.back, s.Exp())
	}
	return dst
}

// season is the index of the season a moment lies in.
func (c *chain) season(t float64) int {
	of := t - Year*math.Floor(t/Year)
	for i := range c.seasons {
		if of < c.seasons[i].to {
			return i
		}
	}
	return len(c.seasons) - 1
}

// until returns when a supply restored at t fails again: when the hazard it has met
// since, season by season, adds up to budget. Source: time change of a point process to
// unit rate (Daley & Vere-Jones 2003, "An introduction to the theory of point processes"
// I, theorem 7.4.I).
func (c *chain) until(t, budget float64) float64 {
	if c.quiet() {
		return math.Inf(1)
	}
	if len(c.seasons) == 1 {
		return t + c.seasons[0].up.Age(budget)
	}
	born := t
	for i := c.season(t); t-born < forEver; i = (i + 1) % len(c.seasons) {
		d := &c.seasons[i]
		end := d.end(t)
		if !d.never {
			met := d.up.Hazard(t - born)
			if at := born + d.up.Age(met+budget); at < end {
				return math.Max(at, t)
			}
			budget = math.Max(0, budget-(d.up.Hazard(end-born)-met))
		}
		t = end
	}
	return math.Inf(1)
}

// end is when the season a moment lies in ends.
func (d *drawn) end(t float64) float64 {
	end := Year*math.Floor(t/Year) + d.to
	if end <= t {
		end += Year
	}
	return end
}

// quiet reports that nothing ever fails at random.
func (c *chain) quiet() bool {
	for _, d := range c.seasons {
		if !d.never {
			return false
		}
	}
	return true
}
