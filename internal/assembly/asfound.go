package assembly

import (
	"tideover/internal/catalogue"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// NextDoor is the tag of the tap that stands for a neighbour on the same service pipe.
const NextDoor = "next-door"

// HouseTap is the tag of the wide-open tap at which the house was tested.
const HouseTap = "house-tap"

// Incoming lays what stands between street and house as it was found: main, meter, stop
// valve, service run, the house's stop valve, and a wide-open tap at height z, which is
// where the water would stand in a pipe put on the gauge: what runs out there is what ran
// in the test. Half-way along the run a tap, shut unless a case opens it, stands for a
// neighbour on the same pipe; draws is what it would take at 3 bar.
func Incoming(j *job.Job, c *catalogue.Catalogue, p *catalogue.Profile, z quantity.Length, draws quantity.Flow) (*Assembly, error) {
	b := found(j, c, p, "incoming")
	s := &j.Supply
	l := entry(b)
	bends := b.bends()
	half := func(z quantity.Length, elbows int) {
		i := l.run(AsServiceRun, "supply.service.length", s.Pipe, s.Length.V/2, z, elbows, nil)
		b.a.Parts[i].Kept = true
	}
	half(b.hand()/2, bends/2)
	b.mouth(l.on(Service, l.tee(AsServiceTee)), NextDoor, draws)
	half(b.hand(), bends-bends/2)
	l.ball(AsServiceStop)
	l.z = z
	b.mouth(l, HouseTap, wide)
	b.settings(turned{"on-main", nil})
	return b.done()
}

// wide is what a tap without any resistance worth the name lets out at 3 bar. [m³/s]
const wide quantity.Flow = 1

// Direct lays the home as the main feeds it by itself, without any store.
func Direct(j *job.Job, c *catalogue.Catalogue, p *catalogue.Profile) (*Assembly, error) {
	b := found(j, c, p, "direct")
	l := service(b, 0)
	home(l, 0)
	b.settings(turned{"on-main", nil})
	return b.done()
}

// found begins a layout of what is there: nothing the fitter chose counts.
func found(j *job.Job, c *catalogue.Catalogue, p *catalogue.Profile, name string) *build {
	as := j.Clone()
	as.Choices.Backflow, as.Choices.Expansion, as.Added = "none", "none", nil
	return &build{job: as, rows: c, law: p, a: &Assembly{Arrangement: name, Assumed: j.Assumed}, tags: map[byte]int{}}
}

func (b *build) done() (*Assembly, error) {
	b.bushes()
	if len(b.faults) > 0 {
		return nil, b.faults
	}
	return b.a, nil
}

// mouth lays an open end that lets out so much at 3 bar.
func (b *build) mouth(l *line, tag string, at3bar quantity.Flow) {
	size := quantity.Size{Family: "thread", Mark: l.thread()}
	l.put(Part{Tag: tag, Kind: Outlet, Purpose: AsOutlet, Row: catalogue.Outlet{At3Bar: at3bar}, Size: size, Ports: threaded(size, "in"), Kept: true}, 0)
}

// Drip is the least a tap can be said to draw at 3 bar, so that it stays a tap. [m³/s]
const Drip quantity.Flow = 1e-7
