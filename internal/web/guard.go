package web

import (
	"crypto/sha256"
	"crypto/subtle"
	"encoding/hex"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"time"
)

// cookieName is the cookie that the start-up key is exchanged for. Ports share cookies, so
// two servers on one machine need two names.
func cookieName(port string) string { return "tideover-" + port }

// Limits of a request. A form of a job is a few kilobytes.
const (
	bodyLimit   = 1 << 20
	headerLimit = 32 << 10
	guessPause  = 300 * time.Millisecond // before a wrong key is answered
)

// policy is what a page may load: its own scripts and styles, and no more.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; font-src 'self'; " +
	"connect-src 'self'; form-action 'self'; frame-ancestors 'none'; base-uri 'none'"

// guard is what every request passes before anything answers it: the Host it asked for, then
// where it came from, then whether it knows the key; its size is limited and what it gets is
// fenced in.
type guard struct {
	hosts []string // with port
	port  string
	key   string
	next  http.Handler
	slow  chan struct{} // wrong keys are answered one at a time
}

func newGuard(hosts []string, port, key string, next http.Handler) http.Handler {
	g := &guard{hosts: hosts, port: port, key: key, next: next, slow: make(chan struct{}, 1)}
	// A browser tricked into taking us for another name sends that name as Host and as
	// Origin, which cross-origin protection lets pass: the Host comes first.
	return g.host(http.NewCrossOriginProtection().Handler(http.HandlerFunc(g.known)))
}

func (g *guard) host(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("X-Frame-Options", "DENY")
		h.Set("Cache-Control", "no-store")
		if !slices.Contains(g.hosts, strings.ToLower(r.Host)) {
			plain(w, http.StatusMisdirectedRequest, "web.host")
			return
		}
		r.Body = http.MaxBytesReader(w, r.Body, bodyLimit)
		next.ServeHTTP(w, r)
	})
}

// known lets those in who have the cookie; the key in an address is exchanged for it once.
func (g *guard) known(w http.ResponseWriter, r *http.Request) {
	if r.URL.Path == "/enter" && r.Method == http.MethodGet {
		g.enter(w, r)
		return
	}
	if elsewhere(r) || !g.passed(r) {
		plain(w, http.StatusForbidden, "web.key")
		return
	}
	g.next.ServeHTTP(w, r)
}

// passed reports whether any cookie of our name is right: another server on this machine can
// give the browser one of the same name for a path of ours, and it comes first.
func (g *guard) passed(r *http.Request) bool {
	for _, c := range r.CookiesNamed(cookieName(g.port)) {
		if same(c.Value, pass(g.key)) {
			return true
		}
	}
	return false
}

// elsewhere reports whether a browser says that another site or port asks, and not a person
// who follows a link from there: such a request reads nothing and starts nothing. A page can
// also send a browser here without anybody touching it, in a frame or in its own place.
func elsewhere(r *http.Request) bool {
	h := r.Header
	switch h.Get("Sec-Fetch-Site") {
	case "same-site", "cross-site":
		return h.Get("Sec-Fetch-Mode") != "navigate" || h.Get("Sec-Fetch-Dest") != "document" || h.Get("Sec-Fetch-User") != "?1"
	}
	return false
}

func (g *guard) enter(w http.ResponseWriter, r *http.Request) {
	if !same(r.URL.Query().Get("key"), g.key) {
		select {
		case g.slow <- struct{}{}:
			time.Sleep(guessPause)
			<-g.slow
		case <-r.Context().Done(): // gone, and its place in the queue with it
			return
		}
		plain(w, http.StatusForbidden, "web.key")
		return
	}
	http.SetCookie(w, &http.Cookie{Name: cookieName(g.port), Value: pass(g.key), Path: "/", HttpOnly: true, SameSite: http.SameSiteStrictMode})
	// A redirect would still count as come from elsewhere, and a strict cookie would not be
	// sent with it: a page that refreshes itself does not.
	w.Header().Set("Refresh", "0; url=/")
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	_ = entered.Execute(w, map[string]string{"Name": say("web.name"), "Enter": say("web.enter")})
}

// pass is what the cookie holds: it opens the door but does not tell the key.
func pass(key string) string {
	sum := sha256.Sum256([]byte("tideover cookie " + key))
	return hex.EncodeToString(sum[:])
}

func same(a, b string) bool { return subtle.ConstantTimeCompare([]byte(a), []byte(b)) == 1 }

// local is a path of ours to go back to, or "/": never an address somewhere else.
func local(path string) string {
	u, err := url.Parse(path)
	if err != nil || u.IsAbs() || u.Host != "" || !strings.HasPrefix(path, "/") || strings.HasPrefix(path, "//") || strings.ContainsAny(path, "\\\r\n") {
		return "/"
	}
	return path
}
