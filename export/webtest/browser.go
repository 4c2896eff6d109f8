// Package webtest drives pages in a headless Chromium for tests: what a person
// would tap, read and hear, with no network behind it.
package webtest

import (
	"context"
	"os/exec"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// Browser is a running Chromium that reaches nothing but this machine.
type Browser struct{ ctx context.Context }

// Open starts a browser for a test, or skips the test where none is installed.
// Names do not resolve and there is no proxy, so a page that asks the network
// fails visibly.
func Open(t *testing.T) *Browser {
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
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true),
		chromedp.Flag("host-resolver-rules", "MAP * ~NOTFOUND, EXCLUDE 127.0.0.1, EXCLUDE localhost"))
	alloc, stop := chromedp.NewExecAllocator(context.Background(), opts...)
	t.Cleanup(stop)
	ctx, cancel := chromedp.NewContext(alloc)
	t.Cleanup(cancel)
	if err := chromedp.Do(ctx); err != nil {
		t.Fatal(err)
	}
	return &Browser{ctx}
}

// patience is how long a page may take for anything, on a busy machine.
const patience = 20 * time.Second
