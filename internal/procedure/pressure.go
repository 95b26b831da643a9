package procedure

import "tideover/internal/assembly"

// Pressure is the test of one section of new pipe: what stands open and shut in it, what the
// pump does at which drain, what is seen. Plastic pipe stretches, and is tested in steps.
func (h *Home) Pressure(s Section, plastic bool) List {
	from := h.a.Index(s.From)
	pump := func(to string) []Act { return []Act{{TestPump, from, to}} }
	var gauge []Act
	for _, tag := range s.Runs[:1] {
		gauge = acts(SeeHeld, "", h.a.Index(tag))
	}
	var list steps
	list.add(true, "see", Alone)
	list.add(true, "fill", Alone, with(h.put("open", s.Open), h.put("shut", s.Shut), h.put("open", some(s.From)))...)
	list.add(true, "wait", Alone)
	list.add(true, "pump", Two, pump("pressed")...)
	list.add(plastic, "stretch", Alone, gauge...)
	list.add(true, "hold", Alone, gauge...)
	list.add(plastic, "third", Alone, gauge...)
	list.add(true, "walk", Two)
	list.add(true, "down", Alone, with(pump("off"), h.put("shut", some(s.From)), h.putBack(s.Open))...)
	list.add(true, "fails", Alone)
	return List{"test.step", list}
}

func some(tag string) []string {
	if tag == "" {
		return nil
	}
	return []string{tag}
}

// put turns the parts with some tags to a position; a changeover is put half way, open to both.
func (h *Home) put(to string, tags []string) []Act {
	var list []Act
	for _, tag := range tags {
		i, at := h.a.Index(tag), to
		if h.a.Parts[i].Kind == assembly.ThreeWay {
			at = "between"
		}
		list = append(list, Act{Handle, i, at})
	}
	return list
}

// putBack turns them to where they stand on an ordinary day.
func (h *Home) putBack(tags []string) []Act {
	var list []Act
	for _, tag := range tags {
		list = append(list, Act{Handle, h.a.Index(tag), h.p.at[tag]})
	}
	return list
}
