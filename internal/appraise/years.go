package appraise

import (
	"context"
	"math"
	"runtime"
	"strconv"
	"sync"

	"tideover/internal/circuit"
	"tideover/internal/finding"
	"tideover/internal/outage"
	"tideover/internal/seasons"
	"tideover/internal/service"
	"tideover/internal/words"
	"tideover/internal/workers"
	"tideover/internal/years"
)

// YearsAsk is how long the years are lived through: until the share ridden out by the job's
// own store is known to Half, or Most futures are lived.
type YearsAsk struct {
	Half float64     // 0 counts as 0.02
	Most int         // 0 counts as 256
	Logs outage.Logs // of the logs the job names

	SoFar func(text string) // hears what the headline is so far, as the years go by; nil: nobody asks
	Part  func(part Part)   // hears which part of the work begins; nil: nobody asks

	// Brief lives a few futures of a few sizes and tries no change: what a pack and a page
	// are ready to wait for. Half and Most do not count then.
	Brief bool

	alone   bool // of the job's own size alone, for a remedy to be held to
	futures int  // of a brief run; 0: as many as it takes by itself
}

// Part is a part of a long run, as somebody who waits is told it (words: "run." and its name).
type Part string

// The parts, in the order they come.
const (
	PartYears    Part = "years"    // futures are lived through
	PartWater    Part = "water"    // the water is followed
	PartChanges  Part = "changes"  // what might help is lived through
	PartRemedies Part = "remedies" // remedies are held to check and to years
)

// What a brief run lives: so many futures, of so many sizes.
const (
	briefFutures = 16
	briefSizes   = 6
)

// Years is what came of living through the years.
type Years struct {
	*years.Result
	Home     *years.Home
	Brief    bool
	Idle     service.Idle // water that no age above is of
	Findings []finding.Finding
}

// LiveThrough lives through years of a job's household and supply, on all cores, and reads
// the odds off them. tell, if not nil, hears of the futures lived. The same job, log and
// seed give the same answer on any number of cores. The error is a fault of the input, or
// the context's.
func LiveThrough(ctx context.Context, in Input, ask YearsAsk, tell func(done, total int)) (*Years, error) {
	a := &Appraisal{Doc: in.Doc, Job: in.Job, Profile: in.Profile}
	if _, err := layOut(in, a, false); err != nil {
		return nil, err
	}
	ci, err := circuit.New(a.Assembly, in.figures())
	if err != nil {
		return nil, err
	}
	home, err := years.Make(in.Job, a.Assembly, ci, in.Catalogue, in.Profile, ask.Logs, gets(in, a.Assembly, ci))
	if err != nil {
		return nil, err
	}
	if ask.Half <= 0 {
		ask.Half = 0.02
	}
	if ask.Most <= 0 {
		ask.Most = 256
	}
	least := 0
	if ask.Brief {
		if home.Thin(briefSizes); ask.alone {
			home.Alone()
		}
		if least = briefFutures; home.Busy() {
			least /= 2
		}
		if ask.futures > 0 {
			least = ask.futures
		}
		ask.Most = least
	}
	whole := tell
	if tell != nil && !ask.Brief { // what is tried afterwards takes as long again
		tell = func(done, total int) { whole(done, 2*total) }
	}
	old := longAges
	if ask.Brief {
		old = briefAges
	}
	run := yearsRun{ctx, home, old, seasons.Ask{Measure: seasons.RideThrough, Store: home.Own, Half: ask.Half, Least: least, Most: ask.Most}, tell, ask.SoFar, ask.Part}
	answer, fresh, effort, err := run.of(home.Input)
	if err != nil {
		return nil, err
	}
	ceiling := math.Inf(1)
	if rule := in.Profile.Rule("turnover-look"); rule.Set {
		ceiling = rule.Value
	}
	y := &Years{Home: home, Brief: ask.Brief}
	if y.Result, err = home.Read(ctx, answer, fresh, ceiling); err != nil {
		return nil, err
	}
	y.Ages = effort
	if y.Idle, err = service.IdleIn(ci, service.Read(in.Job, a.Assembly, in.Catalogue, in.Profile)); err != nil {
		return nil, err
	}
	if rule := in.Profile.Rule("turnover-fix"); rule.Set {
		y.Stale = rule.Value
	}
	hopeless := answer.Hopeless() != nil // then nothing that could be done at the store helps
	if y.Window == nil && !ask.Brief && !hopeless {
		if err := run.open(y.Result, ceiling, whole); err != nil {
			return nil, err
		}
	}
	if !ask.Brief && !hopeless {
		if err := run.habits(y.Result); err != nil {
			return nil, err
		}
		y.Tails = home.Tails(answer)
	}
	if whole != nil {
		whole(1, 1)
	}
	y.Findings = years.Findings(y.Result, in.Job.System())
	for i := range y.Findings {
		if f := &y.Findings[i]; f.ID == "water-age" { // the one whose limit is the profile's
			f.Standing = in.Profile.Rule("turnover-look").Standing.ID()
		}
	}
	cite(in, y.Findings)
	finding.Order(y.Findings)
	return y, nil
}

// yearsRun fans one run out over the cores.
type yearsRun struct {
	ctx  context.Context
	home *years.Home
	old  agesAsk
	ask  seasons.Ask
	tell func(done, total int)
	far  func(text string)
	part func(Part)
}

