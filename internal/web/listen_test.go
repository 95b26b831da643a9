package web

import (
	"context"
	"io"
	"net"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptrace"
	"net/url"
	"strings"
	"testing"
	"time"
)

// TestListen: it listens on this machine alone, at the address it tells, and ends when
// asked, those who wait answered.
func TestListen(t *testing.T) {
	s := serve(t, "kestrel-rise")
	service, err := Listen(s.pages, Where{})
	if err != nil {
		t.Fatal(err)
	}
	u, err := url.Parse(service.Address)
	if err != nil || u.Hostname() != "127.0.0.1" || len(u.Query().Get("key")) < 22 || u.Host != service.Host {
		t.Fatalf("address %s", service.Address)
	}
	ctx, end := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- service.Run(ctx) }()
	jar, _ := cookiejar.New(nil)
	client := &http.Client{Jar: jar}
	if got := fetch(t, client, service.Address); !strings.Contains(got, `href="/"`) {
		t.Errorf("the key leads to %q", got)
	}
	if got := fetch(t, client, "http://"+u.Host+"/jobs/kestrel-rise"); !strings.Contains(got, "Kestrel Rise") {
		t.Errorf("the job's page is %q", got)
	}
	answered, asked := make(chan string, 1), make(chan struct{})
	waiting := http.Client{Jar: jar, Transport: heard{asked}}
	go func() {
		answered <- fetch(t, &waiting, "http://"+u.Host+"/jobs/kestrel-rise?wait="+revision([]byte(s.file("kestrel-rise")))+"&after=sound")
	}()
	<-asked
	time.Sleep(200 * time.Millisecond) // and is heard
	end()
	if err := <-ended; err != nil {
		t.Error(err)
	}
	if got := <-answered; !strings.Contains(got, "Kestrel Rise") {
		t.Errorf("who waited got %q", got)
	}
}

// heard tells when a request has been written.
type heard struct{ asked chan struct{} }

func (h heard) RoundTrip(r *http.Request) (*http.Response, error) {
	trace := &httptrace.ClientTrace{WroteRequest: func(httptrace.WroteRequestInfo) { close(h.asked) }}
	return http.DefaultTransport.RoundTrip(r.WithContext(httptrace.WithClientTrace(r.Context(), trace)))
}

func fetch(t *testing.T, client *http.Client, address string) string {
	r, err := client.Get(address)
	if err != nil {
		t.Error(err)
		return ""
	}
	defer r.Body.Close()
	b, err := io.ReadAll(r.Body)
	if err != nil {
		t.Error(err)
	}
	return string(b)
}

// TestListenLAN: the network is served only by the name of an interface, under its own
// address and no other name, and never without the key.
func TestListenLAN(t *testing.T) {
	s := serve(t)
	if _, err := Listen(s.pages, Where{LAN: "no-such-thing"}); err == nil || !strings.Contains(err.Error(), "no-such-thing") {
		t.Errorf("an interface that is not there: %v", err)
	}
	name := ""
	all, err := net.Interfaces()
	if err != nil {
		t.Skip(err)
	}
	for _, i := range all {
		if _, err := addressOf(i.Name); err == nil {
			name = i.Name
		}
	}
	if name == "" {
		t.Skip("no network interface with an address")
	}
	service, err := Listen(s.pages, Where{LAN: name})
	if err != nil {
		t.Fatal(err)
	}
	ctx, end := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- service.Run(ctx) }()
	_, port, _ := net.SplitHostPort(service.Host)
	for host, want := range map[string]int{service.Host: http.StatusForbidden, "localhost:" + port: http.StatusMisdirectedRequest, "evil.example:" + port: http.StatusMisdirectedRequest} {
		r, _ := http.NewRequest("GET", "http://"+service.Host+"/", nil)
		r.Host = host
		a, err := http.DefaultClient.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		a.Body.Close()
		if a.StatusCode != want {
			t.Errorf("asked for %s without the key: %d, want %d", host, a.StatusCode, want)
		}
	}
	end()
	<-ended
}

// TestListenTaken: a port somebody else has is told in words.
func TestListenTaken(t *testing.T) {
	s := serve(t)
	ln, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Skip(err)
	}
	defer ln.Close()
	port := ln.Addr().(*net.TCPAddr).Port
	if _, err := Listen(s.pages, Where{Port: port}); err == nil || !strings.Contains(err.Error(), "--port") {
		t.Errorf("a taken port: %v", err)
	}
}
