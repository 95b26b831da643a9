package appraise

import (
	"context"
	"slices"
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/base"
	"tideover/internal/catalogue"
	"tideover/internal/commission"
	"tideover/internal/consent"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/power"
	"tideover/internal/quantity"
	"tideover/internal/service"
	"tideover/internal/store"
	"tideover/internal/takeoff"
)

// ReadPrices takes the user's price list, a CSV, into the input.
func (in *Input) ReadPrices(name string, csv []byte) (err error) {
	in.Prices, in.Currency, err = takeoff.ReadPrices(name, csv, in.Catalogue)
	return err
}

// Run appraises a job: everything is worked out and judged, each figure gets its spread,
// and remedies are tried. tell, if not nil, hears of progress. The error is a fault of
// the input (an assembly that cannot be laid out, a circuit that cannot be solved) or
// the context's.
func Run(ctx context.Context, in Input, tell func(done, total int)) (*Appraisal, error) {
	if ctx == nil {
		ctx = context.Background()
	}
	in = in.Within(ctx)
	var lived func() error
	var proved func() ([]finding.Finding, error)
	base := in
	base.made = func(a *Appraisal) { lived, proved = live(in, a), proofOf(ctx, in, a, tell) }
	a, err := evaluate(base, true)
	if err != nil {
		return nil, err
	}
	again, err := rerun(ctx, in, a, tell)
	if err != nil {
		return nil, err
	}
	again.spread()
	handed := handedOver(in, a)
	handed.Drawn = again.figures
	a.HandOver = commission.Work(handed) // once more: readings take the spread of their figures
	if err := lived(); err != nil {
		return nil, err
	}
	promises, err := proved()
	if err != nil {
		return nil, err
	}
	a.Findings = append(a.Findings, beside(a.Findings, promises)...)
	if err := again.offer(ctx, in); err != nil {
		return nil, err
	}
	cite(in, a.Findings)
	finding.Order(a.Findings)
	a.Verdict = finding.Overall(a.Findings)
	return a, nil
}

// stage is the place of an analysis in the list.
type stage int

// The stages that some fields are first felt in.
const (
	laying  stage = iota // what is built
	serving              // what it gives
	keeping              // what the store does
)

// feltFrom lists the fields that the first analyses take no notice of; a path that ends in
// a dot stands for all below it. Every other is felt from the first.
var feltFrom = map[string]stage{
	"choices.store.exercise":     keeping,
	"choices.store.exercise-for": keeping,
	"home.use":                   serving,
	"home.use-rationed":          serving,
	"place.water":                serving,
	"supply.static":              serving,
	"supply.gauge-height":        serving,
	"supply.flow-test.":          serving,
	"supply.peak.":               serving,
	"supply.night-maximum":       serving,
	job.HabitPath:                keeping,
	"interruptions.notice-lasts": serving,
	"place.altitude":             serving,
	"place.slope":                keeping,
	"choices.vessel.charge":      serving,
	lossFactor:                   serving,
	pumpFactor:                   serving,
	floatFactor:                  serving,
	outletFactor:                 serving,
}

// firstFelt is the first analysis that any of the paths can change.
func firstFelt(paths []string) stage {
	first := keeping
	for _, path := range paths {
		first = min(first, feltFrom[feltAs(path)]) // laying where it is not listed
	}
	return first
}

// feltAs is the entry of feltFrom that a path falls under, or "".
func feltAs(path string) string {
	for field := range feltFrom {
		if path == field || strings.HasSuffix(field, ".") && strings.HasPrefix(path, field) {
			return field
		}
	}
	return ""
}

// analyses is what runs again whenever a figure moves, as a list. Each fills its part of the
// appraisal and returns the findings read off it; record keeps the calculations (the base run
// only).
var analyses = []func(in Input, a *Appraisal, record bool) ([]finding.Finding, error){
	layOut,
	serve,
	keep,
	bear,
}

// once is what follows them once for each home: figures that move do not ask for it again.
var once = []func(in Input, a *Appraisal) ([]finding.Finding, error){
	drive,
	dose,
	ask,
	gate,
	handOver,
}

// usual is how many findings a home has, about; only for room.
const usual = 144

