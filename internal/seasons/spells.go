package seasons

import (
	"cmp"
	"math"
	"slices"

	"tideover/internal/stream"
)

// queue is a list of spells that is walked through once.
type queue struct {
	list []Spell
	i    int
}

// room drops what has been walked past, so that a queue stays as long as a year's spells.
func (q *queue) room() []Spell {
	n := copy(q.list, q.list[q.i:])
	q.list, q.i = q.list[:n], 0
	return q.list
}

// at says whether t lies in a spell, and when that changes.
func (q *queue) at(t float64) (inside bool, next float64) {
	for q.i < len(q.list) && q.list[q.i].To <= t {
		q.i++
	}
	switch {
	case q.i == len(q.list):
		return false, math.Inf(1)
	case q.list[q.i].From <= t:
		return true, q.list[q.i].To
	}
	return false, q.list[q.i].From
}

// last is the spell at the end of the queue, or nil.
func (q *queue) last() *Spell {
	if len(q.list) == 0 {
		return nil
	}
	return &q.list[len(q.list)-1]
}

// year takes in the spells that begin in a year, and what follows from them.
func (w *Worker) year(f Future, year int) {
	w.off.list = f.Off(w.off.room(), year)
	w.weak.list = f.Weak(w.weak.room(), year)
	w.weaken(f, year)
	w.notices(f, year)
	w.dark = f.Dark(w.dark[:0], year)
	w.dead.room()
	if w.in.Pump.Needs {
		for _, d := range w.dark {
			w.darken(d)
		}
	}
	w.called.room()
	if w.in.Change == ByHand {
		w.callHands(year)
	}
}

// weaken adds a weak spell after each interruption of a year that has one, and puts all in
// order again.
func (w *Worker) weaken(f Future, year int) {
	lingering, _ := f.(Lingering)
	n := len(w.weak.list)
	for _, s := range w.off.list[w.taken(w.off, year):] {
		lasts := w.in.WeakAfter
		if lingering != nil {
			lasts = max(lasts, lingering.Lingers(s))
		}
		if lasts > 0 {
			w.weak.list = append(w.weak.list, Spell{From: s.To, To: s.To + lasts})
		}
	}
	if len(w.weak.list) == n {
		return
	}
	list := w.weak.list
	slices.SortFunc(list, func(a, b Spell) int { return cmp.Compare(a.From, b.From) })
	kept := 0
	for i, s := range list {
		if i > 0 && s.From <= list[kept-1].To {
			list[kept-1].To = math.Max(list[kept-1].To, s.To)
			continue
		}
		list[kept] = s
		kept++
	}
	w.weak.list = list[:kept]
}

// notices draws each interruption of a year out by the notice it brings, and joins those that
// then meet: the interruption is over for a home once it may draw on the main again.
func (w *Worker) notices(f Future, year int) {
	lasts := w.in.Notice
	if n, told := f.(Noticing); told {
		lasts = n.Noticed()
	}
	if lasts == 0 {
		return
	}
	w.notice.room()
	from := w.taken(w.off, year)
	kept := from
	for _, s := range w.off.list[from:] {
		w.notice.list = append(w.notice.list, Spell{From: s.To, To: s.To + lasts})
		if n := len(w.notice.list); n > 1 { // the main fails again under a notice
			w.notice.list[n-2].To = math.Min(w.notice.list[n-2].To, s.From)
		}
		s.To += lasts
		if kept > 0 && s.From <= w.off.list[kept-1].To {
			w.off.list[kept-1].To = s.To
			continue
		}
		w.off.list[kept] = s
		kept++
	}
	w.off.list = w.off.list[:kept]
}

// darken adds the end of a power cut that the battery does not reach to.
func (w *Worker) darken(d Spell) {
	p := w.in.Pump
	w.charge = math.Min(w.hours, w.charge+p.Recharge*math.Max(0, d.From-w.lit))
	w.lit = d.To
	if lasts := d.To - d.From; lasts > w.charge {
		w.dead.list = append(w.dead.list, Spell{From: d.From + w.charge, To: d.To})
		w.charge = 0
	} else {
		w.charge -= lasts
	}
}

// callHands adds, for each spell of the year, the time in which the valve stands on the store.
func (w *Worker) callHands(year int) {
	i, k, weak := w.taken(w.off, year), w.taken(w.weak, year), len(w.weak.list)
	for weak > 0 && w.weak.list[weak-1].From >= float64(year+1)*Year {
		weak-- // what follows an interruption that lasts into the next year is next year's
	}
	for n := uint32(0); i < len(w.off.list) || k < weak; n++ {
		var s Spell
		if k >= weak || i < len(w.off.list) && w.off.list[i].From <= w.weak.list[k].From {
			s = w.off.list[i]
			i++
		} else {
			s = w.weak.list[k]
			k++
		}
		w.callHand(s, year, n)
	}
}

// taken is the first spell of a queue that begins in a year.
func (w *Worker) taken(q queue, year int) int {
	i := len(q.list)
	for i > 0 && q.list[i-1].From >= float64(year)*Year {
		i--
	}
	return i
}

func (w *Worker) callHand(s Spell, year int, n uint32) {
	draw := stream.Of(stream.Key{Seed: w.in.Home.Seed, Home: w.home, Year: uint32(year), Process: stream.Hand, Item: n})
	u, v := draw.Uniform(), draw.Uniform()
	back := w.turned(s.To, v)
	if l := w.called.last(); l != nil && s.From <= l.To {
		l.To = math.Max(l.To, back) // it still stands on the store
		return
	}
	if from := w.turned(s.From, u); from < s.To {
		w.called.list = append(w.called.list, Spell{From: from, To: back})
	}
}

const minute = 60.0 // s

// turned is when somebody has turned the valve after a moment; +Inf when nobody ever comes.
func (w *Worker) turned(t, u float64) float64 {
	h := &w.in.Hand
	at := t
	for n := int(t / minute); !h.There[n%len(h.There)] || w.reader.People(n/(24*60)) == 0; at = float64(n) * minute {
		n++
		if float64(n)*minute > t+Year {
			return math.Inf(1)
		}
	}
	return at + h.Least + u*(h.Most-h.Least)
}
