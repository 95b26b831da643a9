package assembly

import (
	"strings"

	"tideover/internal/catalogue"
	"tideover/internal/words"
)

// noAdapter faults a pipe whose ends no fitting of the catalogue brings to the thread it
// meets: it names the rows that reach that thread, or says that none does.
func (b *build) noAdapter(run *Part, pipe catalogue.Pipe, thread string) {
	b.fault(pathOf(run), "assembly.no-adapter", words.Args{"pipe": pipe.Size.String(), "thread": thread, "tag": run.Tag,
		"joint": pipe.Joint, "rows": b.reach(thread)})
}

// reach says which rows of the catalogue end in a thread: adapters straight to it, and
// adapters with a bush.
func (b *build) reach(thread string) string {
	var list, more []string
	seen := map[string]bool{} // ways of joining a row of which is named: one of each comes first
	for _, key := range b.rows.Keys("fittings") {
		f := b.rows.Fittings[key]
		if f.Kind != "adapter" {
			continue
		}
		way, _, _ := strings.Cut(f.Words, ",")
		if f.Thread == thread && seen[way] {
			more = append(more, inFull(f))
		} else if f.Thread == thread {
			seen[way] = true
			list = append(list, inFull(f))
		} else if bush, ok := b.rows.Bush(f.Thread, thread, dryBore); ok && thread != "" {
			list = append(list, inFull(f)+" + "+inFull(bush))
		}
	}
	if list = append(list, more...); len(list) == 0 {
		return words.Say("assembly.rows-none", words.Args{"thread": thread})
	}
	return words.Say("assembly.rows-serve", words.Args{"thread": thread, "list": strings.Join(nearest(list), "; ")})
}

// mostRows is how many rows a fault names.
const mostRows = 8

// nearest keeps the rows that take fewest pieces, the first of equals, and no more than a
// person reads.
func nearest(list []string) []string {
	var one, two []string
	for _, s := range list {
		if strings.Contains(s, " + ") {
			two = append(two, s)
		} else {
			one = append(one, s)
		}
	}
	if len(one) == 0 {
		one = two
	}
	return one[:min(len(one), mostRows)]
}

// inFull names a fitting by its key and its words.
func inFull(f catalogue.Fitting) string { return f.Key + " (" + f.Words + ")" }

// bushRow says which bushes bring one thread to another, in a row if need be, as few as
// there can be; or that none do.
func (b *build) bushRow(one, other string) string {
	from := map[string]catalogue.Fitting{}
	back := map[string]string{one: ""}
	for queue := []string{one}; len(queue) > 0; queue = queue[1:] {
		at := queue[0]
		if at == other {
			var list []string
			for t := other; t != one; t = back[t] {
				list = append([]string{inFull(from[t])}, list...)
			}
			return words.Say("assembly.bushes-serve", words.Args{"list": strings.Join(list, " + ")})
		}
		for _, key := range b.rows.Keys("fittings") {
			f := b.rows.Fittings[key]
			next := f.Thread
			if next == at {
				next = f.Mark
			}
			if _, been := back[next]; f.Kind != "bush" || f.Mark != at && f.Thread != at || been {
				continue
			}
			back[next], from[next] = at, f
			queue = append(queue, next)
		}
	}
	return words.Say("assembly.bushes-none", words.Args{"one": one, "other": other})
}
