package web

import "net/http"

const lookCookie = "tideover-look"

// setLook remembers which of light and dark somebody wants.
func (p *Pages) setLook(w http.ResponseWriter, r *http.Request) {
	if !p.form(w, r) {
		return
	}
	look := r.PostFormValue("look")
	if look != "light" && look != "dark" {
		look = "auto"
	}
	http.SetCookie(w, &http.Cookie{Name: lookCookie, Value: look, Path: "/", MaxAge: 365 * 24 * 3600, HttpOnly: true, SameSite: http.SameSiteStrictMode})
	goTo(w, r, r.PostFormValue("back"))
}
