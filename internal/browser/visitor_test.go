package browser

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"

	"tideover/internal/catalogue"
	"tideover/internal/demo"
	"tideover/internal/shelf"
	"tideover/internal/web"
)

// patience is how long a visitor waits for anything.
const patience = 30 * time.Second

var (
	chromium context.Context
	started  sync.Once
	broken   error
	ends     []func()
)

func TestMain(m *testing.M) {
	code := m.Run()
	for _, end := range ends {
		end()
	}
	os.Exit(code)
}

// start starts the one Chromium of all tests, in a folder of its own.
func start() {
	path, err := exec.LookPath("chromium")
	if err != nil {
		broken = fmt.Errorf("chromium is not installed: the page is not tried in a browser")
		return
	}
	dir, err := os.MkdirTemp("", "tideover-chromium-")
	if err != nil {
		broken = err
		return
	}
	options := []chromedp.ExecAllocatorOption{
		chromedp.ExecPath(path), chromedp.Headless, chromedp.NoSandbox, chromedp.DisableGPU, chromedp.NoFirstRun,
		chromedp.NoDefaultBrowserCheck, chromedp.UserDataDir(dir), chromedp.WSURLReadTimeout(time.Minute),
	}
	for _, flag := range []string{"disable-quic", "disable-background-networking", "disable-component-update", "disable-sync", "disable-dev-shm-usage", "hide-scrollbars"} {
		options = append(options, chromedp.Flag(flag, true))
	}
	all, endAll := chromedp.NewExecAllocator(context.Background(), options...)
	ctx, end := chromedp.NewContext(all)
	ends = append(ends, end, endAll, func() { os.RemoveAll(dir) })
	broken = chromedp.Do(ctx)
	chromium = ctx
}

// home is a served folder.
type home struct {
	t       *testing.T
	dir     string
	address string // with the key
	host    string
}

// serve serves a folder that holds the named examples.
func serve(t *testing.T, names ...string) *home {
	t.Helper()
	if started.Do(start); chromium == nil {
		t.Skip(broken)
	}
	if broken != nil {
		t.Fatal(broken)
	}
	h := &home{t: t, dir: t.TempDir()}
	for _, name := range names {
		h.write(name, string(demo.Source(t, name)))
	}
	folder, err := shelf.OpenFolder(h.dir)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	service, err := web.Listen(web.New(folder, rows, "test", func() string { return "2026-03-02" }), web.Where{})
	if err != nil {
		t.Fatal(err)
	}
	h.address, h.host = service.Address, service.Host
	ctx, end := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() { done <- service.Run(ctx) }()
	t.Cleanup(func() {
		end()
		if err := <-done; err != nil {
			t.Error(err)
		}
		folder.Close()
	})
	return h
}

func (h *home) write(name, text string) {
	h.t.Helper()
	if err := os.WriteFile(filepath.Join(h.dir, name+shelf.Suffix), []byte(text), 0o644); err != nil {
		h.t.Fatal(err)
	}
}

func (h *home) file(name string) string {
	h.t.Helper()
	b, err := os.ReadFile(filepath.Join(h.dir, name+shelf.Suffix))
	if err != nil {
		h.t.Fatal(err)
	}
	return string(b)
}

// both runs a test with scripts and without.
func both(t *testing.T, f func(t *testing.T, scripts bool)) {
	t.Run("with scripts", func(t *testing.T) { f(t, true) })
	t.Run("without scripts", func(t *testing.T) { f(t, false) })
}

// visitor is somebody at a tab of the browser.
type visitor struct {
	t   *testing.T
	ctx context.Context
	h   *home
}

// visit opens a tab and enters; size 1280 by 900.
func (h *home) visit(t *testing.T, scripts bool) *visitor {
	t.Helper()
	ctx, end := chromedp.NewContext(chromium)
	t.Cleanup(end)
	v := &visitor{t, ctx, h}
	v.do(chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
		_, err := chromedp.Call(ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: !scripts})
		return err
	}))
	v.size(1280, 900)
	v.do(chromedp.Navigate(h.address))
	v.until(`location.pathname === "/" && document.readyState === "complete"`)
	return v
}

func (v *visitor) do(steps ...chromedp.Action[chromedp.Void]) {
	v.t.Helper()
	ctx, end := v.ctx, func() {}
	if chromedp.FromContext(ctx).Target != nil {
		ctx, end = context.WithTimeout(ctx, patience)
	}
	defer end()
	if err := chromedp.Do(ctx, steps...); err != nil {
		v.t.Fatal(err)
	}
}

func (v *visitor) size(width, height int64) { v.do(chromedp.EmulateViewport(width, height)) }

