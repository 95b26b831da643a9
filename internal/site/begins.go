package site

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// Inflow is what comes into a store through its open float valve, every tap shut, with the main as
// it stands, and in a spell in which it is too weak for the home.
type Inflow struct {
	At   [Standings]quantity.Flow
	Weak quantity.Flow
}

// Row is how interruptions of a kind follow each other, for a store.
type Row struct {
	Kind job.Spell
	Most quantity.Time // longest of it, for what the store serves

	// Lost is what a home would draw out of the store in one of them of mean length, and Gain what
	// comes in, less what it draws meanwhile, until the next. Both 0 where they are many that differ.
	Lost, Gain quantity.Volume
	Begins     quantity.Volume // usable water when one of a long row of them begins
	On         quantity.Time   // from the end of one to the beginning of the next
	Weak       bool            // the main is weak all that time
	Waits      bool            // the float valve is delayed and has not opened yet when it begins
}

// Store is what the level of a store hangs on.
type Store struct {
	Usable  quantity.Volume // when full
	Draws   quantity.Flow   // of the home while it hangs on it
	Through bool            // it always does
	Held    bool            // a weak main keeps the home
	Spared  quantity.Time   // so much shorter is an interruption for it: uses that run on the main under a notice
	Waits   quantity.Volume // may be missing before its float valve opens
}

// Rows are the kinds of interruption, each with the water that a store has when one of a long row
// of them begins.
func (s *Site) Rows(st Store, in Inflow) []Row {
	off := &s.Interruptions
	between, often := off.Between()
	meanwhile := quantity.Flow(0)
	if st.Through {
		meanwhile = st.Draws
	}
	usual := quantity.Flow(0)
	if off.told > 0 {
		usual = in.mean(&s.Main) - meanwhile
	}
	slots := off.slotRows(&st, meanwhile, in, &s.Main)
	var list []Row
	for i, k := range off.Kinds {
		if i >= off.told {
			list = append(list, slots[i-off.told])
			continue
		}
		r := Row{Kind: k, Most: k.Most - st.Spared, Begins: st.Usable, On: between}
		net := usual
		if inRow(k) {
			r.On, r.Weak, net = k.Weak, true, in.Weak
			if st.Through || !st.Held {
				net -= st.Draws
			}
		}
		if often || r.Weak {
			r.Lost = quantity.Volume(float64(st.Draws) * float64(Mean(k)-st.Spared))
			r.Gain = quantity.Volume(math.Max(0, float64(net)) * float64(r.On))
			r.Begins = Level(r.Lost, r.Gain, st.Usable)
		}
		list = append(list, r)
	}
	for i := range list {
		list[i].wait(&st)
	}
	return list
}

// wait: a delayed float valve may stand just above where it opens when an interruption begins.
func (r *Row) wait(st *Store) {
	if least := max(0, st.Usable-st.Waits); r.Begins > least {
		r.Begins, r.Waits = least, true
	}
}

// Hardest is the kind that the store lasts through the least, of those that find it less than
// full; nil where it is full whenever the longest begins, or that is harder.
func Hardest(rows []Row, st Store) *Row {
	var worst *Row
	lasts := func(v quantity.Volume) quantity.Time { return quantity.Time(float64(v) / float64(st.Draws)) }
	least := quantity.Time(math.Inf(1))
	for i := range rows {
		r := &rows[i]
		if over := lasts(r.Begins) - r.Most; over < least {
			worst, least = r, over
		}
	}
	if worst == nil || worst.Begins >= st.Usable {
		return nil
	}
	return worst
}

// Level is the water in a store when one of a long row of equal interruptions begins: full where
// what comes in between makes good what one takes, or fills it; else no more than what comes in,
// for each one but the first then finds less than it takes.
//
//	V_b = V_u where G ≥ min(D t, V_u), else G
func Level(lost, gain, usable quantity.Volume) quantity.Volume {
	if gain >= min(lost, usable) {
		return usable
	}
	return gain
}

// mean is what comes in on the mean of a day.
func (in *Inflow) mean(m *Main) quantity.Flow {
	sum := 0.0
	for minute := range minutesADay {
		sum += float64(in.At[m.Stands(float64(60*minute))])
	}
	return quantity.Flow(sum / minutesADay)
}

// Lets is what comes in on the mean of the hours in which a timetable has the main on.
func (off *Interruptions) Lets(in *Inflow, m *Main) quantity.Flow {
	sum, n := 0.0, 0
	for _, t := range off.slots {
		for minute := t.From; minute < t.To; minute++ {
			sum += float64(in.At[m.Stands(float64(60*(minute%minutesADay)))])
			n++
		}
	}
	if n == 0 {
		return 0
	}
	return quantity.Flow(sum / float64(n))
}

// slotRows are the gaps of a timetable by their length, each with the least water that a store has
// when one of them begins.
//
// What goes in and out in a round moves a level x to min(hi, max(lo, x + s)), whatever the round
// holds, for a store is between empty and full. A long row of rounds therefore ends, from full,
// where a round from full ends if s ≥ 0, else where one from empty does.
func (off *Interruptions) slotRows(st *Store, meanwhile quantity.Flow, in Inflow, m *Main) []Row {
	usable, draws := st.Usable, st.Draws
	rows := make([]Row, len(off.Kinds)-off.told)
	if len(rows) == 0 {
		return nil
	}
	for i := range rows {
		k := off.Kinds[off.told+i]
		rows[i] = Row{Kind: k, Most: k.Most - st.Spared, Begins: usable}
	}
	var comes [minutesADay]float64 // m³ in each minute of the day
	for minute := range comes {
		comes[minute] = 60 * float64(in.At[m.Stands(float64(60*minute))]-meanwhile)
	}
	sum := 0.0
	for i, t := range off.slots {
		for minute := t.From; minute < t.To; minute++ {
			sum += comes[minute%minutesADay]
		}
		sum -= float64(draws) * float64(off.after(i))
	}
	level := 0.0
	if sum >= 0 {
		level = float64(usable)
	}
	on := quantity.Time(0)
	for round := range 2 {
		for i, t := range off.slots {
			for minute := t.From; minute < t.To; minute++ {
				level = math.Min(math.Max(level+comes[minute%minutesADay], 0), float64(usable))
			}
			on += quantity.Time(60 * (t.To - t.From))
			gap := off.after(i)
			if gap == 0 { // over midnight
				continue
			}
			for k := range rows {
				if round == 1 && rows[k].Kind.Most == gap && quantity.Volume(level) <= rows[k].Begins {
					rows[k].Begins, rows[k].On = quantity.Volume(level), on
				}
			}
			level, on = math.Max(level-float64(draws)*float64(gap), 0), 0
		}
	}
	return rows
}

// Holds reports whether a weak main keeps an automatic changeover on it. A hand turns the home to
// the store.
func (m *Main) Holds(a *assembly.Assembly) bool {
	c := a.LockOut()
	return c != nil && m.Felt(m.Weak(), a.Parts[c.Senses.Part].Ports[c.Senses.Port].Z) >= c.On
}
