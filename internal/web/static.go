package web

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"mime"
	"net/http"
	"path"
	"strings"
	"sync"

	"tideover/internal/drawing"
)

//go:embed static
var staticFS embed.FS

// asset is a file every page may load, ready to be sent.
type asset struct {
	kind         string
	data, packed []byte
	mark         string // of its content
}

// assets are the static files by name, with the drawings' style table among them.
var assets = sync.OnceValue(func() map[string]asset {
	all := map[string]asset{"ink.css": newAsset("ink.css", drawing.StyleSheet(drawing.Screen))}
	entries, err := staticFS.ReadDir("static")
	if err != nil {
		panic(err)
	}
	for _, e := range entries {
		data, err := staticFS.ReadFile("static/" + e.Name())
		if err != nil {
			panic(err)
		}
		all[e.Name()] = newAsset(e.Name(), data)
	}
	// The style sheet names the faces as the pages do, so that they are fetched once.
	css := string(all["page.css"].data)
	for _, face := range []string{"plex-regular.woff2", "plex-semibold.woff2"} {
		css = strings.ReplaceAll(css, face, "/static/"+face+"?"+all[face].mark)
	}
	all["page.css"] = newAsset("page.css", []byte(css))
	return all
})

// kinds are what the system's own table may not know, or knows differently.
var kinds = map[string]string{".woff2": "font/woff2", ".js": "text/javascript; charset=utf-8", ".css": "text/css; charset=utf-8", ".txt": "text/plain; charset=utf-8"}

func newAsset(name string, data []byte) asset {
	sum := sha256.Sum256(data)
	a := asset{kind: kinds[path.Ext(name)], data: data, mark: hex.EncodeToString(sum[:6])}
	if a.kind == "" {
		a.kind = mime.TypeByExtension(path.Ext(name))
	}
	if !strings.HasSuffix(name, ".woff2") {
		var z bytes.Buffer
		g, _ := gzip.NewWriterLevel(&z, gzip.BestCompression)
		_, _ = g.Write(data)
		_ = g.Close()
		a.packed = z.Bytes()
	}
	return a
}

// staticURL is the address of a static file; it changes with its content, so that a browser
// may keep what it has.
func staticURL(name string) string { return "/static/" + name + "?" + assets()[name].mark }

func (p *Pages) static(w http.ResponseWriter, r *http.Request) {
	a, ok := assets()[r.PathValue("file")]
	if !ok {
		p.nothing(w, r)
		return
	}
	h := w.Header()
	h.Set("Content-Type", a.kind)
	if r.URL.RawQuery == a.mark {
		h.Set("Cache-Control", "private, max-age=31536000, immutable")
	}
	h.Set("Vary", "Accept-Encoding")
	body := a.data
	if a.packed != nil && strings.Contains(r.Header.Get("Accept-Encoding"), "gzip") {
		h.Set("Content-Encoding", "gzip")
		body = a.packed
	}
	_, _ = w.Write(body)
}
