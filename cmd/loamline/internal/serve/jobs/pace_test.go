package jobs

import (
	"testing"
	"time"
)

func TestPace(t *testing.T) {
	var p pace
	if got := p.secondsLeft(1000, 0); got != 0 {
		t.Errorf("before any map: %d s", got)
	}
	p.made(1000, 2*time.Second)
	for _, c := range []struct {
		rows  int
		spent time.Duration
		want  int
	}{{1000, 0, 2}, {10_000, 5 * time.Second, 15}, {1000, time.Minute, 1}, {0, 0, 0}} {
		if got := p.secondsLeft(c.rows, c.spent); got != c.want {
			t.Errorf("%d rows after %s: %d s left, want %d", c.rows, c.spent, got, c.want)
		}
	}
	// One odd map moves the estimate, and does not replace it.
	p.made(1000, 200*time.Second)
	if got := p.secondsLeft(1000, 0); got < 3 || got > 20 {
		t.Errorf("after one slow map of two: %d s", got)
	}
	p.made(0, time.Second)
	p.made(5, 0)
	if p.rowsPerS <= 0 {
		t.Error("the pace is lost")
	}
}
