package web

import (
	"mime"
	"net/http"
	"net/url"
	"path"
	"slices"
	"strconv"

	"tideover/internal/pack"
	"tideover/internal/quantity"
)

// packView is the page of a job's pack.
type packView struct {
	jobView
	Stage   runStage
	Told    string
	Percent int
	Why     string
	Old     bool // the file was changed since the pack was made
	Papers  []option
	Sets    []option
	Full    bool
	Files   []fileView
}

// fileView is one file to download.
type fileView struct{ Name, URL, Size string }

// zipName is the file that holds all others.
const zipName = "pack.zip"

// packPage shows how far the pack is, and what to download.
func (p *Pages) packPage(w http.ResponseWriter, r *http.Request) {
	d := p.on(w, r)
	if d == nil {
		return
	}
	k := p.packs.get(d.name)
	if k != nil {
		k.follow(r)
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	v := packView{jobView: d.aboutJob(p.frame(r, ""), "pack", say("web.pack"))}
	v.Notes = d.notes()
	var o packOrder
	if d.doc != nil && d.doc.Job.System() == quantity.US {
		o.paper = pack.Letter
	}
	if k != nil {
		o = k.order
		v.tell(d, k)
	}
	v.Full = o.full
	for _, size := range []pack.Paper{pack.A4, pack.Letter} {
		v.Papers = append(v.Papers, option{string(size), say("web.pack.paper." + string(size)), size == o.paper || o.paper == "" && size == pack.A4})
	}
	v.Sets = []option{{"", say("web.pack.set.all"), o.set == ""}}
	for _, s := range pack.Sets() {
		v.Sets = append(v.Sets, option{s, say("web.pack.set." + s), s == o.set})
	}
	show(w, r, http.StatusOK, "pack", v)
}

// tell fills in how far a run is. The desk is locked.
func (v *packView) tell(d *desk, k *packRun) {
	running := k.running()
	k.mu.Lock()
	defer k.mu.Unlock()
	v.Stage, v.Why, v.Percent, v.Old = k.stage, k.why, 5*k.share, k.of != revision(d.src)
	v.Told = say("web.pack.stage."+string(k.stage), "share", quantity.Fixed(float64(v.Percent), 0))
	if running {
		v.Wait = d.url() + "/pack?after=" + strconv.Itoa(k.tick)
	}
	if k.stage != runDone {
		return
	}
	for _, f := range k.files {
		v.Files = append(v.Files, fileView{f.Name, d.url() + "/pack/" + url.PathEscape(f.Name), kilobytes(len(f.Data))})
	}
}

func kilobytes(n int) string {
	return say("web.pack.size", "n", quantity.Fixed(float64((n+999)/1000), 0))
}

// makeAPack starts one.
func (p *Pages) makeAPack(w http.ResponseWriter, r *http.Request) {
	d := p.on(w, r)
	if d == nil || !p.form(w, r) {
		return
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	size, err := pack.ParsePaper(r.PostFormValue("paper"))
	set := r.PostFormValue("set")
	if err != nil || set != "" && !slices.Contains(pack.Sets(), set) {
		p.troubled(w, r, http.StatusBadRequest, say("web.form"))
		return
	}
	if d.appraisal == nil {
		p.troubled(w, r, http.StatusUnprocessableEntity, say("web.pack.not-yet"))
		return
	}
	p.startPack(d, packOrder{paper: size, set: set, full: r.PostFormValue("full") != ""})
	goTo(w, r, d.url()+"/pack")
}

// stopPack stops one.
func (p *Pages) stopPack(w http.ResponseWriter, r *http.Request) {
	d := p.on(w, r)
	if d == nil || !p.form(w, r) {
		return
	}
	if k := p.packs.get(d.name); k != nil {
		k.halt(r.Context())
	}
	goTo(w, r, d.url()+"/pack")
}

// packKinds are what a file of the pack is sent as. All are sent to be kept, none to be
// looked at in the page's own place: a drawing could hold what a page may do.
var packKinds = map[string]string{".pdf": "application/pdf", ".svg": "image/svg+xml", ".csv": "text/csv; charset=utf-8", ".json": "application/json",
	".ics": "text/calendar; charset=utf-8", ".zip": "application/zip"}

// packFile sends one file of a finished pack.
func (p *Pages) packFile(w http.ResponseWriter, r *http.Request) {
	d := p.on(w, r)
	if d == nil {
		return
	}
	k, name := p.packs.get(d.name), r.PathValue("file")
	if k == nil {
		p.nothing(w, r)
		return
	}
	k.mu.Lock()
	files := k.files
	k.mu.Unlock()
	var data []byte
	switch at := slices.IndexFunc(files, func(f pack.File) bool { return f.Name == name }); {
	case at >= 0:
		data = files[at].Data
	case name == zipName && len(files) > 0:
		var err error
		if data, err = zipped(files); err != nil {
			p.fail(w, r, err)
			return
		}
	default:
		p.nothing(w, r)
		return
	}
	kind := packKinds[path.Ext(name)]
	if kind == "" {
		kind = "application/octet-stream"
	}
	h := w.Header()
	h.Set("Content-Type", kind)
	h.Set("Content-Disposition", mime.FormatMediaType("attachment", map[string]string{"filename": d.name + "-" + name}))
	h.Set("Content-Length", strconv.Itoa(len(data)))
	_, _ = w.Write(data)
}
