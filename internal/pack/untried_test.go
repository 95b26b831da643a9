package pack

import (
	"slices"
	"testing"

	"tideover/internal/appraise"
	"tideover/internal/pack/paper"
	"tideover/internal/proof"
)

// TestUntriedOrderIsSaid: handles whose order no proof tried are never listed as if it had been; sheet and
// card say so, and what to do first. Of an order that was tried neither says it.
func TestUntriedOrderIsSaid(t *testing.T) {
	banners := func(p *pack, b []paper.Block) (n int) {
		for _, block := range b {
			if x, is := block.(paper.Banner); is && x.Text == p.tellUntried() {
				n++
			}
		}
		return n
	}
	said := func(b []paper.Block) bool {
		for _, block := range b {
			if x, is := block.(paper.Table); is && slices.Contains(x.Head, say("valves.untried.there")) {
				return true
			}
		}
		return false
	}
	for _, name := range examples {
		a := *run(t, source(t, name))
		p := &pack{Appraisal: &a}
		from, turned := &a.Assembly.Settings[0], 0
		tried := &appraise.Proof{Report: &proof.Report{}}
		for i := range a.Assembly.Settings[1:] {
			to := &a.Assembly.Settings[i+1]
			list := p.turns(from, to)
			if told := said(p.moves(from, to)); told != (len(list) > 1) {
				t.Errorf("%s: %d handles to %s in an order nobody tried, said: %v", name, len(list), to.Name, told)
			}
			if len(list) > 1 {
				turned++
			}
			for _, s := range []proof.Sequence{{From: from.Name, To: to.Name, Judged: true}, {From: to.Name, To: from.Name, Judged: true}} {
				for _, m := range list {
					s.Moves = append(s.Moves, proof.Movement{Act: proof.Turn, Tag: m.tag, To: m.to})
				}
				tried.Sequences = append(tried.Sequences, s)
			}
		}
		for sheet, b := range map[string][]paper.Block{"card": p.card(), "valves": p.valves()} {
			if got := banners(p, b); (got > 0) != (turned > 0) {
				t.Errorf("%s: %d settings whose order nobody tried, and the sheet %s says so %d times", name, turned, sheet, got)
			}
		}
		a.Proof = tried
		for i := range a.Assembly.Settings[1:] {
			if said(p.moves(from, &a.Assembly.Settings[i+1])) {
				t.Errorf("%s: an order that was tried is told as one that was not", name)
			}
		}
		if banners(p, p.card())+banners(p, p.valves()) > 0 {
			t.Errorf("%s: a sheet tells an order that was tried as one that was not", name)
		}
	}
}
