package main

import (
	"io"
	"os"
	"sync"

	"github.com/vbauerster/mpb/v8"
	"github.com/vbauerster/mpb/v8/decor"
	"golang.org/x/term"
)

// progress shows how many lines are fitted, on a terminal; elsewhere, and for
// jobs that are done before anybody looks, it is silent.
type progress struct {
	mu   sync.Mutex
	out  io.Writer
	show bool
	p    *mpb.Progress
	bar  *mpb.Bar
}

// minLines is how many lines a job must have to be worth a bar.
const minLines = 20

func newProgress(stderr io.Writer, quiet bool) *progress {
	f, ok := stderr.(*os.File)
	return &progress{out: stderr, show: ok && !quiet && term.IsTerminal(int(f.Fd()))}
}

// step tells that done of total lines are fitted; any goroutine may call it.
func (p *progress) step(done, total int) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if !p.show || total < minLines {
		return
	}
	if p.bar == nil {
		p.p = mpb.New(mpb.WithOutput(p.out))
		p.bar = p.p.AddBar(int64(total),
			mpb.PrependDecorators(decor.Name("fitting lines "), decor.CountersNoUnit("%d of %d")),
			mpb.AppendDecorators(decor.Percentage()), mpb.BarRemoveOnComplete())
	}
	if int64(done) > p.bar.Current() {
		p.bar.SetCurrent(int64(done))
	}
}

// done takes the bar away.
func (p *progress) done(whole bool) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.bar == nil {
		return
	}
	if !whole {
		p.bar.Abort(true)
	}
	p.p.Wait()
}
