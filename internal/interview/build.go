package interview

import (
	"context"
	"fmt"
	"math"

	"tideover/internal/appraise"
	"tideover/internal/assembly"
	"tideover/internal/calc"
	"tideover/internal/catalogue"
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// Draft is a job made of answers.
type Draft struct {
	Source    []byte
	Notes     []Note              // why a field has its value, in the order of the file
	Changed   []job.Edit          // what the check put right in the first choices
	Appraisal *appraise.Appraisal // of the job as it is now
}

// Build makes the job file of the answers, checks it and puts the choices right. The error
// is a *Fault (an answer that cannot be read), a *Conflict (answers that no design meets),
// or the context's.
func (v *Interview) Build(ctx context.Context, a Answers) (*Draft, error) {
	f, err := v.read(a)
	if err != nil {
		return nil, err
	}
	plan, err := v.plan(f)
	if err != nil {
		return nil, err
	}
	out := v.write(f, plan)
	doc, faults := appraise.ReadDoc(v.rows, "interview", []byte(out.b.String()))
	if len(faults) > 0 {
		return nil, fmt.Errorf("interview: the file it made cannot be read: %w", faults)
	}
	d := &Draft{Notes: out.notes}
	return d, v.settle(ctx, plan, doc, d)
}

// plan is the first choice of everything that is bought.
type plan struct {
	arrangement string
	store       catalogue.Store
	tanks       int
	level       float64 // of the store's base above the ground at the meter [m]
	highest     float64 // it may stand, of a store that feeds the home by its height [m]
	pumps       []catalogue.Pump
	set         float64 // pressure held at the pump [Pa]
	float       string
	indoors     string
	outdoors    string
}

// plan sizes by published rules; what they leave out the check finds.
func (v *Interview) plan(f *facts) (*plan, error) {
	p := &plan{indoors: "multilayer 26", outdoors: "PE100-SDR11 32"}
	if f.sys == quantity.US {
		p.indoors, p.outdoors = "copper-L 3/4", "copper-L 1"
	}
	if err := v.possible(f); err != nil {
		return nil, err
	}
	daily := float64(f.whole("people")) * v.each(f)
	stop := 0.0
	if f.text("fails") != "never" {
		stop = f.si("longest", quantity.TimeDim)
	}
	want := (*calc.Sheet)(nil).Eval(storeEq, float64(f.whole("people")), v.each(f)/86400, rationed, stop)
	want = math.Max(want, 0.2)
	want = math.Min(want, freshDays*daily)
	var ok bool
	if p.store, p.tanks, ok = v.tanks(want, f.si("door", quantity.LengthDim), f.sys); !ok {
		return nil, v.fight("ask.conflict.door", "door")
	}
	if f.text("pump") == "no" {
		if err := v.raised(f, p); err != nil {
			return nil, err
		}
		main, _, _ := f.pressure()
		p.float = v.floatFor(main-(p.level+float64(p.store.Inlet))*circuitWeight, want)
		return p, nil
	}
	home := f.si("rise", quantity.LengthDim)
	p.level = home
	if f.text("place") == "roof" {
		p.level = home + float64(f.storeys())*storey + roofOver
	}
	lift := math.Max(home+f.highest()-p.level-float64(p.store.Outlet), 0)
	p.set = math.Max((lift*circuitWeight+drawn)*(1+lost), 1.8e5)
	p.pumps = v.pumps(0.3e-3+0.05e-3*float64(f.whole("bathrooms")), p.set/circuitWeight+2)
	main, _, _ := f.pressure()
	p.float = v.floatFor(main/2, want)
	p.arrangement = assembly.ThroughStore
	return p, nil
}

// freshDays is how many days of use a store may hold and still be drawn afresh in time.
const freshDays = 4.5

// circuitWeight is the pressure of a metre of water. [Pa/m]
const circuitWeight = float64(quantity.StandardDensity * quantity.StandardGravity)

// floatFor is the smallest seat that refills so much water [m³] overnight at what is left
// of the main's pressure where the store stands [Pa]: half of it, on the ground.
func (v *Interview) floatFor(left, want float64) string {
	best, kv := "", 0.0
	for _, key := range v.rows.Keys("floats") {
		row := v.rows.Floats[key]
		flow := float64(row.Kv) * math.Sqrt(math.Max(left, 0)/1e5)
		enough := flow*fillIn >= want
		switch k := float64(row.Kv); {
		case enough && (best == "" || k < kv || kv < 0), !enough && best == "":
			best, kv = key, k
		}
	}
	return best
}

// possible refuses answers that no design can meet, before anything is sized.
func (v *Interview) possible(f *facts) error {
	if f.told("budget") && f.whole("budget") == 0 {
		return v.fight("ask.conflict.budget", "budget")
	}
	if f.text("also") != "none" {
		return v.fight("ask.conflict.also", "also")
	}
	return nil
}

func (v *Interview) fight(id string, questions ...string) *Conflict {
	return &Conflict{Fight: questions, ID: id, Args: words.Args{"answers": v.names(questions...)}}
}

func (c *Conflict) with(place, text string) *Conflict {
	c.Args[place] = text
	return c
}
