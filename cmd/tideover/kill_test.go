package main

import (
	"bufio"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"tideover/internal/shelf"
)

// kills is how often TestKill kills: more with TIDEOVER_KILLS=1000.
func kills(t *testing.T) int {
	text := os.Getenv("TIDEOVER_KILLS")
	if text == "" {
		return 20
	}
	n, err := strconv.Atoi(text)
	if err != nil {
		t.Fatalf("TIDEOVER_KILLS=%q is no number", text)
	}
	return n
}

// TestKill kills the page's process at random moments while it saves one change after the
// other: the file is what the last answered change left or what the one under way makes of
// it, to the byte, and so is every version kept.
func TestKill(t *testing.T) {
	src, err := os.ReadFile("../../examples/kestrel-rise.job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	state := func(n int) string {
		return strings.Replace(string(src), "people: 5", "people: "+strconv.Itoa(n), 1)
	}
	dir := t.TempDir()
	file := filepath.Join(dir, "house"+shelf.Suffix)
	at := 5
	if err := os.WriteFile(file, []byte(state(at)), 0o644); err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(7, 11))
	saved, under := 0, 0
	for round := range kills(t) {
		p := start(t, dir)
		answered := make(chan int, 1)
		go func() { answered <- p.change(at) }()
		time.Sleep(time.Duration(rng.IntN(120_000)) * time.Microsecond)
		p.kill()
		last := <-answered
		got, err := os.ReadFile(file)
		if err != nil {
			t.Fatalf("round %d: %v", round, err)
		}
		switch string(got) {
		case state(last):
		case state(next(last)):
			under++
		default:
			t.Fatalf("round %d: after %d people were saved the file holds\n%s", round, last, got)
		}
		if last != at {
			saved++
		}
		at = last
		if string(got) != state(last) {
			at = next(last)
		}
	}
	whole := map[string]bool{}
	for n := range 10 {
		whole[state(n)] = true
	}
	folder, err := shelf.OpenFolder(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer folder.Close()
	versions, err := folder.Versions("house")
	if err != nil || len(versions) == 0 {
		t.Fatalf("versions %v, %v", versions, err)
	}
	for _, v := range versions {
		if b, err := folder.Version("house", v.ID, 1<<20); err != nil || !whole[string(b)] {
			t.Errorf("version %s is not whole (%v)", v.ID, err)
		}
	}
	t.Logf("%d versions; %d rounds killed after a change was answered, %d with the new bytes in place and the answer under way", len(versions), saved, under)
}

// next is the number of people after n: always another, of one figure.
func next(n int) int { return n%9 + 1 }

// process is a page being served by a process of its own.
type process struct {
	cmd     *exec.Cmd
	address string
}

// start serves a folder by this very programme.
func start(t *testing.T, dir string) *process {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(self, "serve", dir, "--no-browser")
	cmd.Args[0] = "tideover"
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		t.Fatalf("no address: %v", err)
	}
	return &process{cmd, strings.TrimSpace(line)}
}

func (p *process) kill() {
	_ = p.cmd.Process.Kill()
	_ = p.cmd.Wait()
}

// change saves one change after the other until nobody answers; it returns the last that
// was answered.
func (p *process) change(people int) int {
	jar, _ := cookiejar.New(nil)
	client := &http.Client{Jar: jar, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	r, err := client.Get(p.address)
	if err != nil {
		return people
	}
	r.Body.Close()
	u, _ := url.Parse(p.address)
	for {
		now, then := fmt.Sprint(people), fmt.Sprint(next(people))
		r, err := client.PostForm("http://"+u.Host+"/jobs/house/edit", url.Values{"w:home.people": {now}, "v:home.people": {then}})
		if err != nil {
			return people
		}
		_, _ = io.Copy(io.Discard, r.Body)
		r.Body.Close()
		if r.StatusCode != http.StatusSeeOther {
			return -r.StatusCode
		}
		people = next(people)
	}
}
