package webtest

import (
	"bytes"
	"context"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// Tab is one page of a browser. It remembers what the page asked the network
// for and what it complained of.
type Tab struct {
	t   *testing.T
	ctx context.Context
	// Close ends the page, at the end of the test at the latest, and leaves its window
	// to the next one.
	Close func()

	mu       sync.Mutex
	asked    []string
	troubles []string
}

// Tab opens a page of a size in CSS pixels; narrow ones are a touched phone.
func (b *Browser) Tab(t *testing.T, width, height int, dark bool) *Tab {
	t.Helper()
	window, err := b.window()
	if err != nil {
		t.Fatal(err)
	}
	ctx, end := context.WithCancel(window)
	tab := &Tab{t: t, ctx: ctx}
	tab.Close = sync.OnceFunc(func() {
		end()
		b.empty(window, tab.Asked())
	})
	t.Cleanup(tab.Close)
	tab.Resize(width, height)
	tab.Dark(dark)
	// Of several pages that are open side by side each has the keyboard.
	call(tab, func() error {
		_, err := chromedp.Call(ctx, emulation.SetFocusEmulationEnabled, emulation.SetFocusEmulationEnabledParams{Enabled: true})
		return err
	})
	call(tab, func() error { return chromedp.Listen(ctx, tab.hear) })
	call(tab, func() error { _, err := chromedp.Call(ctx, network.Enable, network.EnableParams{}); return err })
	return tab
}

// Resize gives the page another size in CSS pixels; narrow ones are a touched phone.
func (tab *Tab) Resize(width, height int) {
	tab.t.Helper()
	var opts []chromedp.EmulateViewportOption
	if width < 600 {
		opts = append(opts, chromedp.EmulateMobile, chromedp.EmulateTouch)
	}
	tab.Do(chromedp.EmulateViewport(int64(width), int64(height), opts...))
}

// Dark says whether the person wants pages dark.
func (tab *Tab) Dark(wanted bool) {
	tab.t.Helper()
	scheme := "light"
	if wanted {
		scheme = "dark"
	}
	call(tab, func() error {
		_, err := chromedp.Call(tab.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
		return err
	})
}

func call(tab *Tab, f func() error) {
	tab.t.Helper()
	if err := f(); err != nil {
		tab.t.Fatal(err)
	}
}

// hear notes requests, exceptions, and errors and warnings of the console.
func (tab *Tab) hear(ev any) {
	tab.mu.Lock()
	defer tab.mu.Unlock()
	switch ev := ev.(type) {
	case *network.EventRequestWillBeSent:
		tab.asked = append(tab.asked, ev.Request.URL)
	case *runtime.EventExceptionThrown:
		tab.troubles = append(tab.troubles, "exception: "+ev.ExceptionDetails.Text+" "+exception(ev))
	case *runtime.EventConsoleAPICalled:
		if ev.Type == "error" || ev.Type == "warning" {
			text := ""
			for _, a := range ev.Args {
				text += " " + string(a.Value) + a.Description
			}
			tab.troubles = append(tab.troubles, string(ev.Type)+":"+text)
		}
	case *log.EventEntryAdded:
		if ev.Entry.Level == "error" || ev.Entry.Level == "warning" {
			tab.troubles = append(tab.troubles, string(ev.Entry.Level)+": "+ev.Entry.Text)
		}
	}
}

func exception(ev *runtime.EventExceptionThrown) string {
	if ev.ExceptionDetails.Exception == nil {
		return ""
	}
	return ev.ExceptionDetails.Exception.Description
}

// Do runs actions, one after the other, or ends the test. An action on a page
// that is just being left finds its element gone before it has done anything:
// it is tried again on the page that comes.
func (tab *Tab) Do(steps ...chromedp.Action[chromedp.Void]) {
	tab.t.Helper()
	end := time.Now().Add(patience)
	for _, step := range steps {
		err := tab.do(step)
		for err != nil && left(err) && time.Now().Before(end) {
			time.Sleep(20 * time.Millisecond)
			err = tab.do(step)
		}
		if err != nil {
			tab.t.Fatal(err)
		}
	}
}

// do runs one action for as long as patience lasts.
func (tab *Tab) do(step chromedp.Action[chromedp.Void]) error {
	_, err := run(tab, step)
	return err
}

// run is what an action gives, for as long as patience lasts.
func run[T any](tab *Tab, a chromedp.Action[T]) (T, error) {
	ctx, stop := context.WithTimeout(tab.ctx, patience)
	defer stop()
	return chromedp.Run(ctx, a)
}

// left tells of an error whether the element belonged to a page that is gone.
func left(err error) bool {
	for _, words := range []string{"Could not find node", "No node with given id", "does not belong to the document", "Node is detached", "Cannot find context"} {
		if strings.Contains(err.Error(), words) {
			return true
		}
	}
	return false
}

// Go loads an address.
func (tab *Tab) Go(url string) {
	tab.t.Helper()
	tab.Do(chromedp.Navigate(url))
}

// Eval is the value of a JavaScript expression in the page.
func Eval[T any](tab *Tab, js string) T {
	tab.t.Helper()
	v, err := run(tab, chromedp.Evaluate[T](js))
	if err != nil {
		tab.t.Fatalf("%s: %v", js, err)
	}
	return v
}

// Leave does what leads to another page, or loads this one anew, and waits until
// that is wholly loaded. What is asked afterwards is asked of the new page: a
// condition that held on the old one already is not taken for its.
func (tab *Tab) Leave(steps ...chromedp.Action[chromedp.Void]) {
	tab.t.Helper()
	Eval[any](tab, "window.beingLeft = true; null")
	tab.Do(steps...)
	tab.Wait("!window.beingLeft")
}

// Wait waits until a JavaScript expression is true on a page that is wholly
// loaded. It asks from outside: a page with a strict policy runs no code that a
// string was made into. It asks seldomer the longer it waits, since each question
// takes time from the page that is to get ready.
func (tab *Tab) Wait(js string) {
	tab.t.Helper()
	end := time.Now().Add(patience)
	for pause := 10 * time.Millisecond; ; pause = min(2*pause, 160*time.Millisecond) {
		// A page that is being left answers with an error: the next one is asked.
		yes, err := run(tab, chromedp.Evaluate[bool]("document.readyState === 'complete' && !!("+js+")"))
		if err == nil && yes {
			return
		}
		if time.Now().After(end) || tab.ctx.Err() != nil {
			tab.t.Fatalf("waited in vain for %s (%v); the page complains of %q", js, err, tab.Troubles())
		}
		time.Sleep(pause)
	}
}

// Troubles returns what the page complained of since the last call.
func (tab *Tab) Troubles() []string {
	tab.mu.Lock()
	defer tab.mu.Unlock()
	out := tab.troubles
	tab.troubles = nil
	return out
}

// Asked returns the addresses that the page fetched, less those with one of
// the prefixes.
func (tab *Tab) Asked(less ...string) []string {
	tab.mu.Lock()
	defer tab.mu.Unlock()
	return slices.DeleteFunc(slices.Clone(tab.asked), func(u string) bool {
		return slices.ContainsFunc(less, func(p string) bool { return strings.HasPrefix(u, p) })
	})
}

// Look leaves a picture of the page in the folder that LOAMLINE_LOOK names, for
// people who want to see what a test saw.
func (tab *Tab) Look(name string) {
	tab.t.Helper()
	if dir := os.Getenv("LOAMLINE_LOOK"); dir != "" {
		tab.Picture(filepath.Join(dir, name+".png"))
	}
}

// Picture writes what is seen of the page as PNG.
func (tab *Tab) Picture(path string) {
	tab.t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		tab.t.Fatal(err)
	}
	if err := os.WriteFile(path, tab.shot(), 0o644); err != nil {
		tab.t.Fatal(err)
	}
}

// Screen is what is seen of the page.
func (tab *Tab) Screen() image.Image {
	tab.t.Helper()
	img, err := png.Decode(bytes.NewReader(tab.shot()))
	if err != nil {
		tab.t.Fatal(err)
	}
	return img
}

// shot is what is seen of the page, as PNG.
func (tab *Tab) shot() []byte {
	tab.t.Helper()
	shot, err := run(tab, chromedp.CaptureScreenshot())
	if err != nil {
		tab.t.Fatal(err)
	}
	return shot
}

// PDF is the page as printed.
func (tab *Tab) PDF() []byte {
	tab.t.Helper()
	pdf, err := run(tab, chromedp.PrintToPDF(chromedp.PDFPrintBackground()))
	if err != nil {
		tab.t.Fatal(err)
	}
	return pdf
}
