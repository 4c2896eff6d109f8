package main

import (
	"os"
	"strings"
	"testing"
	"time"

	"loamline.example/cmd/loamline/internal/batch"
	"loamline.example/cmd/loamline/internal/ptytest"
)

// shown is what a run of so many lines writes to the screen.
func shown(t *testing.T, lines int, quiet, whole bool) string {
	t.Helper()
	return ptytest.Shown(t, func(user *os.File) {
		p := newProgress(user, quiet)
		for done := 1; done <= lines; done++ {
			if p.step(done, lines); done == lines/2 {
				time.Sleep(800 * time.Millisecond) // the bar is drawn some times a second
				if !whole {
					break
				}
			}
		}
		p.done(whole)
	})
}

// A long job shows how far it is and takes the bar away at its end, also when it
// fails; a short one, and a quiet one, show nothing.
func TestProgressOnATerminal(t *testing.T) {
	for _, tt := range []struct {
		name         string
		lines        int
		quiet, whole bool
		bar          bool
	}{
		{"many lines", 40, false, true, true},
		{"fails half way", 40, false, false, true},
		{"few lines", minLines - 1, false, true, false},
		{"quiet", 40, true, true, false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			text := shown(t, tt.lines, tt.quiet, tt.whole)
			if got := strings.Contains(text, "fitting lines 20 of 40"); got != tt.bar || !tt.bar && text != "" {
				t.Errorf("bar %v, want %v: %q", got, tt.bar, text)
			}
			if i := strings.LastIndex(text, "fitting lines"); tt.bar && !strings.Contains(text[i:], "\x1b[J") {
				t.Errorf("the bar stays: %q", text[i:])
			}
		})
	}
}

// To a pipe or a file no bar is written.
func TestProgressElsewhereIsSilent(t *testing.T) {
	f, err := os.Create(t.TempDir() + "/log")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	p := newProgress(f, false)
	for done := range 40 {
		p.step(done+1, 40)
	}
	p.done(true)
	if info, err := f.Stat(); err != nil || info.Size() != 0 {
		t.Errorf("%v bytes, %v", info.Size(), err)
	}
}

// A batch shows jobs, readings and the time that is left, and takes the bar away.
func TestBatchProgressOnATerminal(t *testing.T) {
	for _, quiet := range []bool{false, true} {
		text := ptytest.Shown(t, func(user *os.File) {
			p := newBatchProgress(user, quiet)
			p.step(batch.Progress{Jobs: 9, Work: 900})
			p.step(batch.Progress{Jobs: 9, Work: 1500, Spent: 950}) // jobs beside another are gone through twice
			time.Sleep(400 * time.Millisecond)
			p.step(batch.Progress{Jobs: 9, Done: 4, Readings: 1234, Work: 1500, Spent: 1400})
			time.Sleep(800 * time.Millisecond)
			p.done()
		})
		if quiet && text != "" {
			t.Errorf("quiet, and yet %q", text)
		}
		if i := strings.LastIndex(text, "4 of 9 jobs, 1234 readings"); !quiet && (i < 0 || !strings.Contains(text[i:], " left") || !strings.Contains(text[i:], "\x1b[J")) {
			t.Errorf("%q", text)
		}
	}
}
