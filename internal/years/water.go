package years

import (
	"context"
	"math"

	"tideover/internal/assembly"
	"tideover/internal/assume"
	"tideover/internal/catalogue"
	"tideover/internal/freshness"
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/seasons"
)

// Site is what the water of the job's own store stands in, and what arrives.
type Site struct {
	Arriving, Summer float64                     // water of the main over the year, and as warm as it may come [°C]
	Winter           float64                     // and as cold [°C]
	Chlorine         float64                     // free, as read at a tap on the main; 0 until somebody reads it [kg/m³]
	Read             bool                        // somebody did
	Hot, Cold        *float64                    // air on a hot afternoon, on a cold night [°C]; nil where nobody told
	Frost            quantity.Val[quantity.Time] // how long it freezes without a break; 0 not told
	Freezes          bool                        // frost happens, or may
	Indoors          bool                        //
	Midsummer        string                      // north, south, none; "" or unknown counts as north
	hotDays          float64                     // by which a hot day is warmer than the mean day of the same weeks [K]
	Shell            freshness.Shell             // of one store
	Each             float64                     // water in one store when full [m³]
	Count            float64                     // stores
	Decay, Quick     freshness.Decay             // of chlorine in it: as it usually goes, and as fast as it may
	Jar              bool                        // how fast was read in a jar of the main's water
}

// colours are the shares of the sun that a shell takes up.
var colours = map[string]float64{"black": 0.9, "green": 0.7, "beige": 0.5, "white": 0.3}

// siteOf reads it off a job.
func siteOf(j *job.Job, row catalogue.Store, count int, whole float64) Site {
	p, c := &j.Place, &j.Choices
	s := Site{Arriving: float64(p.Water.V), Summer: float64(p.Water.V + p.Water.Half), Winter: math.Max(float64(p.Water.V-p.Water.Half), 0.1),
		Hot: told(p.Hot), Cold: told(p.Cold), Frost: p.Spell, Freezes: j.Taken("place.frost") == "yes", Indoors: c.Stands == "indoors",
		Count: float64(count), Each: whole / float64(count)}
	if v := j.Supply.Chlorine; v.From != "" || v.Basis != quantity.Assumed {
		s.Chlorine, s.Read = float64(v.V), true
	}
	d := float64(row.Diameter)
	top := math.Pi / 4 * d * d
	s.Midsummer = p.Midsummer
	s.hotDays = assume.HotDays.In(j.Assumed)
	s.Shell = freshness.Shell{Top: top, Side: math.Pi * d * float64(row.Overflow), Colour: colours[c.Colour], Insulation: float64(c.Insulation.V)}
	if c.Stands != "sun" {
		s.Shell.Shade = 1
	}
	s.Decay, s.Quick = freshness.UsualDecay, freshness.UsualDecay
	s.Decay.Bulk20, s.Quick.Bulk20 = assume.Decay.In(j.Assumed)/86400, assume.Decay.High/86400
	if left := j.Supply.ChlorineLeft; s.Read && (left.From != "" || left.Basis != quantity.Assumed) {
		s.Jar = true
		s.Decay.Bulk20, s.Quick.Bulk20 = jarred(j.Supply.Chlorine, left)
	}
	s.Decay.Bottom, s.Decay.Sides = top, 4/d
	s.Quick.Bottom, s.Quick.Sides = top, 4/d
	return s
}

// stripError is what a test strip may be off by where no spread is told. Judgement: half the step
// between two fields of a common strip. [kg/m³]
const stripError = 0.05e-3

// jarred is how fast chlorine goes by a jar read fresh and after a day, as it was read and as
// fast as the strip leaves open: where it may be none that is left, as fast as any water.
func jarred(fresh, left quantity.Val[quantity.Dose]) (usual, quick float64) {
	half := func(v quantity.Val[quantity.Dose]) float64 { return math.Max(float64(v.Half), stripError) }
	usual = freshness.JarDecay(float64(fresh.V), math.Max(float64(left.V), stripError))
	if least := float64(left.V) - half(left); least > 0 {
		return usual, freshness.JarDecay(float64(fresh.V)+half(fresh), least)
	}
	return usual, math.Max(usual, assume.Decay.High/86400)
}

