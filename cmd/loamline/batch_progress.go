package main

import (
	"fmt"
	"io"
	"os"
	"sync"
	"sync/atomic"
	"time"

	"github.com/vbauerster/mpb/v8"
	"github.com/vbauerster/mpb/v8/decor"
	"golang.org/x/term"

	"loamline.example/cmd/loamline/internal/batch"
)

// batchProgress shows how far a batch is, on a terminal; elsewhere it is silent.
type batchProgress struct {
	mu   sync.Mutex
	out  io.Writer
	show bool
	p    *mpb.Progress
	bar  *mpb.Bar
	at   atomic.Pointer[batch.Progress] // read while the bar is drawn, which step may wait for
}

func newBatchProgress(stderr io.Writer, quiet bool) *batchProgress {
	f, ok := stderr.(*os.File)
	return &batchProgress{out: stderr, show: ok && !quiet && term.IsTerminal(int(f.Fd()))}
}

// step tells how far the batch is.
func (b *batchProgress) step(at batch.Progress) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if !b.show {
		return
	}
	b.at.Store(&at)
	if b.bar == nil {
		b.p = mpb.New(mpb.WithOutput(b.out))
		b.bar = b.p.AddBar(0, mpb.PrependDecorators(decor.Any(func(decor.Statistics) string { return b.words() })),
			mpb.AppendDecorators(decor.Any(left(time.Now()))), mpb.BarRemoveOnComplete())
	}
	b.bar.SetTotal(at.Work, false) // it grows by the jobs that lie beside another; done tells the end
	b.bar.SetCurrent(at.Spent)
}

func (b *batchProgress) words() string {
	at := b.at.Load()
	return fmt.Sprintf("%d of %d jobs, %d readings ", at.Done, at.Jobs, at.Readings)
}

// left tells the time that is left, as soon as something is through.
func left(began time.Time) func(decor.Statistics) string {
	return func(s decor.Statistics) string {
		if s.Current <= 0 {
			return "time left not known yet"
		}
		d := time.Duration(float64(time.Since(began)) * float64(s.Total-s.Current) / float64(s.Current))
		return d.Round(time.Second).String() + " left"
	}
}

// done takes the bar away.
func (b *batchProgress) done() {
	if b.bar == nil {
		return
	}
	b.bar.Abort(true)
	b.p.Wait()
}
