package demand

import (
	"math"

	"tideover/internal/stream"
)

// points is the number of quantiles a spread is tabled at, and slot the number of days in
// which at most one stay begins.
const (
	points = 1024
	slot   = 28
)

// Home is a household made ready for drawing. It does not change: workers share it.
type Home struct {
	Household
	Seed uint64

	rate         [Groups][7][24]float64   // draws in the hour, of one person or of the home, before day and season
	pick         [Groups][7][24][]float64 // running share of each use of the group
	uses         [Groups][]int            // of the group, as indices into Uses
	of           [Groups]uint64           // and as a set
	vol          [][]float64              // by use: quantiles of the volume [m³]
	flow         [][]float64              // by use: quantiles of the flow [m³/s]
	away, guests float64                  // chance that a slot holds one
}

// Make checks a household and makes it ready.
func Make(h Household, seed uint64) (*Home, error) {
	if err := h.Check(); err != nil {
		return nil, err
	}
	m := &Home{Household: h, Seed: seed, away: chance(h.Away), guests: chance(h.Guests)}
	for i := range h.Uses {
		u := &h.Uses[i]
		m.uses[u.Group] = append(m.uses[u.Group], i)
		m.of[u.Group] |= 1 << i
		m.vol = append(m.vol, quantiles(u.Volume, u.VolumeSpread))
		m.flow = append(m.flow, quantiles(u.Flow, u.FlowSpread))
	}
	for g := range Groups {
		for d := range 7 {
			for hour := range 24 {
				m.mix(g, d, hour)
			}
		}
	}
	return m, nil
}

func chance(s Stay) float64 {
	if s.Days == 0 {
		return 0
	}
	return s.Share * slot / float64(s.Days)
}

// mix works out the rate and the running shares of a group's uses in one hour of the week.
func (m *Home) mix(g Group, d, hour int) {
	list := make([]float64, len(m.uses[g]))
	total := 0.0
	for k, i := range m.uses[g] {
		total += m.Scale * m.Uses[i].inHour(d, hour) * (1 + m.Uses[i].Swing)
		list[k] = total
	}
	for k := range list {
		if total > 0 {
			list[k] /= total
		}
	}
	m.rate[g][d][hour], m.pick[g][d][hour] = total, list
}

// inHour is the number of draws in one hour of the week, of a person or of the home.
func (u *Use) inHour(d, hour int) float64 {
	w := &u.Hours
	if d >= 5 {
		w = &u.Weekend
	}
	return u.PerDay * u.Week[d] * 7 / sum(u.Week[:]) * w[hour] / sum(w[:])
}

// season is what the rate of a use is multiplied by on a day of the year.
func (u *Use) season(day int) float64 {
	return 1 + u.Swing*math.Cos(2*math.Pi*(float64(day)-u.Peak)/365)
}

// quantiles tables a log-normal law at the middles of equal shares of chance, scaled so
// that what is drawn from the table by straight lines has exactly the mean asked for.
// What is rarer than one in two thousand draws is cut off at that value.
func quantiles(mean, spread float64) []float64 {
	list := make([]float64, points+1)
	s := math.Sqrt(math.Log1p(spread * spread))
	for k := range list {
		p := math.Min(math.Max(float64(k)/points, 0.5/points), 1-0.5/points)
		list[k] = math.Exp(s * math.Sqrt2 * math.Erfinv(2*p-1))
	}
	area := 0.0
	for k := range points {
		area += (list[k] + list[k+1]) / 2 / points
	}
	for k := range list {
		list[k] *= mean / area
	}
	return list
}

// at reads a table at 32 random bits.
func at(table []float64, w uint32) float64 {
	k := w >> 22
	part := float64(w&(1<<22-1)) * 0x1p-22
	return table[k] + part*(table[k+1]-table[k])
}

// Own is what one home draws, as a share of what is told of the household: spread evenly from
// 1 − Below to 1 + Above, as check spreads a value over what it may be. Mean 1 + (Above − Below)/2,
// variance (Above + Below)²/12.
func (m *Home) Own(home uint32) float64 {
	if m.Below == 0 && m.Above == 0 {
		return 1
	}
	s := stream.Of(stream.Key{Seed: m.Seed, Home: home, Process: stream.Household})
	return 1 - m.Below + s.Uniform()*(m.Below+m.Above)
}

// kind is what one day is like.
type kind struct {
	indoors float64 // multiplies the draws of people and home
	outside float64
	people  float64
}

// kindOf draws a day's kind: who is there and how much the day differs from the mean.
func (m *Home) kindOf(home, year uint32, day int) kind {
	k := kind{1, 1, m.People}
	if m.staying(home, year, day, m.away, m.Away.Days, awayItem) {
		return kind{}
	}
	if m.staying(home, year, day, m.guests, m.Guests.Days, guestItem) {
		k.people += m.Extra
	}
	if m.DaySpread > 0 {
		s := stream.Of(stream.Key{Seed: m.Seed, Home: home, Year: year, Process: stream.Day, Item: uint32(day)})
		v := m.DaySpread * m.DaySpread
		k.indoors, k.outside = s.Gamma(1/v)*v, s.Gamma(1/v)*v
	}
	return k
}

// Items of the Day process: days first, then the slots of stays.
const (
	awayItem  = 1 << 12
	guestItem = 1 << 13
)

// staying reports whether a day falls in the stay of its slot. The last slot of a year is
// a short one: a stay in it must fit, so that its share stays what was asked.
func (m *Home) staying(home, year uint32, day int, chance float64, days int, item uint32) bool {
	if chance == 0 {
		return false
	}
	n := day / slot
	s := stream.Of(stream.Key{Seed: m.Seed, Home: home, Year: year, Process: stream.Day, Item: item + uint32(n)})
	length := min(slot, 365-n*slot)
	if length < days { // the odd day at the year's end: as the days go
		return s.Uniform() < chance*float64(days)/slot
	}
	if s.Uniform() >= chance*float64(length)/slot {
		return false
	}
	from := n*slot + int(s.Uniform()*float64(length-days+1))
	return day >= from && day < from+days
}
