// Package webtest drives pages in a headless Chromium for tests: what a person
// would tap, read and hear, with no network behind it.
package webtest

import (
	"context"
	"os/exec"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// Browser is a person's Chromium that reaches nothing but this machine: what it is
// told to remember, such as who is signed in, no other one knows.
type Browser struct{ ctx context.Context }

// process is the one Chromium of a test program. To start it takes longer than
// most tests.
var process struct {
	mu  sync.Mutex
	ctx context.Context // nil until a test wants a browser
	end context.CancelFunc
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
		process.ctx = nil
	}
	if process.ctx == nil {
		start(t)
	}
	ctx, cancel := chromedp.NewContext(process.ctx, chromedp.WithNewBrowserContext())
	t.Cleanup(cancel)
	if err := chromedp.Do(ctx); err != nil {
		t.Fatal(err)
	}
	return &Browser{ctx}
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