// evaluate runs every analysis once, without spread or remedies.
func evaluate(in Input, record bool) (*Appraisal, error) {
	a := &Appraisal{Doc: in.Doc, Job: in.Job, Profile: in.Profile, Sources: in.Catalogue.Sources,
		Findings: slices.Grow(in.room, usual), ends: make([]int, 0, len(analyses)+len(once))}
	if in.base != nil && in.from > laying {
		a.take(in.base, in.from)
	}
	for at, run := range analyses {
		if at < len(a.ends) {
			continue
		}
		if in.unserved && stage(at) == serving || in.until > laying && stage(at) > in.until {
			a.ends = append(a.ends, len(a.Findings))
			continue
		}
		if err := in.ended(); err != nil {
			return nil, err
		}
		found, err := run(in, a, record)
		if err != nil {
			return nil, err
		}
		a.Findings = append(a.Findings, found...)
		a.ends = append(a.ends, len(a.Findings))
	}
	if !record {
		return a, nil
	}
	a.Buying = takeoff.Make(a.Assembly, in.Catalogue, in.Prices, in.Currency)
	return a, a.follow(in)
}

// follow adds what is worked out once for each home.
func (a *Appraisal) follow(in Input) error {
	for _, run := range once {
		if err := in.ended(); err != nil {
			return err
		}
		found, err := run(in, a)
		if err != nil {
			return err
		}
		a.Findings = append(a.Findings, found...)
		a.ends = append(a.ends, len(a.Findings))
	}
	return nil
}

// take takes over what the analyses before a stage made of the base run.
func (a *Appraisal) take(base *Appraisal, from stage) {
	a.Assembly = base.Assembly
	if from > serving {
		a.circuit, a.Service = base.circuit, base.Service
	}
	a.ends = append(a.ends, base.ends[:from]...)
	a.Findings = append(a.Findings, base.Findings[:a.ends[from-1]]...)
}

// layOut builds the assembly.
func layOut(in Input, a *Appraisal, _ bool) ([]finding.Finding, error) {
	built, err := in.build()
	a.Assembly = built
	if err != nil {
		return nil, err
	}
	found, err := plated(in.Job, built)
	if in.shares() && built.SharesSettings(in.base.Assembly) {
		return append(append(found, frosted(in.Job, built, true)...), in.base.joined...), err
	}
	found = append(found, frosted(in.Job, built, false)...)
	a.joined = joined(in.Job, built)
	return append(found, a.joined...), err
}

// build lays out the job: in a rerun for spread like the base run's.
func (in Input) build() (*assembly.Assembly, error) {
	if in.shares() {
		return assembly.BuildLike(in.base.Assembly, in.Job, in.Catalogue, in.Profile)
	}
	return assembly.Build(in.Job, in.Catalogue, in.Profile)
}

// shares reports whether a run may take over what follows from how the base run's parts are joined.
func (in Input) shares() bool { return in.moving && in.base != nil }

// joined judges what follows from how the parts are joined, whatever their figures.
func joined(j *job.Job, built *assembly.Assembly) []finding.Finding {
	var found []finding.Finding
	for _, i := range built.Reversed() {
		f := finding.New("check-reversed", built.Parts[i].Tag, "")
		f.Verdict = finding.MustFix
		found = append(found, f)
	}
	found = append(found, untestable(j, built)...)
	if len(built.Unplaced) == 0 {
		return found
	}
	f := finding.New("existing-unplaced", "", "")
	f.Verdict = finding.LookAt
	f.Name("parts", strings.Join(built.Unplaced, ", "))
	return append(found, f)
}

// serve works out what every outlet gets.
func serve(in Input, a *Appraisal, record bool) ([]finding.Finding, error) {
	ci, err := in.circuit(a.Assembly)
	if err != nil {
		return nil, err
	}
	a.circuit = ci
	if in.made != nil {
		in.made(a)
	}
	given := service.Read(in.Job, a.Assembly, in.Catalogue, in.Profile)
	given.Record, given.AtOnce, given.Near = record, in.atOnce, in.starts
	given.Unwitnessed, given.Ended, given.Only = in.moving, in.ended, in.only
	if a.Service, err = service.Analyse(ci, given); err != nil {
		return nil, err
	}
	from := len(a.Findings)
	a.Findings = service.Findings(a.Findings, a.Service, service.Context{
		Job: in.Job, Assembly: a.Assembly, Catalogue: in.Catalogue, Profile: in.Profile, Bare: !record})
	if in.moving {
		return nil, nil
	}
	return nil, doubtSag(in, a, given, from)
}

// keep works out what the store does for the home.
func keep(in Input, a *Appraisal, record bool) ([]finding.Finding, error) {
	c := store.Context{Job: in.Job, Assembly: a.Assembly, Profile: in.Profile, Rows: in.Catalogue, Drawn: in.moving}
	if record {
		c.Work = &store.Work{}
	}
	comes, err := inflow(in, a)
	if err != nil {
		return nil, err
	}
	given, ok := store.Read(in.Job, a.Assembly, in.Profile, comes)
	if !ok {
		a.Findings = store.Separation(a.Findings, c)
		return nil, nil
	}
	a.Store = store.Analyse(given, c.Work)
	from := len(a.Findings)
	a.Findings = store.Findings(a.Findings, a.Store, c)
	return nil, doubtRefill(in, a, c, from)
}

