package web

import (
	"context"
	"crypto/rand"
	"encoding/base64"
	"errors"
	"net"
	"net/http"
	"strconv"
	"time"

	"tideover/internal/words"
)

// Service is a page being served: where, and how to run it.
type Service struct {
	Address string // to open in a browser, with the key
	Host    string // what it listens on
	ln      net.Listener
	server  *http.Server
	pages   *Pages
}

// Where says what to listen on.
type Where struct {
	Port int    // 0 takes a free one
	LAN  string // name of a network interface, or "" for this machine alone
	Key  string // "" makes a new one
}

// Listen takes the place and readies the pages; Run serves them.
func Listen(pages *Pages, where Where) (*Service, error) {
	hosts := []string{"127.0.0.1", "localhost", "[::1]"}
	at := "127.0.0.1"
	if where.LAN != "" {
		ip, err := addressOf(where.LAN)
		if err != nil {
			return nil, err
		}
		at, hosts = ip, []string{ip}
	}
	ln, err := net.Listen("tcp", net.JoinHostPort(at, strconv.Itoa(where.Port)))
	if err != nil {
		return nil, &Error{words.Say("web.listen", words.Args{"where": net.JoinHostPort(at, strconv.Itoa(where.Port)), "why": plainCause(err)})}
	}
	port := strconv.Itoa(ln.Addr().(*net.TCPAddr).Port)
	for i := range hosts {
		hosts[i] += ":" + port
	}
	key := where.Key
	if key == "" {
		key = newKey()
	}
	s := &Service{ln: ln, pages: pages, Host: hosts[0], Address: "http://" + hosts[0] + "/enter?key=" + key}
	s.server = &http.Server{
		Handler:           newGuard(hosts, port, key, pages),
		ReadHeaderTimeout: 5 * time.Second,
		ReadTimeout:       30 * time.Second,
		WriteTimeout:      2 * time.Minute,
		IdleTimeout:       2 * time.Minute,
		MaxHeaderBytes:    headerLimit,
	}
	return s, nil
}

// Run serves until the context ends.
func (s *Service) Run(ctx context.Context) error {
	end := context.AfterFunc(ctx, func() {
		s.pages.Close() // those who wait for a run are answered
		last, cancel := context.WithTimeout(context.Background(), 3*time.Second)
		defer cancel()
		_ = s.server.Shutdown(last)
	})
	defer end()
	err := s.server.Serve(s.ln)
	if errors.Is(err, http.ErrServerClosed) {
		return nil
	}
	return err
}

// Error is a reason why the page cannot be served, in words.
type Error struct{ text string }

// Error returns the message.
func (e *Error) Error() string { return e.text }

// newKey is 160 bits of chance.
func newKey() string {
	var b [20]byte
	rand.Read(b[:])
	return base64.RawURLEncoding.EncodeToString(b[:])
}

// addressOf is the address of a network interface of this machine: IPv4, which is what
// people can type.
func addressOf(name string) (string, error) {
	all, err := net.Interfaces()
	if err != nil {
		return "", &Error{words.Say("web.interfaces", words.Args{"why": plainCause(err)})}
	}
	var known []string
	for _, i := range all {
		addrs, _ := i.Addrs()
		for _, a := range addrs {
			ip, ok := a.(*net.IPNet)
			if !ok || ip.IP.To4() == nil || i.Flags&net.FlagUp == 0 {
				continue
			}
			if i.Name == name {
				return ip.IP.String(), nil
			}
			known = append(known, i.Name+" ("+ip.IP.String()+")")
		}
	}
	return "", &Error{words.Say("web.interface", words.Args{"name": name, "known": listed(known)})}
}

func plainCause(err error) string {
	for {
		inner := errors.Unwrap(err)
		if inner == nil {
			return err.Error()
		}
		err = inner
	}
}
