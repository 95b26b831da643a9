package years

import (
	"slices"
	"strings"

	"tideover/internal/finding"
	"tideover/internal/freshness"
	"tideover/internal/quantity"
	"tideover/internal/seasons"
	"tideover/internal/words"
)

// way is another way in which the water of the own store may move than stirred all through, with its
// chlorine going as fast as it may: how water moves nobody sees, and what is fine is fine in all. The
// mean age at the taps is the same in all of them, for what is held is (Danckwerts 1953): what
// differs is its spread, and with it how much chlorine is left.
type way struct {
	id    string // message "way.<id>"
	step  func(f freshness.Flow, in freshness.Water, around freshness.Around) []freshness.Drawn
	ages  *freshness.Tally
	drawn float64 // chlorine in what was drawn in the day [kg]
	below int     // days on which it had less than is wanted
}

// wayFutures is how many futures the other ways are lived in: they cost as much as three sizes more.
const wayFutures = 16

// Stirred is the way the ages of all sizes are told by.
const Stirred = "stirred"

// otherWays are those of a store of so much water, in so many tanks linked side by side.
func otherWays(tanks int, volume float64, w freshness.Water, d freshness.Decay) []*way {
	plug := freshness.NewPlug(volume, w)
	list := []*way{{id: "in-turn", ages: freshness.NewAges(), step: func(f freshness.Flow, in freshness.Water, around freshness.Around) []freshness.Drawn {
		return []freshness.Drawn{plug.Step(kept(f, plug.Volume), in, around, d)}
	}}}
	if tanks > 1 {
		l := freshness.NewLinked(tanks, volume, w)
		list = append(list, &way{id: "linked", ages: freshness.NewAges(), step: func(f freshness.Flow, in freshness.Water, around freshness.Around) []freshness.Drawn {
			near, far := l.Step(kept(f, l.Volume()), in, around, d)
			return []freshness.Drawn{near, far}
		}})
	}
	return list
}

// kept is a flow that leaves the least in a store: its level is the seasons', to the last bits.
func kept(f freshness.Flow, volume float64) freshness.Flow {
	if low := volume + (f.In-f.Out)*f.Span; low < 2*least {
		f.Out = max(f.In+(volume-2*least)/f.Span, 0)
	}
	return f
}

// live lives through a span, and counts what was drawn once that counts.
func (y *way) live(f freshness.Flow, in freshness.Water, around freshness.Around, counts bool) {
	for _, out := range y.step(f, in, around) {
		if counts && out.Volume > 0 {
			y.ages.Add(out.First.Age, out.Last.Age, out.Volume)
			y.drawn += out.Mean.Chlorine * out.Volume
		}
	}
}

// Way is what the futures say of one way the water may move.
type Way struct {
	ID    string
	Most  seasons.Estimate // age that one litre in twenty exceeds [s]
	Scant seasons.Estimate // share of the days that lack chlorine, where that goes as fast as it may
}

// waysOf reads the other ways off the futures of a store.
func waysOf(lived []*follower) (list []Way) {
	lived = lived[:min(wayFutures, len(lived))]
	if len(lived) == 0 {
		return nil
	}
	for k := range slices.MaxFunc(lived, func(a, b *follower) int { return len(a.ways) - len(b.ways) }).ways {
		one, id := Fresh{}, ""
		var scant seasons.Ratio
		for _, w := range lived {
			if len(w.ways) == 0 { // nothing came or went
				continue
			}
			y := w.ways[k]
			id = y.id
			one.ages = append(one.ages, y.ages)
			if y.ages.Sum > 0 {
				scant.Add(float64(y.below), float64(w.days))
				if one.all == nil {
					one.all = freshness.NewAges()
				}
				one.all.Merge(y.ages)
			}
		}
		list = append(list, Way{id, one.Quantile(0.95), scant.Proportion()})
	}
	return list
}

// Longest is the way in which the oldest litres are oldest, Scantest that in which most days lack
// chlorine.
func (f *Fresh) Longest() *Way {
	return f.worst(func(w *Way) float64 { return w.Most.Value })
}

// Scantest is the way in which most days lack chlorine.
func (f *Fresh) Scantest() *Way {
	return f.worst(func(w *Way) float64 { return w.Scant.Value })
}

func (f *Fresh) worst(of func(*Way) float64) *Way {
	all := f.eachWay()
	at := &all[0]
	for i := range all {
		if of(&all[i]) > of(at) {
			at = &all[i]
		}
	}
	return at
}

// eachWay are all ways, stirred first.
func (f *Fresh) eachWay() []Way { return append([]Way{{Stirred, f.Most, f.Scant}}, f.Ways...) }

// tellWays says a figure in each way, and what to do where linked tanks are the worst.
func (f *Fresh) tellWays(dim quantity.Dim, of func(*Way) seasons.Estimate, worst *Way, sys quantity.System) string {
	var list []string
	all := f.eachWay()
	for i := range all {
		w := &all[i]
		list = append(list, words.Say("way."+w.ID, words.Args{"figure": quantity.Format(finding.Of(dim, of(w).Value), sys)}))
	}
	if len(list) < 2 {
		return ""
	}
	text := words.Say("way.all", words.Args{"list": strings.Join(list, "; ")})
	if worst.ID == "linked" {
		text += " " + words.Say("way.linked-do", nil)
	}
	return text
}