func told(v quantity.Val[quantity.Temperature]) *float64 {
	if v.From == "" && v.Basis == quantity.Assumed {
		return nil
	}
	t := float64(v.V)
	return &t
}

// rowOf is the catalogue row of the job's own store.
func rowOf(a *assembly.Assembly) (catalogue.Store, bool) {
	for _, i := range a.Of(assembly.Store) {
		if row, ok := a.Parts[i].Row.(catalogue.Store); ok {
			return row, true
		}
	}
	return catalogue.Store{}, false
}

// follower keeps the water of one store, or of two in turn: each drawn while it leads, and
// what is drawn mixed on the way.
type follower struct {
	water   [2]freshness.Both
	keeps   [2]keeping // as chlorine usually goes, and as fast as it may
	climate *climate
	halves  int // 1, or 2 in turn
	usable  float64
	dead    float64
	site    *Site
	ages    *freshness.Tally
	from    float64 // what is drawn from then on counts [s]
	since   float64 // the water is followed from then on [s]
	age     float64 // of the water it begins with [s]
	years   float64 // counted
	begun   bool
	tanks   int         // linked side by side, where other ways are asked for; 0 none
	ways    []*way      // in which the water may move else, from when it begins
	through [24]float64 // drawn in each hour of the day, all days together [m³]
	day     int
	drawn   float64 // of the day [m³]
	days    int     // on which something was drawn
	wanted  float64
}

// keeping is what is counted for one speed at which chlorine goes.
type keeping struct {
	decay freshness.Decay
	drawn float64 // chlorine in what was drawn in the day [kg]
	below int     // days on which what was drawn had less than is wanted
}

// least is the water that always stays in a store, so that its age has a meaning. [m³]
const least = 1e-6

// See takes a stretch of the store's life.
func (w *follower) See(s *seasons.Span) {
	span := s.To - s.From
	if span <= 0 || s.To < w.since {
		return
	}
	if day := int(s.From / seasons.Day); day != w.day {
		w.close()
		w.day = day
	}
	before, after := w.levels(s.Before, s.Lead), w.levels(s.After, s.Lead)
	out := w.leaving(s, before, after)
	around, arriving := w.climate.at((s.From + s.To) / 2)
	in := freshness.Water{Chlorine: w.site.Chlorine, Heat: arriving}
	for i := range w.halves {
		volume := math.Max(before[i]+w.dead/float64(w.halves), least)
		f := freshness.Flow{Span: span, Out: math.Max(out[i], 0)}
		f.In = math.Max((after[i]-before[i])/span+f.Out, 0)
		if low := volume + (f.In-f.Out)*span; low < least {
			f.Out = math.Max(f.In+(volume-least)/span, 0)
		}
		m := &w.water[i]
		if !w.begun {
			m.Water = freshness.Water{Age: w.age, Heat: in.Heat}
		}
		m.Volume = volume
		if s.From < w.from {
			m.Pass(f, in, around, w.keeps[0].decay, w.keeps[1].decay)
		} else {
			out, quickly := m.Step(f, in, around, w.keeps[0].decay, w.keeps[1].decay)
			w.take(s, out, quickly)
		}
		if w.tanks > 0 {
			if !w.begun {
				w.ways = otherWays(w.tanks, volume, freshness.Water{Age: w.age, Heat: in.Heat}, w.keeps[1].decay)
			}
			for _, y := range w.ways {
				y.live(f, in, around, s.From >= w.from)
			}
		}
	}
	w.begun = true
}

// levels splits a level among two stores in turn.
func (w *follower) levels(level float64, lead uint8) [2]float64 {
	if w.halves == 1 {
		return [2]float64{level}
	}
	a, z := seasons.Halves(level, w.usable, lead)
	return [2]float64{a, z}
}

