package web

import (
	"context"
	"math"
	"net/http"
	"strconv"
	"time"

	"tideover/internal/appraise"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/pack"
	"tideover/internal/quantity"
)

// yearsRun is years being lived through for a job, or lived. It stays in memory.
type yearsRun struct {
	longRun
	full  bool // until the share ridden out is known well, and with what might help tried
	job   *job.Job
	far   string // the headline so far
	part  appraise.Part
	clock func() time.Time // tells who waits how long it takes; no figure hangs on it
	begun time.Time
	years *appraise.Years
}

// mostLived is how many answers are kept; the oldest makes room.
const mostLived = 4

// logLimit is the largest outage log that is read.
const logLimit = 16 << 20

// yearsView is the page of a job's years.
type yearsView struct {
	jobView
	Stage    runStage
	Told     string
	SoFar    string
	Percent  int
	Why      string
	Old      bool // the file was changed since
	Full     bool
	Tables   []sizesView
	Findings []findingView
	Charts   []chartView
	Rests    []string
}

// years shows how far the years are, and what they say.
func (p *Pages) years(w http.ResponseWriter, r *http.Request) {
	d := p.on(w, r)
	if d == nil {
		return
	}
	k := p.lives.get(d.name)
	if k != nil {
		k.follow(r)
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	v := yearsView{jobView: d.aboutJob(p.frame(r, ""), "years", say("web.years"))}
	v.Notes = d.notes()
	if k != nil {
		v.tell(d, k)
	}
	show(w, r, http.StatusOK, "years", v)
}

// tell fills in how far a run is, and its answer. The desk is locked.
func (v *yearsView) tell(d *desk, k *yearsRun) {
	running := k.running()
	k.mu.Lock()
	defer k.mu.Unlock()
	v.Stage, v.Why, v.Percent, v.Old, v.Full = k.stage, k.why, 5*k.share, k.of != revision(d.src), k.full
	v.Told = say("web.years.stage."+string(k.stage), "share", quantity.Fixed(float64(v.Percent), 0))
	if k.stage == runStopped && k.far == "" {
		v.Told = say("web.years.stage.stopped-early")
	}
	if k.stage == runWorks && k.part != "" {
		v.Told = say("web.years.works", "part", say("run."+string(k.part)), "share", quantity.Fixed(float64(v.Percent), 0), "left", k.left())
	}
	if v.SoFar = k.far; k.stage == runDone {
		v.SoFar = ""
	}
	if running {
		v.Wait = d.url() + "/years?after=" + strconv.Itoa(k.tick)
	}
	if k.stage == runDone {
		v.answer(k)
	}
}

// left says how long a run that takes more than a minute in all still takes, from what it took so far;
// nothing before a tenth is done. The run is locked.
func (k *yearsRun) left() string {
	so := k.clock().Sub(k.begun)
	if k.share < 2 || so*20/time.Duration(k.share) < time.Minute {
		return ""
	}
	rest := so * time.Duration(20-k.share) / time.Duration(k.share)
	return say("web.years.left", "minutes", strconv.Itoa(int(math.Ceil(rest.Minutes()))))
}

// answer is what the years say.
func (v *yearsView) answer(k *yearsRun) {
	y, sys := k.years, k.job.System()
	for _, t := range y.Tables(sys) {
		v.Tables = append(v.Tables, sizesOf(&t))
	}
	for i := range y.Findings {
		f := &y.Findings[i]
		one := findingView{ID: findingID(f), Verdict: f.Verdict.ID(), Word: say("verdict." + f.Verdict.ID())}
		one.Title, one.Sentence = finding.Text(f, sys)
		v.Findings = append(v.Findings, one)
	}
	for _, c := range pack.YearsCharts(k.job, y) {
		v.Charts = append(v.Charts, chartOf(&c))
	}
	v.Rests = y.Told(sys)
}

// sizesView is a table of the sizes, and what its columns count.
type sizesView struct {
	ID, Title string
	Head, Are []string // of each column: its name, what it counts
	Rows      []appraise.YearsRow
}

func sizesOf(t *appraise.YearsTable) sizesView {
	v := sizesView{ID: t.ID, Title: say("years.table." + t.ID), Rows: t.Rows}
	for _, id := range t.Columns {
		v.Head, v.Are = append(v.Head, say("years.col."+id)), append(v.Are, say("years.means."+id))
	}
	return v
}

// liveYears begins a run; one that is under way goes on.
func (p *Pages) liveYears(w http.ResponseWriter, r *http.Request) {
	d := p.on(w, r)
	if d == nil || !p.form(w, r) {
		return
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.appraisal == nil {
		p.troubled(w, r, http.StatusUnprocessableEntity, say("web.years.not-yet"))
		return
	}
	p.startYears(d, r.PostFormValue("full") != "")
	goTo(w, r, d.url()+"/years")
}

// startYears lives through the years of a desk's state in the background. The desk is locked.
func (p *Pages) startYears(d *desk, full bool) {
	if k := p.lives.get(d.name); k != nil && k.running() {
		return
	}
	ctx, cancel := context.WithCancel(p.ctx)
	k := &yearsRun{full: full, job: d.input.Job, clock: time.Now}
	k.begin(revision(d.src), cancel)
	p.lives.put(d.name, k)
	in := d.input
	go p.guarded(func() {
		defer cancel()
		p.lifeOf(ctx, k, in)
	}, k.fail)
}

// lifeOf lives through the years of one order.
func (p *Pages) lifeOf(ctx context.Context, k *yearsRun, in appraise.Input) {
	y, err := p.live(ctx, k, in)
	switch {
	case ctx.Err() != nil:
		k.move(func() { k.stage = runStopped })
	case err != nil:
		k.fail(err)
	default:
		k.move(func() { k.stage, k.years = runDone, y })
	}
}

func (p *Pages) live(ctx context.Context, k *yearsRun, in appraise.Input) (*appraise.Years, error) {
	if k.full {
		leave, err := p.chair.wanted(ctx)
		if err != nil {
			return nil, err
		}
		defer leave()
	}
	k.move(func() { k.begun = k.clock() })
	k.tell(0, 1)
	logs, err := p.outageLogs(in.Job)
	if err != nil {
		return nil, err
	}
	return appraise.LiveThrough(ctx, in, appraise.YearsAsk{Brief: !k.full, Logs: logs, SoFar: func(text string) {
		k.mu.Lock()
		k.far = text
		k.mu.Unlock()
	}, Part: func(part appraise.Part) { k.move(func() { k.part = part }) }}, k.tell)
}

// outageLogs reads the logs a job names from its folder.
func (p *Pages) outageLogs(j *job.Job) (logs appraise.Logs, err error) {
	for _, x := range []struct {
		name string
		to   *[]byte
	}{{j.Interruptions.Log, &logs.Water}, {j.Interruptions.PowerLog, &logs.Power}} {
		if x.name != "" && err == nil {
			*x.to, err = p.folder.Beside(x.name, logLimit)
		}
	}
	return logs, err
}

// withYears adds years to an appraisal of a state of the file: those lived for its page, or
// a short run.
func (p *Pages) withYears(ctx context.Context, in appraise.Input, a *appraise.Appraisal, name, of string, tell func(done, total int)) (*appraise.Appraisal, error) {
	if a.Years != nil || a.Unlived != nil {
		return a, nil
	}
	logs, err := p.outageLogs(in.Job)
	if err != nil {
		return a.Take(nil, err), nil
	}
	if k := p.lives.get(name); k != nil && k.of == of {
		k.mu.Lock()
		y := k.years
		k.mu.Unlock()
		if y != nil {
			return a.HoldTo(ctx, in, y, logs)
		}
	}
	return appraise.AddYears(ctx, in, a, logs, tell)
}

// stopYears stops a run.
func (p *Pages) stopYears(w http.ResponseWriter, r *http.Request) {
	d := p.on(w, r)
	if d == nil || !p.form(w, r) {
		return
	}
	if k := p.lives.get(d.name); k != nil {
		k.halt(r.Context())
	}
	goTo(w, r, d.url()+"/years")
}
