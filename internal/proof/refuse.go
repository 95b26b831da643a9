package proof

import (
	"tideover/internal/assembly"
	"tideover/internal/words"
)

// Refusal is a reason why an assembly has no cases to prove anything about.
type Refusal struct {
	ID   string // message id: "proof.refuse.no-main"
	Args words.Args
}

// Error says it.
func (r *Refusal) Error() string { return words.Say(r.ID, r.Args) }

// refuse looks for what makes a proof meaningless.
func refuse(in *Input) error {
	a := in.Assembly
	switch {
	case in.Circuit == nil || in.Job == nil:
		return &Refusal{ID: "proof.refuse.nothing"}
	case len(a.Of(assembly.Main)) == 0 || in.Circuit.StreetPoint() < 0:
		return &Refusal{ID: "proof.refuse.no-main"}
	case len(in.Circuit.Outlets) == 0:
		return &Refusal{ID: "proof.refuse.no-outlet"}
	}
	if tag := pipeLoop(in); tag != "" {
		return &Refusal{ID: "proof.refuse.pipe-loop", Args: words.Args{"tag": tag}}
	}
	return nil
}

// pipeLoop is the tag of a run that closes a loop of nothing but pipes; "" for none. In such
// a loop nothing can be shut and nothing says which way the water goes round.
func pipeLoop(in *Input) string {
	c := in.Circuit
	root := make([]int32, len(c.Net.Points()))
	for p := range root {
		root[p] = int32(p)
	}
	find := func(p int32) int32 {
		for root[p] != p {
			root[p] = root[root[p]]
			p = root[p]
		}
		return p
	}
	for i := range in.Assembly.Parts {
		p := &in.Assembly.Parts[i]
		if p.Kind != assembly.Run || len(p.Ports) < 2 {
			continue
		}
		from, to := find(c.PointOf(i, 0)), find(c.PointOf(i, 1))
		if from == to {
			return p.Tag
		}
		root[from] = to
	}
	return ""
}
