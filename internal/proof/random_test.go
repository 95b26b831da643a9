package proof

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/circuit"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// kit is parts to build random assemblies of: one of each kind, out of the examples.
func kit(t testing.TB) (Input, map[assembly.Kind]assembly.Part) {
	parts := map[assembly.Kind]assembly.Part{}
	var in Input
	for _, arrangement := range assembly.Arrangements() {
		in = laid(t, "kestrel-rise", arrangement, func(j *job.Job) { j.Choices.Regulator, j.Choices.RegSet.V = "regulator-3/4", 3e5 })
		for _, p := range in.Assembly.Parts {
			if _, have := parts[p.Kind]; !have {
				parts[p.Kind] = p
			}
		}
	}
	return in, parts
}

// maze is a random assembly: a few tees, and parts between them as they come.
type maze struct {
	a    *assembly.Assembly
	kit  map[assembly.Kind]assembly.Part
	r    *rand.Rand
	tees []int
	n    map[assembly.Kind]int
}

func (m *maze) add(k assembly.Kind, role assembly.Role, z quantity.Length) int {
	p := m.kit[k]
	p.Ports = append([]assembly.Port(nil), p.Ports...)
	for i := range p.Ports {
		p.Ports[i].Z = z
	}
	m.n[k]++
	p.Tag, p.Role = fmt.Sprintf("%s%d", k, m.n[k]), role
	if k == assembly.Main {
		p.Tag = assembly.MainTag
	}
	m.a.Parts = append(m.a.Parts, p)
	return len(m.a.Parts) - 1
}

// join gives a tee one more port and joins it to a part's.
func (m *maze) join(part, port, tee int) {
	t := &m.a.Parts[m.tees[tee]]
	t.Ports = append(t.Ports, assembly.Port{Name: fmt.Sprint(len(t.Ports)), Z: t.Ports[0].Z})
	m.a.Joins = append(m.a.Joins, assembly.Join{A: assembly.End{Part: part, Port: port}, B: assembly.End{Part: m.tees[tee], Port: len(t.Ports) - 1}})
}

func (m *maze) two() (f, g int) {
	f = m.r.IntN(len(m.tees))
	g = (f + 1 + m.r.IntN(len(m.tees)-1)) % len(m.tees)
	return f, g
}

func (m *maze) height() quantity.Length { return quantity.Length(m.r.IntN(12)) }

// newMaze builds one: a main, an outlet or two, perhaps a store with pump and float valve,
// and valves, non-return valves and a pipe between random tees.
func newMaze(kit map[assembly.Kind]assembly.Part, r *rand.Rand, regulated bool) *assembly.Assembly {
	m := &maze{a: &assembly.Assembly{Arrangement: "free", Joined: true}, kit: kit, r: r, n: map[assembly.Kind]int{}}
	for range 2 + r.IntN(3) {
		i := m.add(assembly.Tee, assembly.HomeRole, m.height())
		m.a.Parts[i].Ports = m.a.Parts[i].Ports[:1]
		m.tees = append(m.tees, i)
	}
	m.join(m.add(assembly.Main, assembly.Service, 0), 0, 0)
	for range 1 + r.IntN(2) {
		m.join(m.add(assembly.Outlet, assembly.HomeRole, m.height()), 0, r.IntN(len(m.tees)))
	}
	if r.IntN(4) > 0 {
		m.stored()
	}
	for range 1 + r.IntN(3) {
		m.between(assembly.HandValve)
	}
	for range r.IntN(3) {
		m.between(assembly.NonReturn)
	}
	if regulated {
		m.between(assembly.Regulator)
	}
	m.between(assembly.Run)
	m.settings()
	return m.a
}

func (m *maze) between(k assembly.Kind) {
	f, g := m.two()
	i := m.add(k, assembly.MainLeg, m.height())
	m.join(i, 0, f)
	m.join(i, 1, g)
}

