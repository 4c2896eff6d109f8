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
	// A run's own lines say more than other maps, also before any other; what comes after
	// the lines is reckoned by other maps.
	for _, c := range []struct {
		is   Progress
		p    *pace
		want int
	}{{Progress{Stage: stageFitting, Done: 2, Total: 10}, &p, 40}, {Progress{Stage: stageFitting, Done: 2, Total: 10}, &pace{}, 40}, {Progress{Stage: stageReading, Total: 10}, &pace{}, 0},
		{Progress{Stage: stageFitting, Total: 10}, &p, 10}, {Progress{Stage: stageFitting, Done: 10, Total: 10}, &p, 10}, {Progress{Stage: stageWriting}, &p, 10}} {
		if got := c.p.leftOf(10_000, 10*time.Second, c.is); got != c.want {
			t.Errorf("%+v: %d s left, want %d", c.is, got, c.want)
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