// begins tells which part begins.
func (r *yearsRun) begins(p Part) {
	if r.part != nil {
		r.part(p)
	}
}

// say tells the headline so far.
func (r *yearsRun) say(g *seasons.Gather) {
	if r.far == nil || g.Next() < 2 {
		return
	}
	a := g.Answer()
	r.far(words.Say("store.so-far", words.Args{"odds": odds(ten(&a.Stores[r.ask.Store], seasons.RideThrough)), "years": strconv.Itoa(int(a.Years))}))
}

// of lives through an input, and follows the water of its stores.
func (r *yearsRun) of(in *seasons.Input) (*seasons.Answer, []years.Fresh, years.Effort, error) {
	r.begins(PartYears)
	answer, err := r.lives(in)
	if err != nil {
		return nil, nil, years.Effort{}, err
	}
	if answer.Hopeless() != nil { // how old water gets that is not there matters little
		r.old = briefAges
	}
	r.begins(PartWater)
	fresh, effort, err := r.ages(in, answer, nil)
	return answer, fresh, effort, err
}

// lives lives through an input until its headline is narrow enough.
func (r *yearsRun) lives(in *seasons.Input) (*seasons.Answer, error) {
	ctx, cancel := context.WithCancel(r.ctx)
	defer cancel()
	g := seasons.NewGather(in, r.ask)
	var mu sync.Mutex
	var first error
	given := 0
	var wg workers.Group
	for range runtime.GOMAXPROCS(0) {
		w, err := seasons.NewWorker(in)
		if err != nil {
			return nil, err
		}
		wg.Go(func() {
			for {
				mu.Lock()
				if g.Done() || first != nil {
					mu.Unlock()
					return
				}
				k := given
				given++
				mu.Unlock()
				t, err := w.Chunk(ctx, uint32(k), nil, 0)
				mu.Lock()
				if err != nil {
					if first == nil && !g.Done() {
						first = err
					}
				} else if g.Add(k, t); g.Done() {
					cancel()
				} else if r.tell != nil {
					r.tell(g.Next(), r.ask.Most)
					r.say(g)
				}
				mu.Unlock()
			}
		})
	}
	wg.Wait()
	if first != nil {
		return nil, first
	}
	if r.tell != nil {
		r.tell(r.ask.Most, r.ask.Most)
	}
	return g.Answer(), nil
}

// openFutures is how many futures each change is lived through: enough to see whether it
// opens a window, on the same outages as the others.
const openFutures = 16

// open tries what might open a window where there is none.
func (r *yearsRun) open(res *years.Result, ceiling float64, tell func(done, total int)) error {
	list, err := r.home.Variants()
	if err != nil {
		return err
	}
	r.begins(PartChanges)
	try := *r
	n := min(openFutures, r.ask.Most)
	try.tell, try.far, try.old, try.ask.Least, try.ask.Most = nil, nil, briefAges, n, n
	one := func(v *seasons.Variant, answer *seasons.Answer) (years.Opened, error) {
		fresh, _, err := try.ages(v.Input, answer, years.EnoughOnes(answer, res.Own))
		if err != nil {
			return years.Opened{}, err
		}
		o := years.Opened{ID: v.ID, Uses: v.Uses, Every: v.Every, Window: years.WindowOf(answer, fresh, ceiling),
			Share: answer.Stores[res.Own].By[seasons.RideThrough], Age: fresh[res.Own].Mean, Futures: answer.Futures}
		if o.Window == nil && years.Nearly(answer, fresh, ceiling) { // more years say whether it does
			if o.Window, err = try.nearer(v.Input, fresh, ceiling, min(nearFutures, r.ask.Most)); err != nil {
				return o, err
			}
		}
		return o, nil
	}
	inputs := []*seasons.Input{r.home.Input}
	for i := range list {
		inputs = append(inputs, list[i].Input)
	}
	answers, err := try.together(inputs, tell)
	if err != nil {
		return err
	}
	if res.AsIs, err = one(&seasons.Variant{Input: r.home.Input}, answers[0]); err != nil {
		return err
	}
	for i := range list {
		if tell != nil {
			tell(3*len(list)+i, 4*len(list))
		}
		o, err := one(&list[i], answers[1+i])
		if err != nil {
			return err
		}
		res.Opens = append(res.Opens, o)
	}
	pairs := res.Pairs()
	inputs = inputs[:0]
	for _, p := range pairs {
		inputs = append(inputs, list[p[0]].And(&list[p[1]]).Input)
	}
	if answers, err = try.together(inputs, nil); err != nil {
		return err
	}
	for k, p := range pairs {
		o, err := one(&seasons.Variant{ID: "both", Input: inputs[k]}, answers[k])
		if err != nil {
			return err
		}
		o.Both = []years.Opened{res.Opens[p[0]], res.Opens[p[1]]}
		res.Opens = append(res.Opens, o)
		if o.Window != nil {
			break // the mildest that opens one is enough
		}
	}
	return nil
}

// What those who show the years need by name.
type (
	// Strips are the times at which something was so.
	Strips = years.Strips
	// Spell is one of them.
	Spell = years.Spell
	// Logs are the bytes of the logs of interruptions and of power cuts a job names.
	Logs = outage.Logs
)

// RideThrough is the measure of the headline: the share of interruptions ridden out.
const RideThrough = seasons.RideThrough