// leaving is what flows out of each: out of the one that leads, while it has any. [m³/s]
func (w *follower) leaving(s *seasons.Span, before, after [2]float64) (out [2]float64) {
	all := s.Out + s.Spilled
	if w.halves == 1 {
		return [2]float64{all}
	}
	lead := int(s.Lead)
	if math.Max(before[lead], after[lead]) <= least {
		lead = 1 - lead
	}
	out[lead] = all
	if falls := (before[1-lead] - after[1-lead]) / (s.To - s.From); falls > 0 { // the draw went over from one to the other
		out[1-lead] = math.Min(falls, all)
		out[lead] = all - out[1-lead]
	}
	return out
}

// take counts what left, with its chlorine were that to go quickly.
func (w *follower) take(s *seasons.Span, out freshness.Drawn, quickly float64) {
	if !(out.Volume > 0) {
		return
	}
	w.keeps[0].drawn += out.Mean.Chlorine * out.Volume
	w.keeps[1].drawn += quickly * out.Volume
	w.ages.Add(out.First.Age, out.Last.Age, out.Volume)
	w.through[int(s.From/seasons.Hour)%24] += out.Volume
	w.drawn += out.Volume
}

// close counts a day that ended.
func (w *follower) close() {
	if w.drawn > 0 {
		w.days++
	}
	for k := range w.keeps {
		if w.drawn > 0 && w.keeps[k].drawn < w.wanted*w.drawn {
			w.keeps[k].below++
		}
		w.keeps[k].drawn = 0
	}
	for _, y := range w.ways {
		if w.drawn > 0 && y.drawn < w.wanted*w.drawn {
			y.below++
		}
		y.drawn = 0
	}
	w.drawn = 0
}

// Lived is the water of every store through one future.
type Lived struct {
	stores []*follower // nil where nobody asked
	years  float64     // counted
}

// Follow lives one future of an input and follows the water of its stores, or of those among
// them that are asked for. answer is what
// the input's years said: the water is left to settle first, for as long as it takes, and is
// counted for as many years again. Futures differ more than the years of one do: short ones,
// many of them.
func (h *Home) Follow(ctx context.Context, in *seasons.Input, answer *seasons.Answer, which []int, future int) (*Lived, error) {
	var through, whole []float64
	for i := range in.Stores {
		s := &in.Stores[i]
		through, whole = append(through, answer.Stores[i].By[seasons.ThroughYear].Value), append(whole, s.Usable+s.Dead+s.Reserve)
	}
	years, slowest, turnover := settle(through, whole)
	if which == nil {
		which = every(in)
	}
	short := *in
	short.Warm, short.Years, short.Stores = 0, 2*years, nil
	l := &Lived{stores: make([]*follower, len(in.Stores)), years: float64(years)}
	var watch []seasons.Watcher
	for _, i := range which {
		f := h.follower(&in.Stores[i])
		if i == h.Own && in == h.Input && f.halves == 1 && future < wayFutures {
			f.tanks = max(1, int(h.Site.Count))
		}
		f.since = (float64(years) - 3*slowest) * seasons.Year
		f.from, f.age, f.years = float64(years)*seasons.Year, turnover[i], float64(years)
		short.Stores, watch, l.stores[i] = append(short.Stores, in.Stores[i]), append(watch, f), f
	}
	w, err := seasons.NewWorker(&short)
	if err != nil {
		return nil, err
	}
	if _, err := w.Watched(ctx, uint32(future), watch); err != nil {
		return nil, err
	}
	for _, i := range which {
		l.stores[i].close()
	}
	return l, nil
}

func every(in *seasons.Input) (which []int) {
	for i := range in.Stores {
		which = append(which, i)
	}
	return which
}

func (h *Home) follower(s *seasons.Store) *follower {
	f := &follower{ages: freshness.NewAges(), halves: 1, usable: s.Usable, dead: s.Dead + s.Reserve, site: &h.Site,
		climate: h.Site.climate(), wanted: freshness.Residual(0, h.Site.Chlorine).Limit}
	f.keeps[0].decay, f.keeps[1].decay = h.Site.Decay, h.Site.Quick
	if s.InTurn {
		f.halves = 2
	}
	return f
}