// scheme has the screen prefer light or dark.
func (v *visitor) scheme(name string) {
	v.t.Helper()
	v.do(chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
		_, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: name}}})
		return err
	}))
}

// open goes to an address of the served folder and waits until it is whole.
func (v *visitor) open(path string) {
	v.t.Helper()
	v.do(chromedp.Navigate("http://" + v.h.host + path))
	v.until(`document.readyState === "complete"`)
}

// see evaluates an expression over the page.
func see[T any](v *visitor, expression string) T {
	v.t.Helper()
	ctx, end := context.WithTimeout(v.ctx, patience)
	defer end()
	got, err := chromedp.Run(ctx, chromedp.Evaluate[T](expression))
	if err != nil {
		v.t.Fatalf("%s: %v", expression, err)
	}
	return got
}

// until waits until an expression holds. A page that is being left answers nothing: asked
// again.
func (v *visitor) until(expression string) {
	v.t.Helper()
	ctx, end := context.WithTimeout(v.ctx, patience)
	defer end()
	for {
		ok, err := chromedp.Run(ctx, chromedp.Evaluate[bool]("document.readyState === \"complete\" && Boolean("+expression+")"))
		if err == nil && ok {
			return
		}
		select {
		case <-ctx.Done():
			v.t.Fatalf("waited for %s (%v); the page at %s says:\n%s", expression, err, see[string](v, "location.href"), v.text("body"))
		case <-time.After(15 * time.Millisecond):
		}
	}
}

func js(text string) string { b, _ := json.Marshal(text); return string(b) }

// has is an expression: an element is there.
func has(selector string) string { return "document.querySelector(" + js(selector) + ")" }

// says is an expression: the text of an element holds something.
func says(selector, text string) string {
	return "(document.querySelector(" + js(selector) + ")?.innerText || '').includes(" + js(text) + ")"
}

// text is what a person reads of an element, "" where it is not there.
func (v *visitor) text(selector string) string {
	v.t.Helper()
	return see[string](v, "document.querySelector("+js(selector)+")?.innerText || ''")
}

// click clicks the middle of an element, as a mouse does: what lies over it gets the click.
func (v *visitor) click(selector string) {
	v.t.Helper()
	v.until(has(selector))
	at := see[[]float64](v, `(() => { const e = `+has(selector)+`; e.scrollIntoView({block: "center", behavior: "instant"});
		const r = e.getClientRects()[0]; if (!r) return [];
		const x = r.x + r.width / 2, y = r.y + r.height / 2, got = document.elementFromPoint(x, y);
		return got && (e.contains(got) || got.contains(e)) ? [x, y] : []; })()`)
	if len(at) != 2 {
		v.t.Fatalf("%s is not to be seen, or lies under something", selector)
	}
	v.do(chromedp.MouseClickXY(at[0], at[1]))
}

// leave does something that leads to a new document, or has the same one laid over, and
// waits for the address.
func (v *visitor) leave(how func(), path string) {
	v.t.Helper()
	how()
	v.until("location.pathname === " + js(path) + ` && document.readyState === "complete"`)
}

// write replaces what stands in a box, as typed.
func (v *visitor) write(selector, text string) {
	v.t.Helper()
	v.click(selector)
	v.until("document.activeElement === " + has(selector))
	v.do(chromedp.KeyEvent("a", chromedp.KeyModifiers(2))) // Ctrl
	v.insert(text)
}

func (v *visitor) insert(text string) {
	v.t.Helper()
	v.do(chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
		_, err := chromedp.Call(ctx, input.InsertText, input.InsertTextParams{Text: text})
		return err
	}))
}

// press presses keys.
func (v *visitor) press(keys string) { v.t.Helper(); v.do(chromedp.KeyEvent(keys)) }

// grown waits until what follows a glance is on the page: spread, remedies, promises.
// Without scripts it takes the link that asks for it.
func (v *visitor) grown() {
	v.t.Helper()
	const more = `document.querySelector('[data-wait*="after=glance"]')`
	for range 20 {
		v.until(`document.readyState === "complete"`)
		if see[bool](v, "Boolean("+has("html.scripted")+")") || !see[bool](v, "Boolean("+more+")") {
			break
		}
		v.open(see[string](v, `(u => u.pathname + u.search)(new URL(`+more+`.dataset.wait, location))`))
	}
	v.until("!" + more)
}

// clearCookies has the browser forget that it was let in.
var clearCookies = chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
	_, err := chromedp.Call(ctx, network.ClearBrowserCookies, cdp.Empty{})
	return err
})

// focus puts the focus where the tab key would bring it in the end.
func focus(selector string) chromedp.Action[chromedp.Void] {
	return chromedp.Evaluate[chromedp.Void](has(selector) + ".focus()")
}

// back is the browser's own button.
var back = chromedp.NavigateBack()
