package web

import (
	"context"
	"fmt"
	"net/http"
	"strconv"
	"strings"
	"time"

	"tideover/examples"
	"tideover/internal/appraise"
	"tideover/internal/finding"
	"tideover/internal/shelf"
)

// shelfView is the folder's jobs.
type shelfView struct {
	frame
	Folder  string
	Jobs    []jobLine
	Trash   []shelf.Thrown
	Unshown []string // files called job files that cannot be listed
	Example bool     // nothing is there yet: one is offered
	Wait    string
}

// jobLine is one job on the shelf.
type jobLine struct {
	File, URL string
	Name      string
	Address   string
	People    string // how many, and how they are supplied
	Verdict   string
	Headline  string
	Changed   time.Time
}

// glimpse is what the shelf knows of a job without opening it.
type glimpse struct {
	revision       string
	name, people   string
	address        string
	verdict, words string
	sure           bool // the promises were tried
}

// shelf is the first page.
func (p *Pages) shelf(w http.ResponseWriter, r *http.Request) {
	jobs, err := p.folder.Jobs()
	if err != nil {
		p.fail(w, r, err)
		return
	}
	v := shelfView{frame: p.frame(r, say("web.jobs")), Folder: p.folder.Path(), Example: len(jobs) == 0}
	v.Here = "/"
	n, _ := strconv.Atoi(r.URL.Query().Get("wait"))
	ctx, cancel := context.WithTimeout(r.Context(), mostPatience)
	defer cancel()
	for _, e := range jobs {
		g := p.glimpse(ctx, e, n > 0)
		if !g.sure {
			v.Wait = "/?wait=" + strconv.Itoa(n+1)
		}
		v.Jobs = append(v.Jobs, jobLine{File: e.Name, URL: "/jobs/" + pathEscape(e.Name), Name: g.name, Address: g.address, People: g.people, Verdict: g.verdict, Headline: g.words, Changed: e.Changed})
	}
	if v.Trash, err = p.folder.Trash(); err != nil {
		p.fail(w, r, err)
		return
	}
	if v.Unshown, err = p.folder.Unshown(); err != nil {
		p.fail(w, r, err)
		return
	}
	show(w, r, http.StatusOK, "shelf", v)
}

// glimpse judges a job for the shelf: at once, or as check does where somebody waits.
func (p *Pages) glimpse(ctx context.Context, e shelf.Entry, wait bool) glimpse {
	src, _, err := p.folder.Read(e.Name, fileLimit)
	if err != nil {
		return glimpse{name: e.Name, words: err.Error(), sure: true}
	}
	p.mu.Lock()
	g, known := p.glances[e.Name]
	p.mu.Unlock()
	if known && g.revision == revision(src) && (g.sure || !wait) {
		return g
	}
	g = p.judge(ctx, e.Name, src, wait)
	p.mu.Lock()
	p.glances[e.Name] = g
	p.mu.Unlock()
	return g
}

func (p *Pages) judge(ctx context.Context, name string, src []byte, wait bool) glimpse {
	g := glimpse{revision: revision(src), name: name, sure: true, words: say("web.shelf.faults")}
	doc, faults := appraise.ReadDoc(p.catalogue, name+shelf.Suffix, src)
	if doc != nil && strings.TrimSpace(doc.Job.Name) != "" {
		g.name = doc.Job.Name
	}
	if doc != nil && doc.Job != nil {
		g.address = strings.Join(strings.Fields(doc.Job.Place.Address), " ")
	}
	if len(faults) > 0 {
		return g
	}
	g.people = say("web.shelf.people", "people", fmt.Sprintf("%.0f", float64(doc.Job.Home.People.V)), "arrangement", say("web.option."+doc.Job.Choices.Arrangement))
	in, err := appraise.NewInput(p.catalogue, doc)
	if err != nil {
		return g
	}
	in.Proof = appraise.SoundProof
	var a *appraise.Appraisal
	if wait {
		a, err = appraise.Run(ctx, in, nil)
		wait = ctx.Err() == nil // else it came too late: a glance, and once more
	}
	if !wait {
		a, err = appraise.Quick(in)
	}
	if err != nil {
		g.words = say("web.shelf.unlaid")
		return g
	}
	n := 0
	for i := range a.Findings {
		if a.Findings[i].Verdict == a.Verdict {
			n++
		}
	}
	g.verdict, g.sure = a.Verdict.ID(), wait
	g.words = say("verdict." + g.verdict)
	if a.Verdict == finding.MustFix || a.Verdict == finding.LookAt {
		g.words += ": " + fmt.Sprint(n)
	}
	return g
}

// example puts the demo job on the shelf.
func (p *Pages) example(w http.ResponseWriter, r *http.Request) {
	name, err := p.create("kestrel-rise", examples.KestrelRise)
	if err != nil {
		p.fail(w, r, err)
		return
	}
	goTo(w, r, "/jobs/"+pathEscape(name))
}

// create makes a job under a name, or the name with a number where it is taken.
func (p *Pages) create(name string, data []byte) (string, error) {
	try := name
	for n := 2; ; n++ {
		err := p.folder.Create(try, data)
		if !isTaken(err) || n > 99 {
			return try, err
		}
		try = fmt.Sprintf("%s-%d", name, n)
	}
}

func (p *Pages) copyJob(w http.ResponseWriter, r *http.Request) {
	from := r.PathValue("name")
	src, _, err := p.folder.Read(from, fileLimit)
	if err == nil {
		_, err = p.create(from+"-"+say("web.copy.suffix"), src)
	}
	p.shelved(w, r, err)
}

func (p *Pages) rename(w http.ResponseWriter, r *http.Request) {
	if !p.form(w, r) {
		return
	}
	from, to := r.PathValue("name"), strings.TrimSuffix(strings.TrimSpace(r.PostFormValue("to")), shelf.Suffix)
	if from == to {
		goTo(w, r, "/")
		return
	}
	err := p.folder.Rename(from, to)
	if err == nil {
		p.leave(from)
	}
	p.shelved(w, r, err)
}

func (p *Pages) throw(w http.ResponseWriter, r *http.Request) {
	name := r.PathValue("name")
	err := p.folder.Throw(name)
	if err == nil {
		p.leave(name)
	}
	p.shelved(w, r, err)
}

func (p *Pages) putBack(w http.ResponseWriter, r *http.Request) {
	if !p.form(w, r) {
		return
	}
	_, err := p.folder.PutBack(r.PostFormValue("id"))
	p.shelved(w, r, err)
}

// shelved goes back to the shelf, or tells why something could not be done.
func (p *Pages) shelved(w http.ResponseWriter, r *http.Request, err error) {
	if err != nil {
		p.fail(w, r, err)
		return
	}
	goTo(w, r, "/")
}
