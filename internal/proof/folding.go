package proof

// Swapped tags are folded. Where two hand-turned parts carry each other's tag, the hands
// mean one setting and make another: the one in which the two have changed places. As every
// setting is covered with nothing failed, each case with swapped tags stands like a sound
// case that is covered already; only whether its setting has a name is another matter. So a
// promise over every setting is judged without swapped tags, and their cases are counted
// from the sound boxes, unless it asks what the hands mean or whether anything has failed.

// swapped is what a named setting becomes in the hands of someone who trusts swapped tags.
type swapped struct {
	mishap, named int
	at            []uint8 // where the handles really are
}

// fold lists what every swap makes of every named setting.
func (s *Space) fold() {
	hand := map[int]int{}
	for h := range s.Hands {
		hand[s.Hands[h].Part] = h
	}
	for k := range s.Mishaps {
		m := &s.Mishaps[k]
		if !m.Swap {
			continue
		}
		s.set(&s.swapping, k+1)
		f, g := hand[m.Parts[0]], hand[m.Parts[1]]
		for n := range s.Named {
			if s.unlike>>n&1 == 0 {
				continue
			}
			at := append([]uint8(nil), s.Named[n].Position...)
			at[f], at[g] = at[g], at[f]
			s.swapped = append(s.swapped, swapped{k + 1, n, at})
		}
		s.swapCount++
	}
}

// unswapped is all mishaps but the swapped tags.
func (s *Space) unswapped() []uint64 {
	left := append([]uint64(nil), s.all...)
	for k := range s.swapping {
		left[k] &^= s.swapping[k]
	}
	return left
}

// holds reports whether a setting lies in the box.
func (o *oracle) holds(at []uint8) bool {
	for h, k := range at {
		if o.open[h]>>k&1 == 0 {
			return false
		}
	}
	return true
}

// countSwapped adds to the counts the cases with swapped tags that stand like the sound
// cases of this box.
func (w *walk) countSwapped(j Judgement, settings, worlds uint64) {
	o := w.o
	if !o.folded || !o.sound0() || o.s.swapCount == 0 {
		return
	}
	named := uint64(0)
	for i := range o.s.swapped {
		t := &o.s.swapped[i]
		if o.s.crowd>>t.named&1 != 0 || !o.holds(t.at) {
			continue
		}
		named++
		if j.Outcome == Broken {
			at := o.s.Named[t.named].Position
			c := w.smallest(j, at, t.mishap)
			w.keep(1, c)
			w.breakAt(breaking{t.mishap, t.named}, c)
		}
	}
	all := times(settings, uint64(o.s.swapCount))
	w.res.Named[1].add(j.Outcome, times(worlds, named))
	w.res.Other[1].add(j.Outcome, times(worlds, all-named))
	w.covered += float64(all) * float64(worlds)
}
