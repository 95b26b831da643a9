package assembly

import (
	"strings"

	"tideover/internal/job"
)

// Reversed lists the non-return valves that are fitted the wrong way round: whose outlet is
// nearer, part by part, to where its leg's water comes from than their inlet. That is the store
// in the legs that draw from it, the main in all others. One that only one end of leads there,
// and that end is the outlet, is reversed too; one that nothing leads to is not judged.
func (a *Assembly) Reversed() []int {
	var list []int
	for _, i := range a.Of(NonReturn) {
		if len(a.Parts[i].Ports) < 2 {
			continue
		}
		from := Main
		if r := a.Parts[i].Role; (r == Boost || r == Storage) && len(a.Of(Store)) > 0 {
			from = Store
		}
		in, out := a.steps(from, i)
		if out >= 0 && (in < 0 || out < in) {
			list = append(list, i)
		}
	}
	return list
}

// steps counts the parts between the nearest part of a kind and either end of a part, not
// through that part itself and through no tank; −1 where nothing leads there.
func (a *Assembly) steps(from Kind, to int) (in, out int) {
	m := a.mates()
	far := make([]int, len(a.Parts))
	for i := range far {
		far[i] = -1
	}
	visit := a.Of(from)
	for _, i := range visit {
		far[i] = 0
	}
	in, out = -1, -1
	for n := 0; n < len(visit); n++ {
		i := visit[n]
		if p := &a.Parts[i]; far[i] > 0 && (p.Kind == Store || p.Kind == FloatValve) {
			continue
		}
		for port := range a.Parts[i].Ports {
			o := m.mate[m.first[i]+port]
			switch {
			case o.Part < 0:
			case o.Part == to && o.Port == 0 && in < 0:
				in = far[i] + 1
			case o.Part == to && o.Port == 1 && out < 0:
				out = far[i] + 1
			case o.Part != to && far[o.Part] < 0:
				far[o.Part] = far[i] + 1
				visit = append(visit, o.Part)
			}
		}
	}
	return in, out
}

// TurnRound are the edits of the job that turn a listed part of two ends round: the lines that
// pass it enter by the end they left by. None where no line names it.
func TurnRound(j *job.Job, tag string) []job.Edit {
	var list []job.Edit
	for i := range j.Joins {
		x := &j.Joins[i]
		steps := strings.Split(x.Line, ",")
		turned := false
		for k, step := range steps {
			name, ends, _ := strings.Cut(strings.TrimSpace(step), ".")
			if !strings.EqualFold(name, tag) {
				continue
			}
			turned = true
			end, _, _ := strings.Cut(ends, ".")
			switch {
			case k == 0 && end == "in", k > 0 && end == "out": // the way it goes by itself
			case k == 0:
				name += ".in"
			default:
				name += ".out"
			}
			steps[k] = name
			if k > 0 {
				steps[k] = " " + name
			}
		}
		if turned {
			list = append(list, job.Edit{Op: job.Set, Path: linePath(x), Text: strings.Join(steps, ",")})
		}
	}
	return list
}
