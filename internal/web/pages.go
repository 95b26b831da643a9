package web

import (
	"context"
	"net/http"
	"sync"

	"tideover/internal/catalogue"
	"tideover/internal/shelf"
)

// Pages answers requests for the jobs of one folder. It takes for granted that the guard
// has let them in.
type Pages struct {
	folder    *shelf.Folder
	catalogue *catalogue.Catalogue
	version   string
	today     func() string // the date a new job carries
	mux       *http.ServeMux
	ctx       context.Context
	end       context.CancelFunc
	chair     *chair // of the one long run

	mu      sync.Mutex
	desks   map[string]*desk
	turns   int64 // how often a job was asked for
	glances map[string]glimpse
	packs   recent[*packRun]
	lives   recent[*yearsRun]
}

// New readies the pages of a folder; today tells the date a new job carries.
func New(folder *shelf.Folder, cat *catalogue.Catalogue, version string, today func() string) *Pages {
	p := &Pages{
		folder: folder, catalogue: cat, version: version, today: today,
		chair: newChair(), desks: map[string]*desk{}, glances: map[string]glimpse{}, packs: recent[*packRun]{most: mostPacks}, lives: recent[*yearsRun]{most: mostLived},
	}
	p.ctx, p.end = context.WithCancel(context.Background())
	p.mux = p.routes()
	return p
}

// Close ends every run and answers those who wait.
func (p *Pages) Close() {
	p.end()
	p.mu.Lock()
	list := make([]*desk, 0, len(p.desks))
	for _, d := range p.desks {
		list = append(list, d)
	}
	p.mu.Unlock()
	for _, d := range list {
		d.stop()
	}
}

// ServeHTTP answers one request.
func (p *Pages) ServeHTTP(w http.ResponseWriter, r *http.Request) { p.mux.ServeHTTP(w, r) }

func (p *Pages) routes() *http.ServeMux {
	m := http.NewServeMux()
	m.HandleFunc("GET /{$}", p.shelf)
	m.HandleFunc("GET /static/{file}", p.static)
	m.HandleFunc("POST /look", p.setLook)
	m.HandleFunc("GET /new", p.ask)
	m.HandleFunc("POST /new", p.makeJob)
	m.HandleFunc("POST /example", p.example)
	m.HandleFunc("POST /trash/back", p.putBack)
	m.HandleFunc("GET /jobs/{name}", p.overview)
	m.HandleFunc("GET /jobs/{name}/{section}", p.section)
	m.HandleFunc("GET /jobs/{name}/finding", p.finding)
	m.HandleFunc("GET /jobs/{name}/earlier", p.earlier)
	m.HandleFunc("GET /jobs/{name}/picture", p.pictures)
	m.HandleFunc("GET /jobs/{name}/turn", p.turning)
	m.HandleFunc("GET /jobs/{name}/charts", p.charts)
	m.HandleFunc("GET /jobs/{name}/years", p.years)
	m.HandleFunc("POST /jobs/{name}/years", p.liveYears)
	m.HandleFunc("POST /jobs/{name}/years/stop", p.stopYears)
	m.HandleFunc("GET /jobs/{name}/side", p.side)
	m.HandleFunc("POST /jobs/{name}/side", p.takeSide)
	m.HandleFunc("GET /jobs/{name}/swap", p.swapping)
	m.HandleFunc("POST /jobs/{name}/swap", p.takeSwap)
	m.HandleFunc("GET /jobs/{name}/pack", p.packPage)
	m.HandleFunc("GET /jobs/{name}/pack/{file}", p.packFile)
	m.HandleFunc("POST /jobs/{name}/pack", p.makeAPack)
	m.HandleFunc("POST /jobs/{name}/pack/stop", p.stopPack)
	m.HandleFunc("POST /jobs/{name}/edit", p.edit)
	m.HandleFunc("POST /jobs/{name}/item", p.item)
	m.HandleFunc("POST /jobs/{name}/remedy", p.remedy)
	m.HandleFunc("POST /jobs/{name}/undo", p.undo)
	m.HandleFunc("POST /jobs/{name}/redo", p.redo)
	m.HandleFunc("POST /jobs/{name}/restore", p.restore)
	m.HandleFunc("POST /jobs/{name}/copy", p.copyJob)
	m.HandleFunc("POST /jobs/{name}/rename", p.rename)
	m.HandleFunc("POST /jobs/{name}/throw", p.throw)
	m.HandleFunc("/", p.nothing)
	return m
}
