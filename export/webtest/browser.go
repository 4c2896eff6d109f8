// Package webtest drives pages in a headless Chromium for tests: what a person
// would tap, read and hear, with no network behind it.
package webtest

import (
	"context"
	"net/url"
	"os/exec"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/storage"
	"github.com/chromedp/chromedp"
)

// Browser is a person's Chromium that reaches nothing but this machine: what it is
// told to remember, such as who is signed in, no other one knows.
type Browser struct {
	ctx context.Context
	end context.CancelFunc

	mu   sync.Mutex
	free []context.Context // windows in which no page is open
	seen map[string]bool   // origins that may have left something in it
}

// process is the one Chromium of a test program. To start it takes longer than
// most tests.
var process struct {
	mu  sync.Mutex
	ctx context.Context // nil until a test wants a browser
	end context.CancelFunc
	// Browsers whose tests are through and that remember nothing. To open a window and
	// start what draws its pages takes longer than to load most of them.
	idle []*Browser
}

// unseen is what Chromium does for a person at its window, where there is none: pages
// behind the address bar, which each window has anew, and a process ahead of the next
// page. It is half of what a test of a page costs. Translate and the property trees are
// what the driver itself turns off.
const unseen = "Translate,BlinkGenPropertyTrees,WebUIOmniboxPopup,WebUIOmniboxAimPopup,WebUIOmniboxFullPopup,SpareRendererForSitePerProcess"

// Open gives a test a browser of its own, or skips the test where none is installed.
// Names do not resolve and there is no proxy, so a page that asks the network
// fails visibly. The program's TestMain calls Close in the end.
func Open(t *testing.T) *Browser {
	t.Helper()
	process.mu.Lock()
	defer process.mu.Unlock()
	if process.ctx != nil && chromedp.Do(process.ctx, chromedp.Navigate("about:blank")) != nil {
		process.end() // it crashed under an earlier test, which failed by it
		process.ctx, process.idle = nil, nil
	}
	if process.ctx == nil {
		start(t)
	}
	if n := len(process.idle); n > 0 {
		b := process.idle[n-1]
		process.idle = process.idle[:n-1]
		t.Cleanup(func() { b.leave(t) })
		return b
	}
	ctx, cancel := chromedp.NewContext(process.ctx, chromedp.WithNewBrowserContext())
	if err := chromedp.Do(ctx); err != nil {
		cancel()
		t.Fatal(err)
	}
	b := &Browser{ctx: ctx, end: cancel, free: []context.Context{ctx}, seen: map[string]bool{}}
	t.Cleanup(func() { b.leave(t) })
	return b
}

// leave forgets all that a test's pages left in a browser, for the next test. One that a
// test failed with, or that does not forget, is closed.
func (b *Browser) leave(t *testing.T) {
	if t.Failed() || b.forget() != nil {
		b.end()
		return
	}
	process.mu.Lock()
	defer process.mu.Unlock()
	if process.ctx != nil {
		process.idle = append(process.idle, b)
	}
}

// forget clears the cookies, what pages stored and what was fetched for them.
func (b *Browser) forget() error {
	ctx, stop := context.WithTimeout(b.ctx, patience)
	defer stop()
	for origin := range b.seen {
		if _, err := chromedp.Call(ctx, storage.ClearDataForOrigin, storage.ClearDataForOriginParams{Origin: origin, StorageTypes: "all"}); err != nil {
			return err
		}
	}
	clear(b.seen)
	if _, err := chromedp.Call(ctx, network.ClearBrowserCookies, cdp.Empty{}); err != nil {
		return err
	}
	_, err := chromedp.Call(ctx, network.ClearBrowserCache, cdp.Empty{})
	return err
}

// window gives a page a window of its own, one that another page has left where there is
// one.
func (b *Browser) window() (context.Context, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if n := len(b.free); n > 0 {
		w := b.free[n-1]
		b.free = b.free[:n-1]
		return w, nil
	}
	w, end := chromedp.NewContext(b.ctx)
	if err := chromedp.Do(w); err != nil {
		end()
		return nil, err
	}
	return w, nil
}

// empty takes a window back that a page is through with; one that does not let go of its
// page is never used again.
func (b *Browser) empty(w context.Context, asked []string) {
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, address := range asked {
		if u, err := url.Parse(address); err == nil && u.Scheme != "data" && u.Scheme != "blob" {
			b.seen[u.Scheme+"://"+u.Host] = true
		}
	}
	ctx, stop := context.WithTimeout(w, patience)
	defer stop()
	if _, err := chromedp.Run(ctx, chromedp.Navigate("about:blank")); err == nil {
		b.free = append(b.free, w)
	}
}

// start starts the process; its lock is held.
func start(t *testing.T) {
	t.Helper()
	path := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if p, err := exec.LookPath(name); err == nil {
			path = p
			break
		}
	}
	if path == "" {
		t.Skip("no Chromium on this machine")
	}
	opts := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU,
		chromedp.Flag("disable-features", unseen),
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true),
		chromedp.Flag("host-resolver-rules", "MAP * ~NOTFOUND, EXCLUDE 127.0.0.1, EXCLUDE localhost"))
	alloc, stop := chromedp.NewExecAllocator(context.Background(), opts...)
	ctx, cancel := chromedp.NewContext(alloc)
	end := func() { cancel(); stop() }
	if err := chromedp.Do(ctx); err != nil {
		end()
		t.Fatal(err)
	}
	process.ctx, process.end = ctx, end
}

// Close ends the browser, if a test of this program wanted one.
func Close() {
	process.mu.Lock()
	defer process.mu.Unlock()
	if process.ctx != nil {
		process.end()
		process.ctx = nil
	}
}

// patience is how long a page may take for any one thing, on a busy machine.
const patience = time.Minute
