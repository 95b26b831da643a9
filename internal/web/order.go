package web

import (
	"net/url"
	"strconv"
	"strings"
)

// order is a way from one setting to another, movement by movement, each an address.
type order struct {
	ID, Title string
	Told      string // what cannot be kept on the way, or that nothing was found
	Begin     tab
	Steps     []tab
	Unplugged bool
}

// stepView is the step of an order that is shown, with the ones beside it.
type stepView struct {
	Title, Place, Move string
	Before, Next       string // addresses, "" at the ends
}

// ordersOf lists the proven orders of movements in the world of the case shown. The desk is
// locked.
func (d *desk) ordersOf(v *turnView, q url.Values, world string) {
	if d.appraisal.Proof == nil {
		return
	}
	list := d.appraisal.Proof.Sequences
	for i := range list {
		s := &list[i]
		id := s.From + "." + s.To
		o := order{ID: id, Title: say("web.turn.order.title", "from", settingWords(s.From), "to", settingWords(s.To))}
		if !s.Judged || len(s.Moves) == 0 {
			o.Told = s.Tell()
			v.Orders = append(v.Orders, o)
			continue
		}
		for k := range s.Blocks {
			o.Told = strings.TrimSpace(o.Told + " " + s.Blocks[k].Tell())
		}
		text, off := s.From, false
		here := -1
		if q.Get("way") == id {
			here, _ = strconv.Atoi(q.Get("step"))
		}
		o.Begin = tab{Label: say("web.turn.order.begin"), URL: d.stepURL(text, world, off, id, 0), Here: here == 0}
		for k := range s.Moves {
			m := &s.Moves[k]
			switch {
			case m.Tag != "":
				text += " " + m.Tag + "=" + m.To
			case m.Pulls():
				off, o.Unplugged = true, true
			case m.Puts():
				off = false
			}
			o.Steps = append(o.Steps, tab{Label: upperFirst(m.Tell()), URL: d.stepURL(text, world, off, id, k+1), Here: here == k+1})
		}
		if here >= 0 && here <= len(o.Steps) {
			v.Step = o.at(here)
		}
		v.Orders = append(v.Orders, o)
	}
}

func settingWords(name string) string { return sayOr("setting."+name, name) }

// stepURL is the address of the case after some movements of an order.
func (d *desk) stepURL(hands, world string, off bool, way string, step int) string {
	if off {
		world += " power=off"
	}
	return d.url() + "/turn?" + url.Values{"case": {hands + world}, "way": {way}, "step": {strconv.Itoa(step)}}.Encode()
}

// at is one step of an order with its neighbours.
func (o *order) at(n int) *stepView {
	s := &stepView{Title: o.Title, Place: say("web.turn.order.step", "n", strconv.Itoa(n), "all", strconv.Itoa(len(o.Steps)))}
	if n == 0 {
		s.Move = o.Begin.Label
	} else {
		s.Move = o.Steps[n-1].Label
		s.Before = o.Begin.URL
		if n > 1 {
			s.Before = o.Steps[n-2].URL
		}
	}
	if n < len(o.Steps) {
		s.Next = o.Steps[n].URL
	}
	return s
}
