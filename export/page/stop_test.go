package page

import (
	"errors"
	"testing"

	"loamline/export/internal/sample"
)

// patient is a writer that takes nothing after being asked so many times; it counts
// how often it is asked, and what it is given.
type patient struct{ asks, asked, given int }

var errStopped = errors.New("stopped")

func (p *patient) Write(b []byte) (int, error) {
	if p.given += len(b); len(b) == 0 {
		p.asked++
	}
	if p.asked > p.asks {
		return 0, errStopped
	}
	return len(b), nil
}

// A page whose writer takes nothing any more ends at the line in hand, with nothing
// written: it is asked with nothing before every line, of plan and of lists.
func TestPageStops(t *testing.T) {
	s := sample.Sheet()
	whole := &patient{asks: 1 << 30}
	if err := Write(whole, s, Options{}); err != nil || whole.asked != 2*len(s.Lines) {
		t.Fatalf("%v; asked %d times about %d lines", err, whole.asked, len(s.Lines))
	}
	for n := range whole.asked {
		p := &patient{asks: n}
		if err := Write(p, s, Options{}); !errors.Is(err, errStopped) || p.asked != n+1 || p.given > 0 {
			t.Errorf("stopped at ask %d: %v, asked %d times, given %d bytes", n+1, err, p.asked, p.given)
		}
	}
}