// stored adds a store, a pump from it, its control and a float valve.
func (m *maze) stored() {
	z := m.height()
	s := m.add(assembly.Store, assembly.Storage, z)
	m.a.Parts[s].Ports, m.a.Parts[s].Count = m.a.Parts[s].Ports[:1], 1
	at := m.r.IntN(len(m.tees))
	p := -1
	if m.r.IntN(4) == 0 {
		p = m.sideBySide(s, at, z)
	} else {
		p = m.add(assembly.Pump, assembly.Boost, z)
		m.a.Joins = append(m.a.Joins, assembly.Join{A: assembly.End{Part: s}, B: assembly.End{Part: p}})
		m.join(p, 1, at)
	}
	sensor := m.add(assembly.Switch, assembly.Boost, z)
	m.join(sensor, 0, at)
	kind := [3]assembly.ControlKind{assembly.PressureSwitch, assembly.SpeedControl, assembly.FlowControl}[m.r.IntN(3)]
	m.a.Controls = append(m.a.Controls, assembly.Control{Tag: m.a.Parts[sensor].Tag, Kind: kind,
		Senses: assembly.End{Part: sensor}, Acts: m.a.Parts[p].Tag, On: 2e5, Off: 3e5})
	if m.r.IntN(2) == 0 {
		lock := m.add(assembly.Switch, assembly.MainLeg, 0)
		m.join(lock, 0, 0)
		m.a.Controls = append(m.a.Controls, assembly.Control{Tag: m.a.Parts[lock].Tag, Kind: "lock-out",
			Senses: assembly.End{Part: lock}, Acts: m.a.Parts[p].Tag, On: 1.2e5, Off: 1.8e5})
	}
	if m.r.IntN(3) > 0 {
		f := m.add(assembly.FloatValve, assembly.Feed, z+1)
		m.join(f, 0, m.r.IntN(len(m.tees)))
		if m.r.IntN(2) == 0 {
			m.a.Parts[f].Ports = m.a.Parts[f].Ports[:1]
		}
	}
}

// sideBySide adds two pumps from a store to a tee, each between its valves.
func (m *maze) sideBySide(store, to int, z quantity.Length) int {
	split := m.add(assembly.Tee, assembly.Boost, z)
	m.a.Parts[split].Ports = append([]assembly.Port(nil), m.a.Parts[split].Ports[:3]...)
	m.a.Joins = append(m.a.Joins, assembly.Join{A: assembly.End{Part: store}, B: assembly.End{Part: split}})
	m.a.Together = 1 + m.r.IntN(2)
	for k := range 2 {
		var own assembly.Set
		last := assembly.End{Part: split, Port: 1 + k}
		for _, kind := range [4]assembly.Kind{assembly.HandValve, assembly.Pump, assembly.NonReturn, assembly.HandValve} {
			i := m.add(kind, assembly.Boost, z)
			m.a.Joins = append(m.a.Joins, assembly.Join{A: last, B: assembly.End{Part: i}})
			last = assembly.End{Part: i, Port: 1}
			switch kind {
			case assembly.Pump:
				own.Pump = i
			case assembly.NonReturn:
				own.Check = i
			}
		}
		own.Valves = [2]int{own.Pump - 1, own.Check + 1}
		m.join(last.Part, 1, to)
		m.a.Sets = append(m.a.Sets, own)
	}
	return m.a.Sets[0].Pump
}

func (m *maze) settings() {
	for _, name := range [2]string{"normal", "other"} {
		set := assembly.Setting{Name: name, Positions: map[string]string{}}
		for i := range m.a.Parts {
			if list := m.a.Parts[i].Positions(); list != nil {
				set.Positions[m.a.Parts[i].Tag] = list[m.r.IntN(len(list))]
			}
		}
		m.a.Settings = append(m.a.Settings, set)
	}
}

// TestReductionsOnRandom: 300 random small assemblies, boxes against plain solving.
func TestReductionsOnRandom(t *testing.T) {
	t.Parallel()
	base, parts := kit(t)
	for k := range uint64(4) {
		t.Run(fmt.Sprintf("from %d", k*75), func(t *testing.T) {
			t.Parallel()
			compared, broken := 0, 0
			for seed := k * 75; seed < (k+1)*75; seed++ {
				c, b := reduced(t, base, parts, seed)
				compared, broken = compared+c, broken+b
			}
			t.Logf("%d cases compared, %d of them broken", compared, broken)
			if broken < compared/100 {
				t.Errorf("only %d of %d cases were broken: the assemblies are too tame to test anything", broken, compared)
			}
		})
	}
}

// reduced compares the cases of one random assembly.
func reduced(t *testing.T, base Input, parts map[assembly.Kind]assembly.Part, seed uint64) (compared, broken int) {
	t.Helper()
	r := rand.New(rand.NewPCG(seed, 4))
	a := newMaze(parts, r, seed%5 == 4)
	in := Input{Assembly: a, Job: base.Job, Profile: base.Profile, Promises: Promises()}
	var err error
	if in.Circuit, err = circuit.NewWithMishaps(a, circuit.Read(base.Job)); err != nil {
		t.Fatalf("seed %d: %v", seed, err)
	}
	return against(t, fmt.Sprint("seed ", seed), in, func(s *Space, start *box) { few(s, start, 2, 4, r) }, 3, r)
}
