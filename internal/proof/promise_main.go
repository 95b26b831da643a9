package proof

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/quantity"
)

// mainClean: stored or home water never reaches the main, neither driven by pump or store
// nor falling back through the pipes when the main sucks and an open tap lets air in.
type mainClean struct{}

// About says what is promised.
func (mainClean) About() About {
	return About{ID: "main-clean", Kind: Sign, Spread: EveryCase, Safety: true, Source: "en-1717-matrix"}
}

// Judge looks first whether anything but the main can press on the meter, and solves only
// where heads alone do not say which way the water there goes:
//
//	no source stands higher than the main       nothing comes back
//	the main lies below every open water        what reaches it runs in
//
// Both follow from no head lying outside those held (the maximum principle). A dry main is
// an empty pipe: what stands above it runs in.
func (mainClean) Judge(v *View) Judgement {
	in := v.Input()
	m := in.Part(assembly.Main, "")
	if m < 0 {
		return none()
	}
	by := v.Reaches(m, 0, Stored|Pumped|Foreign)
	if by == NoSource {
		return in.fallsBack(v, m)
	}
	head, _ := v.HeadOfMain()
	if head >= in.highest(v, by) {
		return in.fallsBack(v, m)
	}
	if low := in.lowest(); by&Pumped == 0 && head < low-in.opening() {
		return broken(in.tag(m))
	}
	if q, ok := v.FlowTight(m); ok && float64(q) >= -trickle/2 { // open drains only take from what could come back
		return Judgement{Outcome: Kept, Margin: float64(q)}
	}
	q := float64(v.Flow(m))
	if !v.Solved() {
		return unjudged("no-answer")
	}
	if q >= -trickle {
		return Judgement{Outcome: Kept, Margin: q}
	}
	return most(quantity.FlowDim, -q, 0, in.tag(m))
}

// Measure works out how much comes back: a flow where store, pump or a bucket feeds it,
// else the water standing in the pipes.
func (p mainClean) Measure(v *View) Judgement {
	in := v.Input()
	j := p.Judge(v)
	m := in.Part(assembly.Main, "")
	if j.Outcome != Broken || j.Figure.Dim != quantity.NoDim {
		return j
	}
	if v.Reaches(m, 0, Stored|Pumped|Foreign) == NoSource {
		return drainBack(v, m)
	}
	return most(quantity.FlowDim, -float64(v.Flow(m)), 0, in.tag(m))
}

// fallsBack judges the home's own water, standing higher than the main and joined to it,
// when an open mouth lets air in.
func (in *Input) fallsBack(v *View, m int) Judgement {
	if v.Reaches(m, 0, Air) == NoSource {
		return kept()
	}
	head, _ := v.HeadOfMain()
	for _, runs := range in.homes() {
		for _, i := range runs {
			p := &in.Assembly.Parts[i]
			if above(float64(p.Ports[0].Z), float64(p.Ports[1].Z), head) == 0 {
				continue
			}
			if v.Joined(i, 0, m, 0) {
				return broken(in.tag(m))
			}
			break // what does not get from the first pipe of the home does not get from those behind
		}
	}
	return kept()
}

// networks lists the pipes of the home, one list for each set of them that is joined
// without leaving the home: a home split between main and store has two.
func (in *Input) networks() [][]int {
	a := in.Assembly
	var list [][]int
	of := make([]int, len(a.Parts)) // one more than the list a part belongs to
	with := newMeets(a).with
	for i := range a.Parts {
		if a.Parts[i].Role != assembly.HomeRole || of[i] > 0 {
			continue
		}
		list = append(list, nil)
		of[i] = len(list)
		for queue := []int{i}; len(queue) > 0; queue = queue[1:] {
			for k := range a.Parts[queue[0]].Ports {
				o, ok := with[assembly.End{Part: queue[0], Port: k}]
				if ok && of[o.Part] == 0 && a.Parts[o.Part].Role == assembly.HomeRole {
					of[o.Part] = len(list)
					queue = append(queue, o.Part)
				}
			}
		}
	}
	for _, i := range a.Of(assembly.Run) {
		if of[i] > 0 {
			list[of[i]-1] = append(list[of[i]-1], i)
		}
	}
	return list
}

// highest is the greatest head the sources can make [m above the datum].
func (in *Input) highest(v *View, by Source) float64 {
	top := math.Inf(-1)
	if by&(Stored|Pumped) != 0 {
		if top, _ = v.HeadOfMain(); in.Circuit.Store { // without a store the pump lifts the main's own water
			top = float64(v.Level())
		}
		if by&Pumped != 0 {
			top += in.Circuit.PumpLaw().ShutOff(1)
		}
	}
	if by&Foreign != 0 {
		for _, i := range in.Circuit.Outlets {
			top = math.Max(top, float64(in.Assembly.Parts[i].Ports[0].Z))
		}
	}
	return top
}

// lowest is the height of the lowest open water or mouth [m above the datum].
func (in *Input) lowest() float64 {
	low := math.Inf(1)
	for i := range in.Assembly.Parts {
		p := &in.Assembly.Parts[i]
		switch p.Kind {
		case assembly.Outlet, assembly.Drain, assembly.Store:
			low = math.Min(low, float64(p.Ports[0].Z))
		}
	}
	return low
}

// opening is the head that all non-return valves in a row take to open [m].
func (in *Input) opening() float64 {
	sum := 0.0
	for _, e := range in.Circuit.Net.Elements() {
		sum += e.Opens
	}
	return sum
}

// drainBack counts the home's own water that air lets run back: what stands in the pipes
// above the head in the street, as far as it is joined to the street. It is an upper
// bound: what fine bores hold up is counted as fallen.
func drainBack(v *View, m int) Judgement {
	in := v.Input()
	head, _ := v.HeadOfMain()
	sum := 0.0
	for _, i := range in.Assembly.Of(assembly.Run) {
		p := &in.Assembly.Parts[i]
		share := above(float64(p.Ports[0].Z), float64(p.Ports[1].Z), head)
		if share > 0 && p.Role == assembly.HomeRole && (v.Joined(i, 0, m, 0) || v.Joined(i, 1, m, 0)) {
			sum += share * in.pipeVolume(i)
		}
	}
	j := most(quantity.VolumeDim, sum, 0, in.tag(m))
	j.Outcome = Broken
	return j
}

// above is the share of what is spread evenly between two heights that lies above a third.
func above(z1, z2, from float64) float64 {
	lo, hi := math.Min(z1, z2), math.Max(z1, z2)
	switch {
	case from <= lo:
		return 1
	case from >= hi:
		return 0
	}
	return (hi - from) / (hi - lo)
}
