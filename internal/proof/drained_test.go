package proof

import (
	"strings"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/job"
)

// TestDrainedDownStandsUnderNoPressure: in every arrangement the setting for a frost, worked
// out with the whole net, leaves nothing under pressure that main or store does not stand
// on: what is drained feels no more than the water standing in it.
func TestDrainedDownStandsUnderNoPressure(t *testing.T) {
	t.Parallel()
	for _, arrangement := range assembly.Arrangements() {
		in := laid(t, "kestrel-rise", arrangement, func(j *job.Job) { j.Place.Frost = "yes" })
		s, err := NewSpace(&in)
		if err != nil {
			t.Fatal(err)
		}
		named := s.named(assembly.Drained)
		if named == nil {
			t.Fatalf("%s: no setting for a frost", arrangement)
		}
		c := s.Normal()
		c.Setting = append([]uint8(nil), named.Position...)
		c.World.Main = High
		a := in.Assembly
		outside := map[string]bool{}
		for _, h := range a.Holds(a.Setting(assembly.Drained)) {
			outside[a.Parts[h.Part].Tag] = h.Why == assembly.Pressed || a.Parts[h.Part].Kind == assembly.Store
		}
		r := s.Play(c)
		if !r.Solved {
			t.Errorf("%s: not solved", arrangement)
		}
		for i, p := range r.Parts {
			switch k := a.Parts[i].Kind; k {
			case assembly.Run, assembly.Vessel, assembly.Heater, assembly.NonReturn, assembly.Strainer, assembly.Pump, assembly.Outlet:
			default:
				continue
			}
			for port, x := range p.Pressures {
				if !outside[p.Tag] && x.High > 0.3e5 {
					t.Errorf("%s: %s stands under %.2f to %.2f bar at port %d", arrangement, p.Tag, x.Low/1e5, x.High/1e5, port)
				}
			}
		}
	}
}

// TestDrainDownOrder: heater off, everything shut, every tap open, then the drains.
func TestDrainDownOrder(t *testing.T) {
	t.Parallel()
	in := laid(t, "juniper-flat", "", nil)
	s, err := NewSpace(&in)
	if err != nil {
		t.Fatal(err)
	}
	p := &planner{s: s, water: newWater(s, newMemo()), known: map[uint64]uint64{}, pumped: true, heated: true}
	for _, h := range s.Hands {
		p.drain, p.before = append(p.drain, s.isDrain(len(p.drain))), append(p.before, s.before(h.Part))
	}
	seq, err := p.search(t.Context(), &s.Named[0], s.named(assembly.Drained))
	if err != nil {
		t.Fatal(err)
	}
	var told []string
	for i := range seq.Moves {
		told = append(told, seq.Moves[i].Tell())
	}
	got := strings.Join(told, ", ")
	if want := "switch the heater off and let it cool, switch the pump off at its isolator and lock it, V2 shut, V4 shut, open every tap, D4 open"; !strings.HasPrefix(got, want) {
		t.Errorf("got %s", got)
	}
}