// inflow is what fills the store as the main stands: by what it gives, or, where a rerun did not
// work that out again, by the base run's; by itself where the carry time hangs on it there.
func inflow(in Input, a *Appraisal) (*service.Inflow, error) {
	switch {
	case a.Service != nil:
		return &a.Service.Inflow, nil
	case in.base == nil || in.base.Service == nil:
		return nil, nil
	case in.base.Store == nil || in.base.Store.Row == nil:
		return &in.base.Service.Inflow, nil
	}
	ci, err := in.circuit(a.Assembly)
	if err != nil {
		return nil, err
	}
	given := service.Read(in.Job, a.Assembly, in.Catalogue, in.Profile)
	given.Unwitnessed, given.Ended = in.moving, in.ended
	f, err := service.Inflows(ci, given)
	return &f, err
}

// bear works out what the stores stand on.
func bear(in Input, a *Appraisal, record bool) ([]finding.Finding, error) {
	if a.Store == nil {
		return nil, nil
	}
	a.Base = base.Analyse(in.Job, a.Assembly, in.Catalogue, base.Inputs{
		Mass: a.Store.Mass, Header: a.Store.HeaderMass, Raised: consent.Raised(in.Job), Local: in.Profile.Rule("bearing")})
	a.Findings = base.Findings(a.Findings, a.Base, in.Catalogue, !record)
	return nil, nil
}

// drive works out what the pump takes of what feeds it: once, for nothing in it is judged
// against the home.
func drive(in Input, a *Appraisal) ([]finding.Finding, error) {
	var given power.Inputs
	if a.Store != nil {
		given.Daily = a.Store.Daily
	}
	for i := range a.Service.Modes {
		m := &a.Service.Modes[i]
		if d := m.Duty; d != nil && m.Same == "" && len(given.Duty) == 0 && d.Flow > 0 {
			each := 1 / float64(max(1, d.Pumps))
			given.Duty = append(given.Duty, power.Point{Flow: quantity.Flow(each * float64(d.Flow)), Speed: d.Speed, Power: quantity.Power(each * float64(d.Power))})
			for k := range m.Alone {
				if t := &m.Alone[k]; t.Certified && t.Pumped > 0 {
					given.Taps = append(given.Taps, power.Point{Flow: t.Pumped, Speed: t.Speed})
				}
			}
		}
	}
	a.Power = power.Analyse(in.Job, a.Assembly, given)
	battery := in.Job.Power.Battery == job.Wanted || in.Job.Power.Battery == job.Yes
	return power.Findings(nil, a.Power, battery), nil
}

// handOver works out what is read and done when the work is handed over.
func handOver(in Input, a *Appraisal) ([]finding.Finding, error) {
	c := handedOver(in, a)
	a.HandOver = commission.Work(c)
	return commission.Findings(a.HandOver, c), nil
}

func handedOver(in Input, a *Appraisal) commission.Context {
	c := commission.Context{Job: in.Job, Assembly: a.Assembly, Profile: in.Profile, Service: a.Service, Findings: a.Findings}
	if a.Power != nil {
		c.Current, c.Plate = commission.Span(a.Power.Taps), a.Power.Lacks
	}
	return c
}

// cite turns the source keys of each finding into the citations behind them.
func cite(in Input, list []finding.Finding) {
	for i := range list {
		switch f := &list[i]; {
		case f.Standing != "":
		case f.Source == "trade":
			f.Standing = catalogue.Ours.ID()
		case f.ID == "bearing" && f.Source != "":
			f.Standing = presumed(in, f.Source).ID()
		}
		list[i].Source = in.Catalogue.Cite(list[i].Source)
	}
}

// presumed is what a table of soils is to the place: the profile's own where that cites one of
// its clauses, else borrowed.
func presumed(in Input, sources string) catalogue.Standing {
	rule := in.Profile.Rule("bearing")
	if rule.Set && slices.Contains(strings.Split(sources, ";"), rule.Source) {
		return rule.Standing
	}
	return catalogue.Borrowed
}

// gate lists who must sign before work starts.
func gate(in Input, a *Appraisal) ([]finding.Finding, error) {
	a.Gate = consent.Ask(in.Job, a.Assembly, in.Profile)
	return consent.Findings(a.Gate), nil
}
